//! Rules of the marks themselves: on the picture, in the clip, at a known time, once a frame.

use std::collections::BTreeMap;

use super::limits::MARK_SD;
use super::{Checker, Rule, Subject};
use crate::marks::address::MarkAddress;
use crate::marks::mark::Mark;
use crate::quantity::FrameNumber;

impl Checker<'_> {
    pub(super) fn check_places(&mut self) {
        for (place, marks) in self.file.places() {
            let mut times_marked: BTreeMap<FrameNumber, usize> = BTreeMap::new();
            for mark in marks {
                *times_marked.entry(mark.frame).or_default() += 1;
                let subject = Subject::Mark { place: place.clone(), frame: mark.frame };
                self.check_mark(&subject, mark, self.is_hidden(&place));
            }
            for (frame, count) in times_marked.into_iter().filter(|(_, count)| *count > 1) {
                let subject = Subject::Mark { place: place.clone(), frame };
                self.breach(subject, Rule::TwiceOnFrame { count });
            }
        }
    }

    fn check_mark(&mut self, subject: &Subject, mark: &Mark, hidden: bool) {
        if self.frame_in_clip(subject, mark.frame) && !self.timed.contains(&mark.frame) {
            self.breach(subject.clone(), Rule::TimeUnknown);
        }
        if hidden {
            return;
        }
        let picture = self.file.clip.picture;
        if !picture.holds(mark.point()) {
            let (width, height) = (picture.width, picture.height);
            let rule = Rule::OutsidePicture { x: mark.x, y: mark.y, width, height };
            self.breach(subject.clone(), rule);
        }
        self.number(subject, MARK_SD, mark.sd_px);
    }

    /// Whether the clip has the frame; a breach if not.
    pub(super) fn frame_in_clip(&mut self, subject: &Subject, frame: FrameNumber) -> bool {
        let count = self.file.clip.frame_count;
        let inside = frame.0 < count;
        // A clip without frames is a breach of its own, told once.
        if !inside && count > 0 {
            let rule = Rule::OutsideClip { frame: frame.0, last: count.saturating_sub(1) };
            self.breach(subject.clone(), rule);
        }
        inside
    }

    /// A hidden footfall's x and y mean nothing.
    fn is_hidden(&self, place: &MarkAddress) -> bool {
        let MarkAddress::Footfall { approach, footfall } = place else { return false };
        let footfalls = self.file.approach(approach).map(|approach| approach.footfalls.as_slice());
        footfalls
            .unwrap_or_default()
            .iter()
            .any(|candidate| candidate.id == *footfall && candidate.hidden)
    }
}
