//! The band of lengths a coach calls level.

use crate::quantity::{Estimate, LengthUnits, Metres, Unit, written_setting};
use crate::stride::ApproachMeasurement;

/// The lengths a coach calls level: a setting of hers, no published threshold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerance {
    /// Middle of the band.
    pub middle: Metres,
    /// How far it reaches on either side.
    pub half: Metres,
}

/// Half the band when the coach has set none.
const DEFAULT_HALF_M: f64 = 0.30;

impl Tolerance {
    /// Whether the whole interval of `length` lies outside, not just its best value.
    pub fn excludes(&self, length: &Estimate<Metres>) -> bool {
        let (middle, half) = (self.middle.get(), self.half.get());
        length.low95.get() > middle + half || length.high95.get() < middle - half
    }
}

/// A band and where it comes from.
pub(super) struct Band {
    pub tolerance: Tolerance,
    /// For the legend.
    pub words: String,
}

impl Band {
    /// The coach's, else the mean ± 0.30 m; `None` when there is no mean worth the name.
    pub fn of(
        approach: &ApproachMeasurement,
        set: Option<Tolerance>,
        units: LengthUnits,
    ) -> Option<Self> {
        let setting = |length| written_setting(length, units);
        if let Some(tolerance) = set {
            let (middle, half) = (setting(tolerance.middle), setting(tolerance.half));
            let words = format!("shaded: {middle}, {half} either way (your setting)");
            return Some(Self { tolerance, words });
        }
        let lengths = approach.strides.iter().filter_map(|row| row.length_m.as_ref());
        let seen: Vec<f64> = lengths.map(|length| length.value.get()).collect();
        if seen.len() < 2 {
            return None;
        }
        let middle = Metres::new(seen.iter().sum::<f64>() / seen.len() as f64);
        let half = Metres::new(DEFAULT_HALF_M);
        let words = format!("shaded: within {} of the mean", setting(half));
        Some(Self { tolerance: Tolerance { middle, half }, words })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::sample::estimate;

    #[test]
    fn only_an_interval_wholly_outside_is_excluded() {
        let tolerance = Tolerance { middle: Metres::new(3.5), half: Metres::new(0.2) };
        assert!(!tolerance.excludes(&estimate(3.75, 0.10)));
        assert!(tolerance.excludes(&estimate(3.85, 0.10)));
        assert!(tolerance.excludes(&estimate(2.9, 0.2)));
    }
}
