//! The last approach against the first: what changed, and whether by more than is known.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::dated_approach::WeeksEntry;
use crate::quantity::{Estimate, Metres, Percent, ThinnedDraws, Unit};

/// One number of both, and their difference. Two rounds are two surveys, taken as independent.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Change<U> {
    /// In the first approach.
    pub first: Estimate<U>,
    /// In the last.
    pub last: Estimate<U>,
    /// The last less the first.
    pub difference: Estimate<U>,
    /// Probability that the number is larger in the last, 0 to 1, from the draws of both.
    pub probability_larger: f64,
    /// Whether the 95 % interval of the difference leaves out zero.
    pub more_than_its_uncertainty: bool,
}

/// What changed from the first approach to the last; `None` where one of them has no such number.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LastAgainstFirst {
    /// Standard deviation of the strides over their mean.
    pub variation_percent: Option<Change<Percent>>,
    /// Longest minus shortest stride.
    pub range_m: Option<Change<Metres>>,
    /// Mean stride.
    pub mean_m: Option<Change<Metres>>,
    /// Take-off distance.
    pub take_off_m: Option<Change<Metres>>,
}

impl<U: Unit> Change<U> {
    fn of(
        (first, first_draws): (Option<Estimate<U>>, &Option<ThinnedDraws>),
        (last, last_draws): (Option<Estimate<U>>, &Option<ThinnedDraws>),
    ) -> Option<Self> {
        let (first, last) = (first?, last?);
        let (first_draws, last_draws) = (first_draws.as_ref()?, last_draws.as_ref()?);
        let best = last.value.get() - first.value.get();
        let difference: Estimate<U> = last_draws.less(first_draws, best)?;
        Some(Self {
            first,
            last,
            difference,
            probability_larger: last_draws.probability_over(first_draws),
            more_than_its_uncertainty: difference.low95.get() > 0.0
                || difference.high95.get() < 0.0,
        })
    }
}

impl LastAgainstFirst {
    pub(super) fn of(first: &WeeksEntry, last: &WeeksEntry) -> Self {
        let level = |entry: &WeeksEntry| entry.approach.levelness.clone();
        let (before, after) = (level(first), level(last));
        let take_off =
            |entry: &WeeksEntry| entry.approach.take_off.as_ref().map(|edge| edge.distance_m);
        Self {
            variation_percent: Change::of(
                (before.as_ref().map(|l| l.variation_percent), &first.draws.variation_percent),
                (after.as_ref().map(|l| l.variation_percent), &last.draws.variation_percent),
            ),
            range_m: Change::of(
                (before.as_ref().map(|l| l.range_m), &first.draws.range_m),
                (after.as_ref().map(|l| l.range_m), &last.draws.range_m),
            ),
            mean_m: Change::of(
                (before.as_ref().map(|l| l.mean_m), &first.draws.mean_m),
                (after.as_ref().map(|l| l.mean_m), &last.draws.mean_m),
            ),
            take_off_m: Change::of(
                (take_off(first), &first.draws.take_off_m),
                (take_off(last), &last.draws.take_off_m),
            ),
        }
    }
}
