//! The band of lengths a coach calls level.

use crate::quantity::{Estimate, LengthUnits, Metres, Unit, written_setting};
use crate::stride::ApproachMeasurement;

/// The lengths a coach calls level: a setting of hers, no published threshold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerance {
    /// Middle of the band; `None` for the mean of the strides.
    pub middle: Option<Metres>,
    /// How far it reaches on either side.
    pub half: Metres,
}

impl Tolerance {
    /// Half the band when the coach has set none, metres: a help for the eye, no published limit.
    pub const USUAL_HALF_M: f64 = 0.30;
}

/// A band and where it comes from.
pub(super) struct Band {
    pub middle: Metres,
    pub half: Metres,
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
        let half = set.map_or(Metres::new(Tolerance::USUAL_HALF_M), |set| set.half);
        if let Some(middle) = set.and_then(|set| set.middle) {
            let (about, either) = (setting(middle), setting(half));
            let words = format!("shaded: {about}, {either} either way (your setting)");
            return Some(Self { middle, half, words });
        }
        let lengths = approach.strides.iter().filter_map(|row| row.length_m.as_ref());
        let seen: Vec<f64> = lengths.map(|length| length.value.get()).collect();
        if seen.len() < 2 {
            return None;
        }
        let middle = Metres::new(seen.iter().sum::<f64>() / seen.len() as f64);
        let whose = if set.is_some() { " (your setting)" } else { "" };
        let words = format!("shaded: within {} of the mean{whose}", setting(half));
        Some(Self { middle, half, words })
    }

    /// Whether the whole interval of `length` lies outside, not just its best value.
    pub fn excludes(&self, length: &Estimate<Metres>) -> bool {
        let (middle, half) = (self.middle.get(), self.half.get());
        length.low95.get() > middle + half || length.high95.get() < middle - half
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, SEVEN};
    use crate::quantity::sample::estimate;

    fn band(middle: Option<f64>, half: f64) -> Band {
        let set = Tolerance { middle: middle.map(Metres::new), half: Metres::new(half) };
        Band::of(&sample::approach(SEVEN), Some(set), LengthUnits::Metres).unwrap()
    }

    #[test]
    fn only_an_interval_wholly_outside_is_excluded() {
        let band = band(Some(3.5), 0.2);
        assert!(!band.excludes(&estimate(3.75, 0.10)));
        assert!(band.excludes(&estimate(3.85, 0.10)));
        assert!(band.excludes(&estimate(2.9, 0.2)));
    }

    #[test]
    fn a_half_width_alone_is_laid_about_the_mean_and_said_to_be_a_setting() {
        let band = band(None, 0.2);
        assert_eq!(band.words, "shaded: within 0.20 m of the mean (your setting)");
        let plain = Band::of(&sample::approach(SEVEN), None, LengthUnits::Metres).unwrap();
        assert_eq!((band.middle, plain.half), (plain.middle, Metres::new(0.30)));
    }
}
