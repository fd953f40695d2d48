//! Things of known length besides the poles, as the page states and shows them.

use serde_json::Map;

use super::spots::{length_end_address, length_end_label};
use super::wire::{KnownBy, LengthEnd, LengthKind, LengthView, StepName, StepView, Target};
use crate::marks::{
    Edit, ListChange, Mark, MarksFile, Reference, ReferenceKind, USUAL_LEAN_M, free_id,
};
use crate::quantity::Given;

/// How far a length may be off, metres: by tape, by paces, by eye. Common practice, no source.
const SD_M: [(KnownBy, f64); 3] =
    [(KnownBy::Tape, 0.01), (KnownBy::Paces, 0.10), (KnownBy::Eye, 0.20)];

/// The length as it is stated.
pub(super) fn given(length_m: f64, known_by: KnownBy) -> Given {
    let sd = SD_M.iter().find(|(known, _)| *known == known_by).map_or(0.0, |(_, sd)| *sd);
    Given::new(length_m, sd)
}

/// How a length of that sd was come by, as near as the page can tell.
fn known_by(length: Given) -> KnownBy {
    let off = |sd: f64| (length.sd.max(1e-3) / sd).ln().abs();
    let nearest = SD_M.iter().min_by(|a, b| off(a.1).total_cmp(&off(b.1)));
    nearest.map_or(KnownBy::Eye, |(known_by, _)| *known_by)
}

/// A new one of that kind, not marked yet; `fence` is the fence of a width.
pub(super) fn added(file: &MarksFile, kind: LengthKind, fence: &str, length: Given) -> Edit {
    let name = match kind {
        LengthKind::Upright => "upright",
        LengthKind::Distance => "distance",
        LengthKind::FenceWidth => "width",
    };
    let id = free_id(name, |id| file.references.iter().any(|known| known.id == id));
    let kind = match kind {
        LengthKind::Upright => ReferenceKind::Vertical {
            height_m: length,
            lean_sd_m: USUAL_LEAN_M,
            foot: Vec::new(),
            top: Vec::new(),
            other: Map::new(),
        },
        LengthKind::Distance => ReferenceKind::Distance {
            length_m: length,
            at_height_m: 0.0,
            from: Vec::new(),
            to: Vec::new(),
            other: Map::new(),
        },
        LengthKind::FenceWidth => ReferenceKind::FenceWidth {
            fence: fence.to_owned(),
            length_m: length,
            other: Map::new(),
        },
    };
    Edit::Reference(ListChange::add(Reference { id, kind }))
}

/// The known one with another length; its marks stay.
pub(super) fn restated(known: &Reference, length: Given) -> Edit {
    let mut stated = known.clone();
    match &mut stated.kind {
        ReferenceKind::Vertical { height_m, .. } => *height_m = length,
        ReferenceKind::Distance { length_m, .. } | ReferenceKind::FenceWidth { length_m, .. } => {
            *length_m = length;
        }
        ReferenceKind::Poles { .. } | ReferenceKind::FenceRails { .. } => {}
    }
    Edit::Reference(ListChange::replace(known.id.clone(), stated))
}

/// All of a file.
pub(super) fn lengths(file: &MarksFile) -> Vec<LengthView> {
    file.references.iter().filter_map(|known| view(file, known)).collect()
}

fn view(file: &MarksFile, known: &Reference) -> Option<LengthView> {
    let thing = known.id.replace('-', " ");
    let (kind, length, label) = match &known.kind {
        ReferenceKind::Vertical { height_m, .. } => (LengthKind::Upright, *height_m, thing),
        ReferenceKind::Distance { length_m, .. } => (LengthKind::Distance, *length_m, thing),
        ReferenceKind::FenceWidth { fence, length_m, .. } => {
            let named = file.fence(fence).map(|fence| fence.name.as_str());
            let fence = named.filter(|name| !name.is_empty()).unwrap_or("the fence");
            (LengthKind::FenceWidth, *length_m, format!("width of {fence}"))
        }
        ReferenceKind::Poles { .. } | ReferenceKind::FenceRails { .. } => return None,
    };
    let known_by = known_by(length);
    Some(LengthView { id: known.id.clone(), kind, label, length_m: length.value, known_by })
}

/// The step of marking them.
pub(super) fn step(file: &MarksFile) -> StepView {
    let stated = lengths(file).len();
    let mut wanted = Vec::new();
    let mut whole = 0;
    for (reference, end, marks) in file.references.iter().flat_map(ends) {
        whole += 1;
        if marks.is_empty() {
            let label = length_end_label(reference, end);
            wanted.push(Target::LengthEnd { reference: reference.to_owned(), end, label });
        }
    }
    let marked = whole - wanted.len();
    StepView {
        step: StepName::Lengths,
        done: wanted.is_empty(),
        count: match (stated, whole) {
            (0, _) => "if any".to_owned(),
            (1, 0) => "1 stated".to_owned(),
            (stated, 0) => format!("{stated} stated"),
            (_, whole) => format!("{marked} of {whole} ends"),
        },
        says: if stated == 0 {
            "Anything else you know the size of: an upright, two marks on the ground, the fence's \
             width. With poles marked, none is needed."
                .to_owned()
        } else {
            String::new()
        },
        wanted,
    }
}

/// The two ends of a reference that has ends of its own.
fn ends(known: &Reference) -> Vec<(&str, LengthEnd, &[Mark])> {
    let id = known.id.as_str();
    match &known.kind {
        ReferenceKind::Vertical { foot, top, .. } => {
            vec![(id, LengthEnd::Foot, foot), (id, LengthEnd::Top, top)]
        }
        ReferenceKind::Distance { from, to, .. } => {
            vec![(id, LengthEnd::From, from), (id, LengthEnd::To, to)]
        }
        _ => Vec::new(),
    }
}

/// Where an end is kept, when the reference of that id has it.
pub(super) fn address(
    file: &MarksFile,
    reference: &str,
    end: LengthEnd,
) -> Option<crate::marks::MarkAddress> {
    let known = file.references.iter().find(|known| known.id == reference)?;
    let has = ends(known).iter().any(|(_, known, _)| *known == end);
    has.then(|| length_end_address(reference.to_owned(), end))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_comes_back_as_it_was_stated() {
        for (by, sd) in SD_M {
            assert_eq!(given(1.6, by), Given::new(1.6, sd));
            assert_eq!(known_by(given(1.6, by)), by);
        }
        // Stated on the command line, to the millimetre or not at all sure.
        assert_eq!(known_by(Given::new(3.0, 0.0)), KnownBy::Tape);
        assert_eq!(known_by(Given::new(3.0, 1.0)), KnownBy::Eye);
    }
}
