//! A marks file as the page shows it.

use super::lengths::lengths;
use super::plain_words::plain_words;
use super::spots::{label, poles_id, spot_of};
use super::steps::steps;
use super::wire::{
    ApproachView, FenceView, MarkView, PolesView, RoundAbout, RoundView, Spot, StrideNoteView,
};
use crate::marks::{Approach, Fence, Motion, ReferenceKind, Round};
use crate::pan::CameraMotion;
use crate::store::OpenMarks;

/// A gap between poles that is known better than this was taped, metres.
const TAPED_UP_TO_M: f64 = 0.05;

/// The round of an open marks file.
pub(super) fn round_view(clip: &str, open: &OpenMarks, motion: Option<&CameraMotion>) -> RoundView {
    let file = open.file();
    let history = open.history();
    RoundView {
        clip: clip.to_owned(),
        revision: open.revision().unwrap_or_default().to_owned(),
        title: title(clip, &file.round),
        about: about(&file.round),
        turning: file.camera.motion != Motion::Fixed,
        poles: poles(file),
        lengths: lengths(file),
        fences: file.fences.iter().map(fence).collect(),
        approaches: file.approaches.iter().map(approach).collect(),
        marks: marks(file),
        steps: steps(file, motion),
        undo: history.done.last().map(|step| plain_words(file, &step.edit.as_done().to_string())),
        redo: history.undone.last().map(|step| plain_words(file, &step.edit.as_done().to_string())),
    }
}

/// "Copper · Ada · 2026-09-04", or the clip's name.
fn title(clip: &str, round: &Round) -> String {
    let parts = [round.horse.as_str(), &round.rider, round.date.as_deref().unwrap_or_default()];
    let said: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    if said.is_empty() { clip.to_owned() } else { said.join(" · ") }
}

fn about(round: &Round) -> RoundAbout {
    RoundAbout {
        rider: round.rider.clone(),
        horse: round.horse.clone(),
        place: round.place.clone(),
        date: round.date.clone().unwrap_or_default(),
        surface: round.surface.clone(),
        slope_percent: round.slope_percent,
        note: round.note.clone(),
    }
}

fn poles(file: &crate::marks::MarksFile) -> Option<PolesView> {
    let id = poles_id(file)?;
    file.references.iter().find(|known| known.id == id).and_then(|known| match &known.kind {
        ReferenceKind::Poles { count, spacing_m, length_m, .. } => Some(PolesView {
            count: *count,
            spacing_m: spacing_m.value,
            length_m: length_m.value,
            taped: spacing_m.sd < TAPED_UP_TO_M,
        }),
        _ => None,
    })
}

fn fence(fence: &Fence) -> FenceView {
    FenceView {
        id: fence.id.clone(),
        name: fence.name.clone(),
        kind: fence.kind.into(),
        height_m: fence.height_m,
        spread_m: fence.spread_m,
        behind: fence.behind.clone(),
        around: fence.around.clone(),
    }
}

fn approach(approach: &Approach) -> ApproachView {
    let notes = approach.stride_notes.iter();
    ApproachView {
        id: approach.id.clone(),
        fence: approach.fence.clone(),
        lead: approach.lead.map(Into::into),
        left_turn_frame: approach.left_turn_frame.map(|frame| frame.0),
        note: approach.note.clone(),
        stride_notes: notes
            .map(|note| StrideNoteView { stride: note.stride, text: note.text.clone() })
            .collect(),
    }
}

fn marks(file: &crate::marks::MarksFile) -> Vec<MarkView> {
    let mut views = Vec::new();
    for (address, marks) in file.places() {
        let spot = spot_of(file, &address);
        let hidden = match &spot {
            Spot::Footfall { approach, footfall, .. } => {
                super::spots::footfall_of(file, approach, footfall).is_some_and(|f| f.hidden)
            }
            _ => false,
        };
        views.extend(marks.iter().map(|mark| MarkView {
            label: label(file, &spot),
            spot: spot.clone(),
            frame: mark.frame.0,
            x: mark.x,
            y: mark.y,
            hidden,
        }));
    }
    views
}
