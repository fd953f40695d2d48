//! A measured number: best value, standard deviation and 95 % interval, in one unit.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::median::median;
use super::units::Unit;

/// A value with its standard deviation and 95 % coverage interval, all in the unit `U`.
///
/// Built from draws of a joint posterior ([`Estimate::from_draws`]), never by adding one ± to
/// another: two strides share a hoof and all share the camera.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Estimate<U> {
    /// Best value.
    pub value: U,
    /// Standard deviation of the draws.
    pub sd: U,
    /// Lower end of the 95 % interval.
    pub low95: U,
    /// Upper end of the 95 % interval.
    pub high95: U,
}

/// The ends of a probabilistically symmetric 95 % interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Percentile95 {
    /// The 2.5 % quantile.
    pub low: f64,
    /// The 97.5 % quantile.
    pub high: f64,
}

impl Percentile95 {
    /// Reads the interval off draws (JCGM 101:2008, 7.7.2: q = pM draws inside, the rest split
    /// evenly). The draws are sorted in place. `None` for fewer than 40 draws, which cannot
    /// leave one on either side.
    pub fn of(draws: &mut [f64]) -> Option<Self> {
        let count = draws.len();
        if count < 40 {
            return None;
        }
        draws.sort_by(f64::total_cmp);
        let inside = (0.95 * count as f64 + 0.5).floor() as usize;
        let below = (count - inside).div_ceil(2).max(1);
        Some(Self { low: draws[below - 1], high: draws[below - 1 + inside] })
    }
}

impl<U: Unit> Estimate<U> {
    /// The estimate whose best value is `best` and whose spread is that of `draws`.
    ///
    /// `best` is the value at the adjusted marks. It is not replaced by the mean of the draws:
    /// for a spread (range, coefficient of variation) the mean of the draws counts the marking
    /// error twice. `None` when there are too few draws or one is not finite.
    pub fn from_draws(best: f64, mut draws: Vec<f64>) -> Option<Self> {
        if !best.is_finite() || draws.iter().any(|draw| !draw.is_finite()) {
            return None;
        }
        let interval = Percentile95::of(&mut draws)?;
        let count = draws.len() as f64;
        let mean = draws.iter().sum::<f64>() / count;
        let variance = draws.iter().map(|d| (d - mean).powi(2)).sum::<f64>() / (count - 1.0);
        Some(Self {
            value: U::new(best),
            sd: U::new(variance.sqrt()),
            low95: U::new(interval.low),
            high95: U::new(interval.high),
        })
    }

    /// The estimate whose best value is the middle of the draws: for a number whose draws are about
    /// the truth behind a measurement, not about the measurement. `None` as for
    /// [`Self::from_draws`].
    pub fn about_median(mut draws: Vec<f64>) -> Option<Self> {
        Self::from_draws(median(&mut draws)?, draws)
    }

    /// Half the width of the 95 % interval: the number printed after ±.
    pub fn plus_minus(&self) -> f64 {
        (self.high95.get() - self.low95.get()) / 2.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Metres;

    fn counted(count: u32) -> Vec<f64> {
        (0..count).rev().map(f64::from).collect()
    }

    #[test]
    fn the_interval_holds_the_stated_share_of_the_draws() {
        // JCGM 101:2008, 7.7.2 with M = 40, 100 and 2000: q = 38, 95 and 1900 draws apart, and
        // the rest split evenly.
        for (count, low, high) in [(40, 0.0, 38.0), (100, 2.0, 97.0), (2000, 49.0, 1949.0)] {
            let interval = Percentile95::of(&mut counted(count)).unwrap();
            assert_eq!((interval.low, interval.high), (low, high), "{count} draws");
        }
        assert_eq!(Percentile95::of(&mut counted(39)), None);
    }

    #[test]
    fn an_estimate_keeps_its_best_value_and_takes_the_spread_of_the_draws() {
        let found = Estimate::<Metres>::from_draws(7.0, counted(100)).unwrap();
        assert_eq!(found.value.get(), 7.0);
        // Variance of 0 … n−1 with n−1 below: n (n + 1) / 12.
        assert!((found.sd.get().powi(2) - 100.0 * 101.0 / 12.0).abs() < 1e-9);
        assert_eq!(found.plus_minus(), 47.5);
    }

    #[test]
    fn the_middle_of_draws_is_one_of_them_or_between_two() {
        let middle = |count| Estimate::<Metres>::about_median(counted(count)).unwrap().value.get();
        assert_eq!((middle(41), middle(42)), (20.0, 20.5));
        assert_eq!(Estimate::<Metres>::about_median(Vec::new()), None);
    }

    #[test]
    fn what_is_not_finite_is_no_estimate() {
        let mut draws = counted(100);
        assert_eq!(Estimate::<Metres>::from_draws(f64::NAN, draws.clone()), None);
        draws[3] = f64::INFINITY;
        assert_eq!(Estimate::<Metres>::from_draws(7.0, draws), None);
    }
}
