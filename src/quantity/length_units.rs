//! Metres or feet: the one setting that decides how lengths are written.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How a length is shown. Files always hold metres.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
pub enum LengthUnits {
    /// Metres.
    #[default]
    #[serde(rename = "m")]
    Metres,
    /// Feet; distances under 30 ft in feet and inches.
    #[serde(rename = "ft")]
    Feet,
}

/// The international foot, exact by definition (1959 agreement).
pub const METRES_PER_FOOT: f64 = 0.3048;

impl LengthUnits {
    /// `metres` in this unit.
    pub fn from_metres(self, metres: f64) -> f64 {
        match self {
            Self::Metres => metres,
            Self::Feet => metres / METRES_PER_FOOT,
        }
    }

    /// The other of the two.
    pub fn other(self) -> Self {
        match self {
            Self::Metres => Self::Feet,
            Self::Feet => Self::Metres,
        }
    }

    /// The unit's symbol.
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Metres => "m",
            Self::Feet => "ft",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_have_their_symbols() {
        assert_eq!([LengthUnits::Metres, LengthUnits::Feet].map(LengthUnits::symbol), ["m", "ft"]);
    }
}
