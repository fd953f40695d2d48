//! A measured number: best value, standard deviation and 95 % interval, in one unit.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

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
        Some(Self { low: draws[below - 1], high: draws[(below - 1 + inside).min(count - 1)] })
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

    /// Half the width of the 95 % interval: the number printed after ±.
    pub fn plus_minus(&self) -> f64 {
        (self.high95.get() - self.low95.get()) / 2.0
    }
}
