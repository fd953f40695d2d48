//! Doing an edit and finding its inverse.

use super::lists::{change_list, find, insert};
use super::{ApproachFact, Edit, EditRefused, FootfallFact};
use crate::marks::approach::{Approach, Footfall};
use crate::marks::clip::MarkedFrame;
use crate::marks::file::MarksFile;
use crate::quantity::FrameNumber;

impl MarksFile {
    /// Makes the change and gives back its inverse, which restores this very file. A refused
    /// change leaves the file as it was. A change may not break a rule that was kept before it;
    /// breaches that are already there do not stand in its way.
    pub fn apply(&mut self, edit: Edit) -> Result<Edit, EditRefused> {
        let mut draft = self.clone();
        let inverse = draft.change(edit)?;
        let breaches = draft.check();
        if !breaches.is_empty() {
            let before = self.check();
            if let Some(breach) = breaches.into_iter().find(|breach| !before.contains(breach)) {
                return Err(EditRefused::BreaksRule { breach });
            }
        }
        *self = draft;
        Ok(inverse)
    }

    /// [`Self::apply`] without the rules: for going back to a state that was there before.
    pub(in crate::marks) fn apply_again(&mut self, edit: Edit) -> Result<Edit, EditRefused> {
        let mut draft = self.clone();
        let inverse = draft.change(edit)?;
        *self = draft;
        Ok(inverse)
    }

    /// Changes the file and gives the inverse; half a change may be left behind by a refusal.
    fn change(&mut self, edit: Edit) -> Result<Edit, EditRefused> {
        match edit {
            Edit::SetRound { round } => {
                Ok(Edit::SetRound { round: std::mem::replace(&mut self.round, round) })
            }
            Edit::SetCamera { camera } => {
                Ok(Edit::SetCamera { camera: std::mem::replace(&mut self.camera, camera) })
            }
            Edit::SetCapture { capture_seconds_per_second: new } => {
                let rate = &mut self.clip.capture_seconds_per_second;
                Ok(Edit::SetCapture { capture_seconds_per_second: std::mem::replace(rate, new) })
            }
            Edit::NoteFrame { time, at } => self.note_frame(time, at),
            Edit::ForgetFrame { frame } => self.forget_frame(frame),
            Edit::NoteConcealed { frame, concealed } => {
                let known = &mut self.concealed_frames;
                let changed = if concealed { known.insert(frame) } else { known.remove(&frame) };
                Ok(Edit::NoteConcealed { frame, concealed: concealed != changed })
            }
            Edit::Reference(change) => {
                change_list(&mut self.references, change).map(Edit::Reference)
            }
            Edit::Tie(change) => change_list(&mut self.ties, change).map(Edit::Tie),
            Edit::Fence(change) => change_list(&mut self.fences, change).map(Edit::Fence),
            Edit::Approach(change) => change_list(&mut self.approaches, change).map(Edit::Approach),
            Edit::Footfall { approach, change } => {
                let footfalls = &mut find(&mut self.approaches, &approach)?.footfalls;
                let change = change_list(footfalls, change)?;
                Ok(Edit::Footfall { approach, change })
            }
            Edit::SetApproach { approach, fact } => {
                let fact = set_approach(find(&mut self.approaches, &approach)?, fact);
                Ok(Edit::SetApproach { approach, fact })
            }
            Edit::SetFootfall { approach, footfall, fact } => {
                let footfalls = &mut find(&mut self.approaches, &approach)?.footfalls;
                let fact = set_footfall(find(footfalls, &footfall)?, fact);
                Ok(Edit::SetFootfall { approach, footfall, fact })
            }
            Edit::PlaceMark { place, mark, at } => self.place_mark(place, mark, at),
            Edit::NudgeMark { place, frame, dx, dy } => self.nudge_mark(place, frame, (dx, dy)),
            Edit::RemoveMark { place, frame } => self.remove_mark(place, frame),
            Edit::Several { edits } => {
                let done: Result<Vec<_>, _> =
                    edits.into_iter().map(|edit| self.change(edit)).collect();
                let mut edits = done?;
                edits.reverse();
                Ok(Edit::Several { edits })
            }
        }
    }

    fn note_frame(&mut self, time: MarkedFrame, at: Option<usize>) -> Result<Edit, EditRefused> {
        let frames = &mut self.clip.frames;
        let frame = time.frame;
        if let Some(known) = frames.iter_mut().find(|known| known.frame == frame) {
            let old = std::mem::replace(known, time);
            return Ok(Edit::NoteFrame { time: old, at: None });
        }
        let by_number = frames.iter().position(|known| known.frame > frame);
        insert(frames, time, at.or(by_number))?;
        Ok(Edit::ForgetFrame { frame })
    }

    fn forget_frame(&mut self, frame: FrameNumber) -> Result<Edit, EditRefused> {
        let frames = &mut self.clip.frames;
        let index = frames.iter().position(|known| known.frame == frame);
        let index = index.ok_or(EditRefused::FrameNotKnown { frame })?;
        Ok(Edit::NoteFrame { time: frames.remove(index), at: Some(index) })
    }
}

fn set_approach(approach: &mut Approach, fact: ApproachFact) -> ApproachFact {
    use std::mem::replace;
    match fact {
        ApproachFact::ReferenceLimb(new) => {
            ApproachFact::ReferenceLimb(replace(&mut approach.reference_limb, new))
        }
        ApproachFact::Lead(new) => ApproachFact::Lead(replace(&mut approach.lead, new)),
        ApproachFact::LeftTurnFrame(new) => {
            ApproachFact::LeftTurnFrame(replace(&mut approach.left_turn_frame, new))
        }
        ApproachFact::Note(new) => ApproachFact::Note(replace(&mut approach.note, new)),
        ApproachFact::StrideNotes(new) => {
            ApproachFact::StrideNotes(replace(&mut approach.stride_notes, new))
        }
    }
}

fn set_footfall(footfall: &mut Footfall, fact: FootfallFact) -> FootfallFact {
    use std::mem::replace;
    match fact {
        FootfallFact::Event(new) => FootfallFact::Event(replace(&mut footfall.event, new)),
        FootfallFact::Limb(new) => FootfallFact::Limb(replace(&mut footfall.limb, new)),
        FootfallFact::Hidden(new) => FootfallFact::Hidden(replace(&mut footfall.hidden, new)),
    }
}
