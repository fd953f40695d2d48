//! The units the program speaks, one type each, so that metres and pixels cannot be exchanged.
//!
//! Every type hides one `f64`; it goes in through `new` and comes out through `get`, and the
//! name of the type says the unit. Nothing here converts between units except by physics
//! (`Metres / Seconds`).

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A number with a unit: what the generic [`Estimate`](super::Estimate) needs to know.
pub trait Unit: Copy {
    /// The symbol as written after a number, for example `m/s`.
    const SYMBOL: &'static str;
    /// The number in this unit.
    fn get(self) -> f64;
    /// This unit from a number.
    fn new(value: f64) -> Self;
}

macro_rules! unit {
    ($(#[$doc:meta])* $name:ident, $symbol:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default, Serialize, Deserialize, JsonSchema)]
        #[serde(transparent)]
        pub struct $name(f64);

        impl Unit for $name {
            const SYMBOL: &'static str = $symbol;
            fn get(self) -> f64 {
                self.0
            }
            fn new(value: f64) -> Self {
                Self(value)
            }
        }

        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
    };
}

unit!(
    /// A length on or above the ground.
    Metres,
    "m"
);
unit!(
    /// A time; always capture time, never the slowed time of a slow-motion clip.
    Seconds,
    "s"
);
unit!(
    /// A ground speed.
    MetresPerSecond,
    "m/s"
);
unit!(
    /// A tempo.
    StridesPerMinute,
    "strides/min"
);
unit!(
    /// A length on the upright, square-pixel picture.
    Pixels,
    "px"
);
unit!(
    /// An angle as people read it; inside the survey angles are radians.
    Degrees,
    "°"
);
unit!(
    /// A hundredth part.
    Percent,
    "%"
);

impl MetresPerSecond {
    /// The same speed in metres per minute, the unit of course rules (exactly 60 times as much).
    pub fn metres_per_minute(self) -> f64 {
        self.0 * 60.0
    }
}

impl std::ops::Div<Seconds> for Metres {
    type Output = MetresPerSecond;
    fn div(self, time: Seconds) -> MetresPerSecond {
        MetresPerSecond(self.0 / time.0)
    }
}

impl Seconds {
    /// Tempo of a stride that lasts this long.
    pub fn tempo(self) -> StridesPerMinute {
        StridesPerMinute(60.0 / self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_way_over_a_time_is_a_speed() {
        let speed = Metres::new(7.0) / Seconds::new(2.0);
        assert_eq!(speed.get(), 3.5);
        assert_eq!(speed.metres_per_minute(), 210.0);
    }
}
