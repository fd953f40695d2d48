//! How far a measured number lies from the true one, and whether its interval holds it.

use std::collections::BTreeMap;

use groundline::quantity::{Estimate, Unit};

/// One number judged.
#[derive(Clone, Copy, Debug)]
pub struct Judged {
    /// Measured minus true.
    pub error: f64,
    /// Stated standard deviation.
    pub sd: f64,
    /// Whether the stated 95 % interval holds the truth.
    pub inside: bool,
}

impl Judged {
    pub fn of<U: Unit>(estimate: &Estimate<U>, truth: f64) -> Self {
        let (low, high) = (estimate.low95.get(), estimate.high95.get());
        Self {
            error: estimate.value.get() - truth,
            sd: estimate.sd.get(),
            inside: (low..=high).contains(&truth),
        }
    }
}

/// Judged numbers by what they are.
#[derive(Clone, Debug, Default)]
pub struct Scores {
    by_name: BTreeMap<&'static str, Vec<Judged>>,
}

/// What a list of judged numbers comes to.
#[derive(Clone, Copy, Debug)]
pub struct Summary {
    pub count: usize,
    pub rms: f64,
    pub bias: f64,
    /// Per cent of the truths inside their intervals.
    pub coverage: f64,
}

impl Scores {
    pub fn add(&mut self, name: &'static str, judged: Judged) {
        self.by_name.entry(name).or_default().push(judged);
    }

    pub fn merge(mut self, other: Self) -> Self {
        for (name, judged) in other.by_name {
            self.by_name.entry(name).or_default().extend(judged);
        }
        self
    }

    pub fn of(&self, name: &str) -> &[Judged] {
        self.by_name.get(name).map_or(&[], Vec::as_slice)
    }

    pub fn names(&self) -> impl Iterator<Item = &'static str> + '_ {
        self.by_name.keys().copied()
    }
}

impl Summary {
    pub fn of(judged: &[Judged]) -> Self {
        let count = judged.len();
        let n = count.max(1) as f64;
        Self {
            count,
            rms: (judged.iter().map(|j| j.error * j.error).sum::<f64>() / n).sqrt(),
            bias: judged.iter().map(|j| j.error).sum::<f64>() / n,
            coverage: 100.0 * judged.iter().filter(|j| j.inside).count() as f64 / n,
        }
    }
}
