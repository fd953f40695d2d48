//! The rules of a marks file: what must hold before anything is measured from it.
//!
//! Only what would make a measurement impossible or wrong is a breach. What is merely not there
//! yet (no reference, no take-off) is a [`Missing`](super::Missing) or a doubt of the survey.

mod approaches;
mod breach;
mod facts;
mod limits;
mod places;
mod things;

use std::collections::BTreeSet;

pub use breach::{Rule, RuleBreach, Subject};
use limits::Bounds;

use super::file::MarksFile;
use crate::quantity::{FrameNumber, Given};

impl MarksFile {
    /// Every breach of the rules, in file order; none means that the file can be measured from.
    pub fn check(&self) -> Vec<RuleBreach> {
        let mut checker = Checker::new(self);
        checker.check_facts();
        checker.check_things();
        checker.check_approaches();
        checker.check_places();
        checker.breaches
    }
}

/// Walks the file and gathers breaches.
struct Checker<'a> {
    file: &'a MarksFile,
    timed: BTreeSet<FrameNumber>,
    breaches: Vec<RuleBreach>,
}

impl<'a> Checker<'a> {
    fn new(file: &'a MarksFile) -> Self {
        let timed = file.clip.frames.iter().map(|known| known.frame).collect();
        Self { file, timed, breaches: Vec::new() }
    }

    fn breach(&mut self, subject: Subject, rule: Rule) {
        self.breaches.push(RuleBreach { subject, rule });
    }

    /// A bare number must lie within its bounds.
    fn number(&mut self, subject: &Subject, bounds: Bounds, value: f64) {
        if !bounds.hold(value) {
            self.breach(subject.clone(), bounds.broken_by(value));
        }
    }

    /// A stated number must lie within its bounds, its sd between 0 and the bound's width.
    fn stated(&mut self, subject: &Subject, bounds: Bounds, given: Given) {
        self.number(subject, bounds, given.value);
        let largest = bounds.high - bounds.low;
        if !(given.sd >= 0.0 && given.sd <= largest) {
            let rule = Rule::SdOutOfRange { what: bounds.what, sd: given.sd, below: largest };
            self.breach(subject.clone(), rule);
        }
    }

    /// A stated size must lie within its bounds and be larger than its own sd.
    fn size(&mut self, subject: &Subject, bounds: Bounds, given: Given) {
        self.number(subject, bounds, given.value);
        if bounds.hold(given.value) && !(given.sd >= 0.0 && given.sd < given.value) {
            let rule = Rule::SdOutOfRange { what: bounds.what, sd: given.sd, below: given.value };
            self.breach(subject.clone(), rule);
        }
    }
}

#[cfg(test)]
mod tests;
