//! Changes of pace: how often the strides grew or shrank.
//!
//! Small wavering is no change (`moves.rs`). The count is made on every draw of the true lengths, so
//! that the marking error, which makes a series waver too, is not counted as the horse's.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::moves::moves;
use crate::quantity::{Percent, Unit};

/// Going back by this share of the mean stride is a change when the coach has set nothing else,
/// per cent. A setting, no published limit: a trained horse's canter varies by about 2 %.
pub const PACE_TOLERANCE: f64 = 5.0;

/// How often the pace changed in an approach: easing is one change, easing and then pushing is two.
/// One is fine; more are what spoils an approach (common practice, no source).
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PaceChanges {
    /// The most probable number of changes; of two as probable the smaller.
    pub count: usize,
    /// Its probability, 0 to 1.
    pub probability: f64,
    /// Probability of each number of changes, from none on; they add up to 1.
    pub probabilities: Vec<f64>,
    /// How far the length must go back to count, as a share of the mean stride.
    pub tolerance_percent: Percent,
}

impl PaceChanges {
    /// Counts on every draw; a draw is the lengths in the order ridden, metres. `None` without a
    /// draw.
    pub(super) fn counted<'a>(
        draws: impl Iterator<Item = &'a [f64]>,
        tolerance_percent: f64,
    ) -> Option<Self> {
        let mut counts: Vec<usize> = Vec::new();
        for lengths in draws {
            let changes = moves(lengths, tolerance_percent).len();
            if counts.len() <= changes {
                counts.resize(changes + 1, 0);
            }
            counts[changes] += 1;
        }
        let total = counts.iter().sum::<usize>();
        let probabilities: Vec<f64> =
            counts.iter().map(|count| *count as f64 / total as f64).collect();
        let most = counts.iter().max()?;
        let count = counts.iter().position(|count| count == most)?;
        Some(Self {
            count,
            probability: probabilities[count],
            probabilities,
            tolerance_percent: Percent::new(tolerance_percent),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn changes(lengths: &[f64], tolerance_percent: f64) -> usize {
        moves(lengths, tolerance_percent).len()
    }

    #[test]
    fn changes_are_those_counted_by_hand() {
        // The tolerance is 5 % of the mean, 0.16 to 0.18 m in all of these.
        let series: [(&[f64], usize); 9] = [
            (&[3.47, 3.52, 3.50, 3.46, 3.53, 3.50], 0),
            (&[3.10, 3.20, 3.30, 3.40, 3.48, 3.56], 1),
            (&[3.50, 3.42, 3.36, 3.28, 3.22, 3.15], 1),
            // Down to 2.95, up to 3.80, down: three.
            (&[3.50, 3.30, 3.05, 2.95, 3.35, 3.80, 2.45], 3),
            (&[3.60, 3.30, 3.60], 2),
            // A waver of 0.10 m on the way up is none; the way and the fall at its end are two.
            (&[3.10, 3.30, 3.20, 3.50, 3.40, 3.70, 3.40], 2),
            (&[3.0, 3.5, 3.0, 3.5, 3.0], 4),
            // Each step is within the tolerance, the way back from the top in all is not.
            (&[3.20, 3.50, 3.42, 3.34, 3.26], 2),
            (&[3.50], 0),
        ];
        for (lengths, expected) in series {
            assert_eq!(changes(lengths, PACE_TOLERANCE), expected, "{lengths:?}");
            let backwards: Vec<f64> = lengths.iter().rev().copied().collect();
            assert_eq!(changes(&backwards, PACE_TOLERANCE), expected, "{backwards:?}");
        }
        assert_eq!(changes(&[], PACE_TOLERANCE), 0);
    }

    #[test]
    fn the_tolerance_is_a_share_of_the_mean() {
        let lengths = [3.60, 3.40, 3.60];
        assert_eq!((changes(&lengths, 5.0), changes(&lengths, 6.0)), (2, 0));
    }

    #[test]
    fn going_back_by_just_the_tolerance_is_no_change() {
        // Means of 4 m, of which 25 % are 1 m, in numbers that a float holds exactly.
        for lengths in [[3.0, 4.0, 5.0, 4.0], [5.0, 4.0, 3.0, 4.0]] {
            assert_eq!(changes(&lengths, 25.0), 1);
            assert_eq!(changes(&lengths, 24.9), 2);
        }
    }

    #[test]
    fn the_most_probable_count_has_its_probability() {
        let draws: [&[f64]; 4] =
            [&[3.6, 3.3, 3.6], &[3.6, 3.5, 3.6], &[3.6, 3.2, 3.6], &[3.5, 3.0, 3.5]];
        let changes = PaceChanges::counted(draws.into_iter(), 5.0).unwrap();
        assert_eq!((changes.count, changes.probability), (2, 0.75));
        assert_eq!(changes.probabilities, [0.25, 0.0, 0.75]);
        assert_eq!(PaceChanges::counted(std::iter::empty(), 5.0), None);
    }
}
