//! One distance of the plan.

use schemars::JsonSchema;
use serde::Serialize;

use super::adjusting::{StrideNeeded, Version};
use super::beside::Beside;
use super::convention::Convention;
use super::exercise::Exercise;
use super::rule::Rule;
use super::walked_paces::WalkedRange;
use super::warning::PlanWarning;
use crate::quantity::{Metres, Unit};

/// A distance to build and the room around it.
///
/// Low and high are not a 95 % interval: they join half the step between the published tables with
/// the ± of the stride, as two independent things. Where ground or horse ask for shorter, the aim
/// lies where the tables alone begin, and below it only the ± of the stride is left.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct DistanceRange {
    /// Low end.
    pub low_m: Metres,
    /// Where to start.
    pub aim_m: Metres,
    /// High end.
    pub high_m: Metres,
}

impl DistanceRange {
    /// `aim` with `below` and `above` it, both from tables, joined with `plus_minus`, the half-width
    /// that the stride's own interval gives; all metres.
    pub(super) fn around(aim: f64, [below, above]: [f64; 2], plus_minus: f64) -> Self {
        Self {
            low_m: Metres::new(aim - below.hypot(plus_minus)),
            aim_m: Metres::new(aim),
            high_m: Metres::new(aim + above.hypot(plus_minus)),
        }
    }

    /// The same with the aim `below` lower, metres: as far as the tables alone reach. How well the
    /// stride is known, `plus_minus`, still reaches below and moves no aim, or a worse film would
    /// shorten more.
    pub(super) fn started_short(self, below: f64, plus_minus: f64) -> Self {
        let aim = self.aim_m.get() - below;
        Self { low_m: Metres::new(aim - plus_minus), aim_m: Metres::new(aim), ..self }
    }

    /// Each end and the aim times `factor`.
    pub(super) fn times(self, factor: f64) -> Self {
        let scaled = |length: Metres| Metres::new(length.get() * factor);
        Self { low_m: scaled(self.low_m), aim_m: scaled(self.aim_m), high_m: scaled(self.high_m) }
    }
}

/// An exercise with its distance, what others printed beside it, and what to beware of.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Distance {
    /// What is built.
    pub exercise: Exercise,
    /// The distance.
    pub length: DistanceRange,
    /// The same in walked paces of 3 ft.
    pub walked_paces: WalkedRange,
    /// How it was computed.
    pub rule: Rule,
    /// Rules of thumb for the same line.
    pub conventions: Vec<Convention>,
    /// Published rows.
    pub beside: Vec<Beside>,
    /// What to beware of.
    pub warnings: Vec<PlanWarning>,
    /// Lines only: the same number of strides, each shorter; `None` where the aim is as short as it
    /// may be already.
    pub shorter: Option<Version>,
    /// Lines only: each longer; `None` where that would undo a shortening for ground or horse.
    pub longer: Option<Version>,
    /// Lines only: the stride that one less, as many, and one more would need.
    pub needed: Vec<StrideNeeded>,
}

impl Distance {
    /// A distance that is no line.
    pub(super) fn single(exercise: Exercise, length: DistanceRange, rule: Rule) -> Self {
        Self {
            exercise,
            length,
            walked_paces: length.into(),
            rule,
            conventions: Vec::new(),
            beside: Vec::new(),
            warnings: Vec::new(),
            shorter: None,
            longer: None,
            needed: Vec::new(),
        }
    }
}
