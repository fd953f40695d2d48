//! Which edit of the marks file an act of the page means.

use serde_json::Map;

use super::lengths;
use super::spots::{address_of, footfall_of, poles_id};
use super::wire::{Act, Click, EventName, LengthKind, LimbName, RoundAbout, Spot};
use crate::marks::{
    Approach, ApproachFact, Edit, Event, Fence, FenceKind, Footfall, FootfallFact, HOOF_SD_PX,
    Limb, ListChange, Mark, MarkAddress, MarksFile, POINT_SD_PX, Reference, ReferenceKind, Round,
    StrideNote, Tie, TiePlace, USUAL_DIAMETER_M, free_id,
};
use crate::quantity::{FrameNumber, Given};
use crate::scene::FramePoint;
use crate::store::usual_motion;

/// How far a gap between poles may be off, metres: taped, paced.
const GAP_SD_M: (f64, f64) = (0.01, 0.10);
/// How far a pole's stated length may be off, metres.
const POLE_SD_M: f64 = 0.02;

/// Why an act is none.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub(super) enum NoEdit {
    /// Nothing of that name.
    #[error("cannot find the {what}: it is not in the file any more")]
    Gone {
        /// What was named.
        what: &'static str,
    },
    /// Only footfalls have limbs and events.
    #[error("cannot change the limb or event of this mark: it is no footfall")]
    NoFootfall,
    /// The poles must be stated before their ends are marked.
    #[error("cannot place a pole's end: no poles are stated (count, spacing and length needed)")]
    NoPoles,
}

/// An edit and the place of the mark it places or moves.
pub(super) struct Meant {
    pub edit: Edit,
    /// Whose mark, on which frame.
    pub placed: Option<(MarkAddress, FrameNumber)>,
}

/// Where a click goes, and how well it is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Drawn {
    pub point: FramePoint,
    pub sd_px: f64,
}

impl From<Edit> for Meant {
    fn from(edit: Edit) -> Self {
        Self { edit, placed: None }
    }
}

/// The edit of an act. Undo and redo are none: they are asked of the history. `drawn` is where the
/// picture puts the pole's end that was clicked.
pub(super) fn meant(act: Act, file: &MarksFile, drawn: Option<Drawn>) -> Result<Meant, NoEdit> {
    match act {
        Act::SetPoles { count, spacing_m, length_m, taped } => {
            Ok(set_poles(file, count, spacing_m, length_m, taped).into())
        }
        Act::SetFence { fence, name, kind, height_m, spread_m, behind, around } => {
            let stated = Fence {
                name,
                kind: kind.into(),
                height_m,
                spread_m,
                behind,
                around,
                ..known_fence(file, fence.as_deref())?
            };
            Ok(stated_fence(file, stated).into())
        }
        Act::SetLength { reference, kind, fence, length_m, known_by } => {
            let length = lengths::given(length_m, known_by);
            match reference {
                Some(id) => Ok(lengths::restated(known_reference(file, &id)?, length).into()),
                None => new_length(file, kind, fence.as_deref(), length),
            }
        }
        Act::RemoveLength { reference } => {
            known_reference(file, &reference)?;
            Ok(Edit::Reference(ListChange::remove(reference)).into())
        }
        Act::PlaceLengthEnd { reference, end, at } => {
            let place = lengths::address(file, &reference, end)
                .ok_or(NoEdit::Gone { what: "thing of known length" })?;
            Ok(placed(place, at, POINT_SD_PX))
        }
        Act::PlacePoleEnd { pole, end, at, .. } => {
            let reference = poles_id(file).ok_or(NoEdit::NoPoles)?.to_owned();
            let place = MarkAddress::PoleEnd { reference, pole, end: end.into() };
            Ok(match drawn {
                Some(Drawn { point, sd_px }) => {
                    placed(place, Click { x: point.x, y: point.y, ..at }, sd_px)
                }
                None => placed(place, at, POINT_SD_PX),
            })
        }
        Act::PlaceBase { fence, end, at } => place_base(file, fence.as_deref(), end.into(), at),
        Act::PlaceFootfall { approach, limb, event, at, hidden } => {
            place_footfall(file, approach, (limb, event), at, hidden)
        }
        Act::PlaceTie { tie, at } => Ok(place_tie(file, tie, at)),
        Act::Move { spot, at } => {
            let place = address(file, &spot)?;
            let sd_px = sd_of(file, &place, FrameNumber(at.frame));
            Ok(placed(place, at, sd_px))
        }
        Act::Nudge { spot, frame, dx, dy } => {
            let (place, frame) = (address(file, &spot)?, FrameNumber(frame));
            let edit = Edit::NudgeMark { place: place.clone(), frame, dx, dy };
            Ok(Meant { edit, placed: Some((place, frame)) })
        }
        Act::Remove { spot, frame } => Ok(remove(file, &spot, FrameNumber(frame))?.into()),
        Act::SetLimb { spot, limb } => footfall_fact(&spot, FootfallFact::Limb(limb.into())),
        Act::SetEvent { spot, event } => footfall_fact(&spot, FootfallFact::Event(event.into())),
        Act::SetHidden { spot, hidden } => footfall_fact(&spot, FootfallFact::Hidden(hidden)),
        Act::SetFrame { spot, frame } => set_frame(file, &spot, frame),
        Act::SetRound { about } => Ok(Edit::SetRound { round: round(file, about) }.into()),
        Act::SetTurning { turning } => {
            let mut camera = file.camera.clone();
            camera.motion = usual_motion(turning);
            Ok(Edit::SetCamera { camera }.into())
        }
        Act::SetApproach { approach, lead, left_turn_frame, note } => {
            let known = known_approach(file, &approach)?;
            let stated = Approach {
                lead: lead.map(Into::into),
                left_turn_frame: left_turn_frame.map(FrameNumber),
                note,
                ..known.clone()
            };
            Ok(Edit::Approach(ListChange::replace(approach, stated)).into())
        }
        Act::SetStrideNote { approach, stride, text } => {
            let mut notes = known_approach(file, &approach)?.stride_notes.clone();
            notes.retain(|note| note.stride != stride);
            if !text.is_empty() {
                notes.push(StrideNote::new(stride, text));
            }
            Ok(Edit::SetApproach { approach, fact: ApproachFact::StrideNotes(notes) }.into())
        }
        Act::NewApproach { fence } => {
            let id = file.free_approach_id(&fence);
            Ok(Edit::Approach(ListChange::add(Approach::new(id, fence))).into())
        }
        Act::Undo | Act::Redo => Err(NoEdit::Gone { what: "change" }),
    }
}

fn placed(place: MarkAddress, at: Click, sd_px: f64) -> Meant {
    let frame = FrameNumber(at.frame);
    let mark = Mark::new(frame, FramePoint::new(at.x, at.y), sd_px);
    let edit = Edit::PlaceMark { place: place.clone(), mark, at: None };
    Meant { edit, placed: Some((place, frame)) }
}

/// The first after another edit, as one step.
fn after(begun: Option<Edit>, meant: Meant) -> Meant {
    match begun {
        Some(begun) => Meant { edit: Edit::Several { edits: vec![begun, meant.edit] }, ..meant },
        None => meant,
    }
}

fn address(file: &MarksFile, spot: &Spot) -> Result<MarkAddress, NoEdit> {
    address_of(file, spot).ok_or(NoEdit::Gone { what: "mark" })
}

/// What a mark's standard deviation was before it is moved.
fn sd_of(file: &MarksFile, place: &MarkAddress, frame: FrameNumber) -> f64 {
    let usual =
        if matches!(place, MarkAddress::Footfall { .. }) { HOOF_SD_PX } else { POINT_SD_PX };
    let places = file.places();
    let marks = places.iter().find(|(known, _)| known == place).map_or(&[][..], |(_, marks)| marks);
    let same_frame = marks.iter().find(|mark| mark.frame == frame);
    same_frame.map_or(usual, |mark| mark.sd_px)
}

fn set_poles(file: &MarksFile, count: u32, spacing_m: f64, length_m: f64, taped: bool) -> Edit {
    let (spacing, length) = (
        Given::new(spacing_m, if taped { GAP_SD_M.0 } else { GAP_SD_M.1 }),
        Given::new(length_m, POLE_SD_M),
    );
    let known = poles_id(file).and_then(|id| file.references.iter().find(|known| known.id == id));
    let Some(known) = known else {
        let taken = |id: &str| file.references.iter().any(|known| known.id == id);
        let kind = ReferenceKind::Poles {
            count,
            spacing_m: spacing,
            length_m: length,
            diameter_m: USUAL_DIAMETER_M,
            ends: Vec::new(),
            other: Map::new(),
        };
        return Edit::Reference(ListChange::add(Reference { id: free_id("poles", taken), kind }));
    };
    let mut stated = known.clone();
    if let ReferenceKind::Poles { count: poles, spacing_m, length_m, ends, .. } = &mut stated.kind {
        (*poles, *spacing_m, *length_m) = (count, spacing, length);
        // Fewer poles than are marked: the marks of the others go with them.
        ends.retain(|end| end.pole <= count);
    }
    Edit::Reference(ListChange::replace(known.id.clone(), stated))
}

fn known_reference<'a>(file: &'a MarksFile, id: &str) -> Result<&'a Reference, NoEdit> {
    let known = file.references.iter().find(|known| known.id == id);
    known.ok_or(NoEdit::Gone { what: "thing of known length" })
}

fn new_length(
    file: &MarksFile,
    kind: LengthKind,
    fence: Option<&str>,
    length: Given,
) -> Result<Meant, NoEdit> {
    if kind != LengthKind::FenceWidth {
        return Ok(lengths::added(file, kind, "", length).into());
    }
    let (begun, fence) = fence_or_new(file, fence)?;
    Ok(after(begun, lengths::added(file, kind, &fence, length).into()))
}

/// The id of the fence that is meant (the first where none is named), and the edit that makes it
/// where there is none.
fn fence_or_new(file: &MarksFile, id: Option<&str>) -> Result<(Option<Edit>, String), NoEdit> {
    // The page has no id for the fence that the first mark makes.
    let id = id.filter(|id| !id.is_empty());
    let known = match id {
        Some(id) => Some(file.fence(id).ok_or(NoEdit::Gone { what: "fence" })?),
        None => file.fences.first(),
    };
    Ok(match known {
        Some(known) => (None, known.id.clone()),
        None => {
            let fence = new_fence(file);
            let id = fence.id.clone();
            (Some(Edit::Fence(ListChange::add(fence))), id)
        }
    })
}

/// The fence of that id, or a new one.
fn known_fence(file: &MarksFile, id: Option<&str>) -> Result<Fence, NoEdit> {
    match id {
        Some(id) => file.fence(id).cloned().ok_or(NoEdit::Gone { what: "fence" }),
        None => Ok(new_fence(file)),
    }
}

fn new_fence(file: &MarksFile) -> Fence {
    let mut fence = Fence::new(free_id("fence", |id| file.fence(id).is_some()));
    fence.kind = FenceKind::Vertical;
    fence
}

fn stated_fence(file: &MarksFile, fence: Fence) -> Edit {
    Edit::Fence(match file.fence(&fence.id) {
        Some(_) => ListChange::replace(fence.id.clone(), fence),
        None => ListChange::add(fence),
    })
}

fn place_base(
    file: &MarksFile,
    id: Option<&str>,
    corner: crate::marks::BaseCorner,
    at: Click,
) -> Result<Meant, NoEdit> {
    let (begun, fence) = fence_or_new(file, id)?;
    Ok(after(begun, placed(MarkAddress::FenceBase { fence, corner }, at, POINT_SD_PX)))
}

fn place_footfall(
    file: &MarksFile,
    approach: Option<String>,
    (limb, event): (LimbName, EventName),
    at: Click,
    hidden: bool,
) -> Result<Meant, NoEdit> {
    let (limb, event): (Limb, Event) = (limb.into(), event.into());
    let known = match &approach {
        Some(id) => Some(known_approach(file, id)?),
        None => file.approaches.last(),
    };
    let (begun, approach) = match (known, file.fences.first()) {
        (Some(known), _) => (None, known.id.clone()),
        (None, Some(fence)) => {
            let id = file.free_approach_id(&fence.id);
            let begun = Edit::Approach(ListChange::add(Approach::new(&id, &fence.id)));
            (Some(begun), id)
        }
        (None, None) => {
            // Hooves may be marked before the fence is. The approach names it, so it comes first.
            let fence = new_fence(file);
            let id = format!("{}-1", fence.id);
            let approach = Edit::Approach(ListChange::add(Approach::new(&id, &fence.id)));
            (Some(Edit::Several { edits: vec![Edit::Fence(ListChange::add(fence)), approach] }), id)
        }
    };
    let taken = |id: &str| footfall_of(file, &approach, id).is_some();
    let id = free_id(&format!("{}-{}", limb.letters(), at.frame), taken);
    let mark = Mark::new(FrameNumber(at.frame), FramePoint::new(at.x, at.y), HOOF_SD_PX);
    let mut footfall = Footfall::new(&id, limb, event, mark);
    footfall.hidden = hidden;
    let place = MarkAddress::Footfall { approach: approach.clone(), footfall: id };
    let edit = Edit::Footfall { approach, change: ListChange::add(footfall) };
    let meant = Meant { edit, placed: Some((place, FrameNumber(at.frame))) };
    Ok(after(begun, meant))
}

fn place_tie(file: &MarksFile, id: Option<String>, at: Click) -> Meant {
    let is_known = |id: &str| file.ties.iter().any(|tie| tie.id == id);
    let id = id.unwrap_or_else(|| {
        let numbers = 1u32..;
        numbers.map(|number| number.to_string()).find(|id| !is_known(id)).unwrap_or_default()
    });
    let begun =
        (!is_known(&id)).then(|| Edit::Tie(ListChange::add(Tie::new(&id, TiePlace::Anywhere))));
    after(begun, placed(MarkAddress::Tie { tie: id }, at, POINT_SD_PX))
}

fn remove(file: &MarksFile, spot: &Spot, frame: FrameNumber) -> Result<Edit, NoEdit> {
    let place = address(file, spot)?;
    Ok(match place {
        MarkAddress::Footfall { approach, footfall } => {
            Edit::Footfall { approach, change: ListChange::remove(footfall) }
        }
        MarkAddress::Tie { ref tie } => {
            let marks = file.ties.iter().find(|known| known.id == *tie);
            match marks.map(|known| known.marks.len()) {
                None | Some(0 | 1) => Edit::Tie(ListChange::remove(tie.clone())),
                Some(_) => Edit::RemoveMark { place, frame },
            }
        }
        place => Edit::RemoveMark { place, frame },
    })
}

fn footfall_fact(spot: &Spot, fact: FootfallFact) -> Result<Meant, NoEdit> {
    let Spot::Footfall { approach, footfall, .. } = spot else { return Err(NoEdit::NoFootfall) };
    let (approach, footfall) = (approach.clone(), footfall.clone());
    Ok(Edit::SetFootfall { approach, footfall, fact }.into())
}

/// A footfall's only mark is replaced, whatever its frame.
fn set_frame(file: &MarksFile, spot: &Spot, frame: u32) -> Result<Meant, NoEdit> {
    let Spot::Footfall { approach, footfall, .. } = spot else { return Err(NoEdit::NoFootfall) };
    let known = footfall_of(file, approach, footfall).ok_or(NoEdit::Gone { what: "footfall" })?;
    let place = address(file, spot)?;
    let mark = Mark { frame: FrameNumber(frame), ..known.mark.clone() };
    let edit = Edit::PlaceMark { place: place.clone(), mark, at: None };
    Ok(Meant { edit, placed: Some((place, FrameNumber(frame))) })
}

fn round(file: &MarksFile, about: RoundAbout) -> Round {
    let RoundAbout { rider, horse, place, date, surface, slope_percent, note } = about;
    let date = Some(date).filter(|date| !date.is_empty());
    Round { rider, horse, place, date, surface, slope_percent, note, ..file.round.clone() }
}

fn known_approach<'a>(file: &'a MarksFile, id: &str) -> Result<&'a Approach, NoEdit> {
    file.approach(id).ok_or(NoEdit::Gone { what: "approach" })
}
