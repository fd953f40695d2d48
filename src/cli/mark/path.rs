//! Places of marks as they are typed and listed: `rails/1/left`, `tape/from`, `post/top`,
//! `oxer/take-off-left`, `letter-b`, `oxer-1/lh-120`.

use crate::cli::Failure;
use crate::marks::{BaseCorner, MarkAddress, MarksFile, PoleEnd, Reference, ReferenceKind};

/// How a place is written.
pub(in crate::cli) fn path_of(place: &MarkAddress) -> String {
    match place {
        MarkAddress::PoleEnd { reference, pole, end } => {
            format!("{reference}/{pole}/{}", end.words())
        }
        MarkAddress::DistanceFrom { reference } => format!("{reference}/from"),
        MarkAddress::DistanceTo { reference } => format!("{reference}/to"),
        MarkAddress::VerticalFoot { reference } => format!("{reference}/foot"),
        MarkAddress::VerticalTop { reference } => format!("{reference}/top"),
        MarkAddress::Rail { reference, rail, end } => format!("{reference}/{rail}/{}", end.words()),
        MarkAddress::FenceBase { fence, corner } => format!("{fence}/{}", corner_word(*corner)),
        MarkAddress::Tie { tie } => tie.clone(),
        MarkAddress::Footfall { approach, footfall } => format!("{approach}/{footfall}"),
    }
}

fn corner_word(corner: BaseCorner) -> &'static str {
    match corner {
        BaseCorner::TakeOffLeft => "take-off-left",
        BaseCorner::TakeOffRight => "take-off-right",
        BaseCorner::LandingLeft => "landing-left",
        BaseCorner::LandingRight => "landing-right",
    }
}

/// The place that is written so in this file; the thing it belongs to must be there. A footfall
/// may be written by its id alone where only one approach has it.
pub(super) fn place_at(path: &str, file: &MarksFile) -> Result<MarkAddress, Failure> {
    let parts: Vec<&str> = path.split('/').collect();
    let found = match parts.as_slice() {
        [id] => match tie_at(id, file) {
            Some(tie) => Some(tie),
            None => footfall_alone(id, file)?,
        },
        [thing, part] => footfall_at(thing, part, file)
            .or_else(|| point_of_reference(thing, part, file))
            .or_else(|| base_at(thing, part, file)),
        [thing, number, end] => end_at(thing, number, end, file),
        _ => None,
    };
    found.ok_or_else(|| {
        Failure::new(format!("cannot find `{path}`: no place of the file is called so"))
            .hint(how_to_have(&parts, file))
    })
}

fn tie_at(id: &str, file: &MarksFile) -> Option<MarkAddress> {
    let tie = file.ties.iter().find(|known| known.id == id)?;
    Some(MarkAddress::Tie { tie: tie.id.clone() })
}

fn footfall_alone(id: &str, file: &MarksFile) -> Result<Option<MarkAddress>, Failure> {
    let mut found: Vec<MarkAddress> = Vec::new();
    found.extend(file.approaches.iter().filter_map(|a| footfall_at(&a.id, id, file)));
    if found.len() > 1 {
        let names: Vec<String> = found.iter().map(|at| format!("`{}`", path_of(at))).collect();
        let message = format!("cannot tell which footfall `{id}` is meant: {}", names.join(", "));
        return Err(Failure::usage(message).hint("put its approach before it"));
    }
    Ok(found.pop())
}

/// What to state so that there is a place of that name, or which names there are.
fn how_to_have(parts: &[&str], file: &MarksFile) -> String {
    let stated = |id: &str| reference(id, file).is_some() || file.fence(id).is_some();
    let state = match parts {
        [id, "from" | "to"] if !stated(id) => Some(format!("distance {id} --length 12.0")),
        [id, "foot" | "top"] if !stated(id) => Some(format!("vertical {id} --height 1.6")),
        [id, part] if !stated(id) && BaseCorner::ALL.iter().any(|c| corner_word(*c) == *part) => {
            Some(format!("fence {id} --kind vertical"))
        }
        [id, _, "left" | "right"] if !stated(id) => {
            Some(format!("poles {id} --count 4 --spacing 3.0` (or `rails {id} --heights 0.6,1.1"))
        }
        _ => None,
    };
    match state {
        Some(state) if state.contains('`') => {
            format!("state it first: `groundline mark MARKS {state}`)")
        }
        Some(state) => format!("state it first: `groundline mark MARKS {state}`"),
        None => "`groundline check MARKS --list` names those that are marked; others are such as \
                 rails/1/left, A/take-off-left, tape/from, post/top"
            .to_owned(),
    }
}

fn reference<'a>(id: &str, file: &'a MarksFile) -> Option<&'a Reference> {
    file.references.iter().find(|reference| reference.id == id)
}

fn footfall_at(approach: &str, footfall: &str, file: &MarksFile) -> Option<MarkAddress> {
    let found = file.approach(approach)?;
    found.footfalls.iter().find(|known| known.id == footfall).map(|known| MarkAddress::Footfall {
        approach: found.id.clone(),
        footfall: known.id.clone(),
    })
}

fn point_of_reference(id: &str, part: &str, file: &MarksFile) -> Option<MarkAddress> {
    let found = reference(id, file)?;
    let reference = found.id.clone();
    match (&found.kind, part) {
        (ReferenceKind::Distance { .. }, "from") => Some(MarkAddress::DistanceFrom { reference }),
        (ReferenceKind::Distance { .. }, "to") => Some(MarkAddress::DistanceTo { reference }),
        (ReferenceKind::Vertical { .. }, "foot") => Some(MarkAddress::VerticalFoot { reference }),
        (ReferenceKind::Vertical { .. }, "top") => Some(MarkAddress::VerticalTop { reference }),
        _ => None,
    }
}

fn base_at(id: &str, part: &str, file: &MarksFile) -> Option<MarkAddress> {
    let fence = file.fence(id)?.id.clone();
    let corner = BaseCorner::ALL.into_iter().find(|corner| corner_word(*corner) == part)?;
    Some(MarkAddress::FenceBase { fence, corner })
}

fn end_at(id: &str, number: &str, end: &str, file: &MarksFile) -> Option<MarkAddress> {
    let found = reference(id, file)?;
    let reference = found.id.clone();
    let number: u32 = number.parse().ok()?;
    let end = PoleEnd::BOTH.into_iter().find(|known| known.words() == end)?;
    match &found.kind {
        ReferenceKind::Poles { .. } => Some(MarkAddress::PoleEnd { reference, pole: number, end }),
        ReferenceKind::FenceRails { .. } => {
            Some(MarkAddress::Rail { reference, rail: number, end })
        }
        _ => None,
    }
}
