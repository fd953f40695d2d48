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

/// The place that is written so in this file; the thing it belongs to must be there.
pub(super) fn place_at(path: &str, file: &MarksFile) -> Result<MarkAddress, Failure> {
    let parts: Vec<&str> = path.split('/').collect();
    let found = match parts.as_slice() {
        [tie] => file
            .ties
            .iter()
            .find(|known| known.id == *tie)
            .map(|tie| MarkAddress::Tie { tie: tie.id.clone() }),
        [thing, part] => footfall_at(thing, part, file)
            .or_else(|| point_of_reference(thing, part, file))
            .or_else(|| base_at(thing, part, file)),
        [thing, number, end] => end_at(thing, number, end, file),
        _ => None,
    };
    found.ok_or_else(|| {
        Failure::new(format!("cannot find `{path}`: no place of the file is called so"))
            .hint("`groundline check MARKS --list` lists the marked ones; others are like tape/from, post/top, rails/1/left, oxer/take-off-left")
    })
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
