//! The coach's settings: what she calls level, a change, a good take-off.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::quantity::{METRES_PER_FOOT, Metres, Percent, Unit};
use crate::stride::PACE_TOLERANCE;

/// Tolerances that decide what is said. None of them is a published limit: they are shown wherever
/// they decide.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Settings {
    /// Strides are level when each lies within this of their mean, or of `level_about_m`.
    pub level_within_m: Metres,
    /// The length strides should have, where the coach set one.
    #[serde(default)]
    pub level_about_m: Option<Metres>,
    /// Strides that go back by more than this share of their mean are a change of pace.
    pub pace_tolerance_percent: Percent,
    /// Where take-off should be, before the ground line.
    pub take_off_zone: Zone,
    /// Where landing should be, behind the far base.
    pub landing_zone: Zone,
    /// A last stride shorter than the mean of the others by this was added.
    pub added_shorter_m: Metres,
    /// A track within this of a straight line is straight.
    pub straight_within_m: Metres,
    /// What is said outright must be at least so probable, 0.5 to 1.
    pub sure: f64,
}

/// Where a distance should lie.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Zone {
    /// Its middle.
    pub middle_m: Metres,
    /// How far it reaches either way.
    pub half_m: Metres,
}

impl Zone {
    /// 6 ft, half a course stride, and 3 ft either way: with a good canter that still jumps. Common
    /// practice, no source.
    pub fn usual() -> Self {
        Self {
            middle_m: Metres::new(6.0 * METRES_PER_FOOT),
            half_m: Metres::new(3.0 * METRES_PER_FOOT),
        }
    }

    /// Its near end.
    pub fn low_m(self) -> Metres {
        self.middle_m - self.half_m
    }

    /// Its far end.
    pub fn high_m(self) -> Metres {
        self.middle_m + self.half_m
    }
}

impl Default for Settings {
    /// 0.30 m, 5 %, 1.83 ± 0.91 m, 0.50 m, 0.30 m and 95 %: all common practice, no source, but for
    /// the last, which is how intervals are stated here.
    fn default() -> Self {
        Self {
            level_within_m: Metres::new(0.30),
            level_about_m: None,
            pace_tolerance_percent: Percent::new(PACE_TOLERANCE),
            take_off_zone: Zone::usual(),
            landing_zone: Zone::usual(),
            added_shorter_m: Metres::new(0.50),
            straight_within_m: Metres::new(0.30),
            sure: 0.95,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_zone_is_three_feet_either_way_of_six() {
        let zone = Zone::usual();
        assert!((zone.low_m().get() - 0.9144).abs() < 1e-12);
        assert!((zone.high_m().get() - 2.7432).abs() < 1e-12);
    }
}
