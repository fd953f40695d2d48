//! Rules of approaches: which limb does what, how often, and in which order.

use std::collections::BTreeSet;

use super::{Checker, Rule, Subject};
use crate::marks::address::MarkAddress;
use crate::marks::approach::{Approach, Event, Footfall};
use crate::quantity::FrameNumber;

impl Checker<'_> {
    pub(super) fn check_approaches(&mut self) {
        let file = self.file;
        let ids: Vec<&str> = file.approaches.iter().map(|a| a.id.as_str()).collect();
        self.ids(&ids, Subject::Approach);
        for approach in &file.approaches {
            let subject = Subject::Approach(approach.id.clone());
            self.fence_exists(subject.clone(), &approach.fence);
            self.check_footfall_ids(approach);
            self.check_limbs(approach);
            self.check_order(approach);
            self.check_turn(&subject, approach);
            self.check_notes(&subject, approach);
        }
    }

    fn check_footfall_ids(&mut self, approach: &Approach) {
        let ids: Vec<&str> = approach.footfalls.iter().map(|f| f.id.as_str()).collect();
        let place = |footfall: String| {
            Subject::Place(MarkAddress::Footfall { approach: approach.id.clone(), footfall })
        };
        self.ids(&ids, place);
    }

    fn check_limbs(&mut self, approach: &Approach) {
        let mut once = BTreeSet::new();
        let mut on_frame = BTreeSet::new();
        for footfall in &approach.footfalls {
            let Footfall { limb, event, .. } = *footfall;
            let subject = subject_of(approach, footfall);
            let wrong_limb = match event {
                Event::TakeOff => !limb.is_hind(),
                Event::Landing => limb.is_hind(),
                Event::Stride | Event::Away => false,
            };
            if wrong_limb {
                self.breach(subject.clone(), Rule::WrongLimb { event, limb });
            }
            let single = matches!(event, Event::TakeOff | Event::Landing);
            if single && !once.insert((event == Event::TakeOff, limb)) {
                self.breach(subject.clone(), Rule::EventTwice { event, limb });
            }
            if !on_frame.insert((footfall.mark.frame, limb)) {
                self.breach(subject, Rule::LimbTwiceOnFrame { limb });
            }
        }
    }

    /// Strides, then take-off, then landing, then strides away. Two limbs may share a frame.
    fn check_order(&mut self, approach: &Approach) {
        let file_frames = self.file.clip.frame_count;
        for (event, later) in [
            (Event::Stride, Event::TakeOff),
            (Event::Stride, Event::Landing),
            (Event::Stride, Event::Away),
            (Event::TakeOff, Event::Landing),
            (Event::TakeOff, Event::Away),
            (Event::Landing, Event::Away),
        ] {
            // The hinds of one take-off come a frame or two apart: a stride need only come before
            // the second of them. All else comes before the first of what follows.
            let frames = frames_of(approach, later);
            let limit = if later == Event::TakeOff { frames.max() } else { frames.min() };
            let Some(limit) = limit else { continue };
            // A frame that the clip does not have is a breach of its own and in no order.
            let late = |footfall: &&Footfall| {
                let frame = footfall.mark.frame;
                footfall.event == event && frame > limit && frame.0 < file_frames
            };
            for footfall in approach.footfalls.iter().filter(late) {
                let rule = Rule::EventOrder { event, after: later, later: limit.0 };
                self.breach(subject_of(approach, footfall), rule);
            }
        }
    }

    fn check_turn(&mut self, subject: &Subject, approach: &Approach) {
        let Some(turn) = approach.left_turn_frame else { return };
        self.frame_in_clip(subject, turn);
        if let Some(take_off) = frames_of(approach, Event::TakeOff).min()
            && turn > take_off
        {
            let rule = Rule::TurnAfterTakeOff { turn: turn.0, take_off: take_off.0 };
            self.breach(subject.clone(), rule);
        }
    }

    fn check_notes(&mut self, subject: &Subject, approach: &Approach) {
        let mut noted = BTreeSet::new();
        for note in &approach.stride_notes {
            let stride = note.stride;
            if stride >= 0 {
                self.breach(subject.clone(), Rule::NoteOnNoStride { stride });
            }
            if !noted.insert(stride) {
                self.breach(subject.clone(), Rule::NoteTwice { stride });
            }
        }
    }
}

fn frames_of(approach: &Approach, event: Event) -> impl Iterator<Item = FrameNumber> {
    let of_event = move |footfall: &&Footfall| footfall.event == event;
    approach.footfalls.iter().filter(of_event).map(|footfall| footfall.mark.frame)
}

fn subject_of(approach: &Approach, footfall: &Footfall) -> Subject {
    let place =
        MarkAddress::Footfall { approach: approach.id.clone(), footfall: footfall.id.clone() };
    Subject::Mark { place, frame: footfall.mark.frame }
}
