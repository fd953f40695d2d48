//! Training to adjust: the same line shorter and longer, and what one stride less or more needs.

use schemars::JsonSchema;
use serde::Serialize;

use super::convention::metric_line;
use super::distance::DistanceRange;
use super::warning::PlanWarning;
use crate::quantity::{Metres, Unit};
use crate::stride::ShownStrides;

/// How much each stride of the shorter and the longer version differs: 6 in of a 12-ft stride, the
/// only spread of a horse's stride that was read (R16, "12' ± 6\" by fence height"). That riders
/// train adjusting with it is common practice, no source.
pub(super) const ADJUSTING_SHARE: f64 = 0.5 / 12.0;

/// A line for the same number of strides, each shorter or longer.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Version {
    /// The distance.
    pub length: DistanceRange,
    /// The stride it needs at its aim, with landing and take-off in proportion.
    pub stride_m: Metres,
    /// What to beware of.
    pub warnings: Vec<PlanWarning>,
}

impl Version {
    /// What to beware of, in few words each.
    pub fn beware(&self) -> impl Iterator<Item = &'static str> {
        self.warnings.iter().filter_map(PlanWarning::brief)
    }
}

/// The stride that a number of strides would need.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct StrideNeeded {
    /// How many strides between landing and take-off.
    pub strides: u32,
    /// The stride needed if landing and take-off take the most room.
    pub low_m: Metres,
    /// The stride needed.
    pub stride_m: Metres,
    /// The stride needed if they take the least.
    pub high_m: Metres,
    /// Distance / (n+1), as the 12-ft convention counts.
    pub by_convention_m: Metres,
    /// Whether the horse has never shown it; `None` for a typed stride.
    pub is_never_shown: Option<bool>,
}

/// Landing and take-off together, in strides.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub(super) struct Allowance {
    /// The least they take.
    pub low: f64,
    /// What they take.
    pub usual: f64,
    /// The most they take.
    pub high: f64,
}

/// What a line of `distance` needs in `strides` − 1, `strides` and `strides` + 1 strides. Fewer
/// than one stride has no length, so a line of one has two answers. `shown` is what
/// the horse has shown.
pub(super) fn strides_needed(
    distance: Metres,
    strides: u32,
    allowance: Allowance,
    shown: Option<&ShownStrides>,
) -> Vec<StrideNeeded> {
    let counts = strides.saturating_sub(1).max(1)..=strides + 1;
    let needed = |count: u32, allowance: f64| distance.get() / (f64::from(count) + allowance);
    counts
        .map(|count| {
            let stride_m = Metres::new(needed(count, allowance.usual));
            StrideNeeded {
                strides: count,
                low_m: Metres::new(needed(count, allowance.high)),
                stride_m,
                high_m: Metres::new(needed(count, allowance.low)),
                by_convention_m: Metres::new(
                    distance.get() / metric_line(Metres::new(1.0), count).get(),
                ),
                is_never_shown: shown.map(|shown| !shown.may_hold(stride_m)),
            }
        })
        .collect()
}
