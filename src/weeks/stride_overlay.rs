//! The strides of all approaches laid over one another by their number.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::dated_approach::DatedApproach;
use crate::quantity::{Metres, Unit};

/// From this many approaches on, the middle half says more about the usual than the extremes do.
pub const MIDDLE_HALF_FROM: usize = 5;

/// The lengths of one stride over all approaches. They hold the marking error as well as what
/// really changed from round to round.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct StrideOverlay {
    /// Counted back from the fence; −1 is the last.
    pub number: i32,
    /// In how many approaches it has a length.
    pub count: usize,
    /// Half of the lengths are below.
    pub median_m: Metres,
    /// A quarter of the lengths is below.
    pub lower_quarter_m: Metres,
    /// A quarter of the lengths is above.
    pub upper_quarter_m: Metres,
    /// The shortest.
    pub shortest_m: Metres,
    /// The longest.
    pub longest_m: Metres,
}

impl StrideOverlay {
    /// The strides of all approaches, the farthest from the fence first.
    pub(super) fn of(approaches: &[DatedApproach]) -> Vec<Self> {
        let mut lengths: BTreeMap<i32, Vec<f64>> = BTreeMap::new();
        for stride in approaches.iter().flat_map(|approach| &approach.strides) {
            if let Some(length) = &stride.length_m {
                lengths.entry(stride.number).or_default().push(length.value.get());
            }
        }
        let overlay = lengths.into_iter().map(|(number, mut lengths)| {
            lengths.sort_by(f64::total_cmp);
            let at = |share| Metres::new(quantile(&lengths, share));
            Self {
                number,
                count: lengths.len(),
                median_m: at(0.5),
                lower_quarter_m: at(0.25),
                upper_quarter_m: at(0.75),
                shortest_m: at(0.0),
                longest_m: at(1.0),
            }
        });
        overlay.collect()
    }

    /// The spread that is shown: of few approaches from the shortest to the longest, of more the
    /// middle half.
    pub fn spread_m(&self, middle_half: bool) -> (Metres, Metres) {
        if middle_half {
            (self.lower_quarter_m, self.upper_quarter_m)
        } else {
            (self.shortest_m, self.longest_m)
        }
    }
}

/// Of sorted values, between two of them in proportion.
fn quantile(sorted: &[f64], share: f64) -> f64 {
    let at = share * (sorted.len() - 1) as f64;
    let (below, part) = (at.floor() as usize, at.fract());
    let above = (below + 1).min(sorted.len() - 1);
    sorted[below] + part * (sorted[above] - sorted[below])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_lie_between_their_neighbours() {
        let sorted = [3.1, 3.2, 3.4, 3.9];
        assert!((quantile(&sorted, 0.5) - 3.3).abs() < 1e-12);
        assert!((quantile(&sorted, 0.25) - 3.175).abs() < 1e-12);
        assert_eq!((quantile(&sorted, 0.0), quantile(&sorted, 1.0)), (3.1, 3.9));
        assert_eq!(quantile(&[3.5], 0.75), 3.5);
    }
}
