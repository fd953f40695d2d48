//! Rules of references, ties and fences: their ids and their sizes.

use std::collections::{BTreeMap, BTreeSet};

use super::limits::{
    DIAMETER, DISTANCE, FENCE_HEIGHT, FENCE_WIDTH, LEAN_SD, POINT_HEIGHT, POLE_COUNT, POLE_LENGTH,
    RAIL_HEIGHT, SPACING, SPREAD, VERTICAL_HEIGHT,
};
use super::{Checker, Rule, Subject};
use crate::marks::address::MarkAddress;
use crate::marks::reference::{PoleEndMarks, Reference, ReferenceKind};

/// Longest id, characters.
const LONGEST_ID: usize = 60;

impl Checker<'_> {
    pub(super) fn check_things(&mut self) {
        let file = self.file;
        let references: Vec<&str> = file.references.iter().map(|r| r.id.as_str()).collect();
        self.ids(&references, Subject::Reference);
        let ties: Vec<&str> = file.ties.iter().map(|tie| tie.id.as_str()).collect();
        self.ids(&ties, Subject::Tie);
        let fences: Vec<&str> = file.fences.iter().map(|fence| fence.id.as_str()).collect();
        self.ids(&fences, Subject::Fence);
        for reference in &file.references {
            self.check_reference(reference);
        }
        for fence in &file.fences {
            let subject = Subject::Fence(fence.id.clone());
            if let Some(height) = fence.height_m {
                self.number(&subject, FENCE_HEIGHT, height);
            }
            if let Some(spread) = fence.spread_m {
                self.number(&subject, SPREAD, spread);
            }
        }
    }

    /// Every id usable, and none twice.
    pub(super) fn ids(&mut self, ids: &[&str], subject: impl Fn(String) -> Subject) {
        let mut uses: BTreeMap<&str, usize> = BTreeMap::new();
        for id in ids {
            let seen = uses.entry(id).or_default();
            *seen += 1;
            if *seen == 2 {
                self.breach(subject((*id).to_owned()), Rule::IdTwice);
            }
            let letters = id.chars().count();
            let unfit = letters == 0
                || letters > LONGEST_ID
                || id.chars().any(|letter| letter == '/' || letter.is_control());
            if unfit && *seen == 1 {
                self.breach(subject((*id).to_owned()), Rule::UnfitId);
            }
        }
    }

    pub(super) fn fence_exists(&mut self, subject: Subject, fence: &str) {
        if self.file.fence(fence).is_none() {
            self.breach(subject, Rule::NoSuchFence { fence: fence.to_owned() });
        }
    }

    fn check_reference(&mut self, reference: &Reference) {
        let subject = Subject::Reference(reference.id.clone());
        match &reference.kind {
            ReferenceKind::Poles { count, spacing_m, length_m, diameter_m, ends, .. } => {
                self.number(&subject, POLE_COUNT, f64::from(*count));
                self.size(&subject, SPACING, *spacing_m);
                self.size(&subject, POLE_LENGTH, *length_m);
                self.number(&subject, DIAMETER, *diameter_m);
                self.check_pole_ends(&reference.id, *count, ends);
            }
            ReferenceKind::Distance { length_m, at_height_m, .. } => {
                self.size(&subject, DISTANCE, *length_m);
                self.number(&subject, POINT_HEIGHT, *at_height_m);
            }
            ReferenceKind::FenceWidth { fence, length_m, .. } => {
                self.size(&subject, FENCE_WIDTH, *length_m);
                self.fence_exists(subject, fence);
            }
            ReferenceKind::Vertical { height_m, lean_sd_m, .. } => {
                self.size(&subject, VERTICAL_HEIGHT, *height_m);
                self.number(&subject, LEAN_SD, *lean_sd_m);
            }
            ReferenceKind::FenceRails { fence, rails, .. } => {
                for rail in rails {
                    self.size(&subject, RAIL_HEIGHT, rail.height_m);
                }
                self.fence_exists(subject, fence);
            }
        }
    }

    fn check_pole_ends(&mut self, id: &str, count: u32, ends: &[PoleEndMarks]) {
        let mut seen = BTreeSet::new();
        for end in ends {
            let place =
                MarkAddress::PoleEnd { reference: id.to_owned(), pole: end.pole, end: end.end };
            if !(1..=count).contains(&end.pole) {
                self.breach(Subject::Place(place.clone()), Rule::NoSuchPole { count });
            }
            if !seen.insert((end.pole, end.end)) {
                self.breach(Subject::Place(place), Rule::ListedTwice);
            }
        }
    }
}
