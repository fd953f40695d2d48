//! Which frames' times an edit needs, so that the edge can look them up in the clip beforehand.

use std::collections::BTreeSet;

use super::{ApproachFact, Edit, ListChange};
use crate::marks::approach::{Approach, Footfall};
use crate::marks::clip::MarkedFrame;
use crate::marks::fence::Fence;
use crate::marks::file::MarksFile;
use crate::marks::mark::Mark;
use crate::marks::reference::{Reference, ReferenceKind};
use crate::marks::tie::Tie;
use crate::quantity::FrameNumber;

impl Edit {
    /// The frames that this edit names and whose time `file` does not know yet, in order. Look
    /// them up and hand them to [`Edit::with_frames`].
    pub fn frames_wanted(&self, file: &MarksFile) -> Vec<FrameNumber> {
        let mut named = BTreeSet::new();
        self.name_frames(&mut named);
        named.retain(|frame| file.clip.time_of(*frame).is_none());
        named.into_iter().collect()
    }

    /// The same edit, with the times of its frames, as one step.
    pub fn with_frames(self, times: Vec<MarkedFrame>) -> Self {
        if times.is_empty() {
            return self;
        }
        let notes = times.into_iter().map(|time| Self::NoteFrame { time, at: None });
        Self::Several { edits: notes.chain([self]).collect() }
    }

    /// The same edit, with the news that parts of these frames are guessed, as one step.
    pub fn with_concealed(self, frames: Vec<FrameNumber>) -> Self {
        if frames.is_empty() {
            return self;
        }
        let notes = frames.into_iter().map(|frame| Self::NoteConcealed { frame, concealed: true });
        Self::Several { edits: notes.chain([self]).collect() }
    }

    fn name_frames(&self, named: &mut BTreeSet<FrameNumber>) {
        match self {
            Self::Reference(change) => added(change, |thing| name_in_reference(thing, named)),
            Self::Tie(change) => added(change, |tie: &Tie| name_in_marks(&tie.marks, named)),
            Self::Fence(change) => added(change, |fence| name_in_fence(fence, named)),
            Self::Approach(change) => added(change, |thing| name_in_approach(thing, named)),
            Self::Footfall { change, .. } => added(change, |footfall: &Footfall| {
                named.insert(footfall.mark.frame);
            }),
            Self::SetApproach { fact: ApproachFact::LeftTurnFrame(Some(frame)), .. } => {
                named.insert(*frame);
            }
            Self::PlaceMark { mark, .. } => {
                named.insert(mark.frame);
            }
            Self::Several { edits } => {
                for edit in edits {
                    edit.name_frames(named);
                }
                for edit in edits {
                    if let Self::NoteFrame { time, .. } = edit {
                        named.remove(&time.frame);
                    }
                }
            }
            Self::SetRound { .. }
            | Self::SetCamera { .. }
            | Self::SetCapture { .. }
            | Self::NoteFrame { .. }
            | Self::ForgetFrame { .. }
            | Self::NoteConcealed { .. }
            | Self::SetApproach { .. }
            | Self::SetFootfall { .. }
            | Self::NudgeMark { .. }
            | Self::RemoveMark { .. } => {}
        }
    }
}

fn added<T>(change: &ListChange<T>, name: impl FnOnce(&T)) {
    match change {
        ListChange::Add { thing, .. } | ListChange::Replace { thing, .. } => name(thing),
        ListChange::Remove { .. } => {}
    }
}

fn name_in_marks(marks: &[Mark], named: &mut BTreeSet<FrameNumber>) {
    named.extend(marks.iter().map(|mark| mark.frame));
}

fn name_in_fence(fence: &Fence, named: &mut BTreeSet<FrameNumber>) {
    for base in [&fence.take_off_base, &fence.landing_base] {
        name_in_marks(&base.left, named);
        name_in_marks(&base.right, named);
    }
}

fn name_in_approach(approach: &Approach, named: &mut BTreeSet<FrameNumber>) {
    named.extend(approach.footfalls.iter().map(|footfall| footfall.mark.frame));
    named.extend(approach.left_turn_frame);
}

fn name_in_reference(reference: &Reference, named: &mut BTreeSet<FrameNumber>) {
    match &reference.kind {
        ReferenceKind::Poles { ends, .. } => {
            ends.iter().for_each(|end| name_in_marks(&end.marks, named));
        }
        ReferenceKind::Distance { from, to, .. } => {
            name_in_marks(from, named);
            name_in_marks(to, named);
        }
        ReferenceKind::FenceWidth { .. } => {}
        ReferenceKind::Vertical { foot, top, .. } => {
            name_in_marks(foot, named);
            name_in_marks(top, named);
        }
        ReferenceKind::FenceRails { rails, .. } => {
            for rail in rails {
                name_in_marks(&rail.left, named);
                name_in_marks(&rail.right, named);
            }
        }
    }
}
