//! The draws of one number, kept small: what is needed to compare it with a number of another,
//! independent survey.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::estimate::Estimate;
use super::units::Unit;

/// How many are kept. All pairs of two such sets are 40,000 differences; the ends of a 95 %
/// interval move by about a hundredth of its half-width.
const KEPT: usize = 200;

/// Draws of one number in its unit, sorted and thinned to evenly spaced quantiles. Which draw
/// belonged to which scene is forgotten, so only numbers of independent surveys may be compared.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct ThinnedDraws(Vec<f32>);

impl ThinnedDraws {
    /// `None` for fewer than 40 draws, too few for a 95 % interval, and where one is no number.
    pub fn of(mut draws: Vec<f64>) -> Option<Self> {
        if draws.len() < 40 || draws.iter().any(|draw| !draw.is_finite()) {
            return None;
        }
        draws.sort_by(f64::total_cmp);
        let kept = draws.len().min(KEPT);
        let share = draws.len() as f64 / kept as f64;
        let middle = |k: usize| draws[((k as f64 + 0.5) * share) as usize];
        Some(Self((0..kept).map(|k| middle(k) as f32).collect()))
    }

    /// Probability that this number is larger than `other`, 0 to 1; of equal draws half counts.
    pub fn probability_over(&self, other: &Self) -> f64 {
        let below = |draw: &f32| {
            let under = other.0.partition_point(|o| o < draw);
            let up_to = other.0.partition_point(|o| o <= draw);
            f64::midpoint(under as f64, up_to as f64)
        };
        let pairs = self.0.len() as f64 * other.0.len() as f64;
        self.0.iter().map(below).sum::<f64>() / pairs
    }

    /// This number less `other`, whose best value is `best`: the interval is that of all pairs.
    pub fn less<U: Unit>(&self, other: &Self, best: f64) -> Option<Estimate<U>> {
        let pairs = self.0.iter().flat_map(|a| other.0.iter().map(move |b| f64::from(*a - *b)));
        Estimate::from_draws(best, pairs.collect())
    }
}

#[cfg(test)]
mod tests {
    use rand_distr::{Distribution, StandardNormal};

    use super::*;
    use crate::quantity::{Metres, seeded};

    fn normal(mean: f64, sd: f64, seed: u64) -> ThinnedDraws {
        let mut random = seeded(seed);
        let draw = |random: &mut _| -> f64 { StandardNormal.sample(random) };
        ThinnedDraws::of((0..2000).map(|_| mean + sd * draw(&mut random)).collect()).unwrap()
    }

    #[test]
    fn two_normal_numbers_compare_as_in_closed_form() {
        // The difference is normal with mean 0.30 and sd 0.25: P(> 0) = Φ(1.2) = 0.88493.
        // Drawn from one seed, as two surveys are: paired draw by draw the sd would be 0.05.
        let (last, first) = (normal(3.80, 0.20, 5), normal(3.50, 0.15, 5));
        let probability = last.probability_over(&first);
        assert!((probability - 0.884_93).abs() < 0.015, "{probability}");
        assert!((first.probability_over(&last) + probability - 1.0).abs() < 1e-12);
        let difference = last.less::<Metres>(&first, 0.30).unwrap();
        assert!((difference.sd.get() - 0.25).abs() < 0.01, "{difference:?}");
        assert!((difference.plus_minus() - 1.96 * 0.25).abs() < 0.02, "{difference:?}");
        assert_eq!(difference.value, Metres::new(0.30));
        // 0.30 ∓ 1.96 · 0.25.
        assert!((difference.low95.get() + 0.19).abs() < 0.03, "{difference:?}");
        assert!((difference.high95.get() - 0.79).abs() < 0.03, "{difference:?}");
    }

    #[test]
    fn the_draws_kept_are_the_middles_of_equal_shares() {
        // 0 … 1999 in 200 shares of ten: the middle of 0 … 9 is 5, of 10 … 19 is 15 and so on.
        let kept = ThinnedDraws::of((0..2000).rev().map(f64::from).collect()).unwrap();
        let middles: Vec<f32> = (0..200u16).map(|share| 10.0 * f32::from(share) + 5.0).collect();
        assert_eq!(kept.0, middles);
    }

    #[test]
    fn far_apart_is_certain_and_the_same_is_even() {
        let (near, far) = (normal(1.0, 0.1, 1), normal(9.0, 0.1, 2));
        assert_eq!((far.probability_over(&near), near.probability_over(&far)), (1.0, 0.0));
        assert_eq!(near.probability_over(&near), 0.5);
    }

    #[test]
    fn too_few_draws_and_no_numbers_are_none() {
        assert_eq!(ThinnedDraws::of(vec![1.0; 39]), None);
        assert_eq!(ThinnedDraws::of(vec![1.0; 40]).unwrap().0, [1.0; 40]);
        let mut draws = vec![1.0; 100];
        draws[7] = f64::NAN;
        assert_eq!(ThinnedDraws::of(draws), None);
    }
}
