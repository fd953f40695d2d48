//! What no plan is made for, and why.

use std::fmt::{Display, Formatter, Result as Written};

use super::asked::{Asked, Stride};
use super::exercise::LONGEST_LINE;
use super::walked_line::{LEAST_WALKED, MOST_WALKED};
use super::wording::{laid_words, span_words};
use crate::quantity::{LengthUnits, Metres, Unit, written_percent};

/// A plan that cannot be made.
#[derive(Clone, Debug, PartialEq)]
pub enum AskedError {
    /// The stride is none of a canter.
    Stride {
        /// What was asked.
        found_m: Metres,
    },
    /// A stride that is known too badly, or a half-width that is none.
    Uncertainty {
        /// Half of its 95 % interval.
        found_m: Metres,
    },
    /// The height is none of a fence.
    Height {
        /// What was asked.
        found_m: Metres,
    },
    /// The slope is none to jump on.
    Slope {
        /// What was asked, per cent.
        found_percent: f64,
    },
    /// More strides than a line is planned for.
    Strides {
        /// What was asked.
        found: u32,
    },
    /// Walked paces of no line that is counted.
    Walked {
        /// What was asked.
        found: f64,
    },
}

/// Shortest and longest stride that is taken for one, metres: a short pony stride (9 ft is read in
/// R17) with room below, and the steeplechase gallop of K4 (6.04 m) with room above.
const STRIDES_M: (f64, f64) = (1.5, 6.5);
/// Half of the 95 % interval of a stride at most, metres: what is known no better is no plan's
/// basis, and no room reaches below 0 with it. Common practice, no source.
const WITHIN_M: f64 = 1.0;
/// Highest fence that is planned for, metres: above any course fence.
const HIGHEST_M: f64 = 2.5;
/// Steepest ground that is planned for, per cent. Common practice, no source.
const STEEPEST_PERCENT: f64 = 30.0;

impl Asked {
    /// Whether a plan can be made for it. What is not finite is refused with the rest.
    pub(super) fn checked(&self) -> Result<(), AskedError> {
        let (length, within) = (self.stride.length_m(), self.stride.plus_minus_m());
        if !(STRIDES_M.0..=STRIDES_M.1).contains(&length) {
            return Err(AskedError::Stride { found_m: Metres::new(length) });
        }
        let scatter = match &self.stride {
            Stride::Measured { scatter_sd_m, .. } => scatter_sd_m.get(),
            Stride::Typed { .. } => 0.0,
        };
        for found in [within, scatter] {
            // What was typed as the most is not refused for its rounding.
            if !(0.0..=WITHIN_M + 1e-9).contains(&found) {
                return Err(AskedError::Uncertainty { found_m: Metres::new(found) });
            }
        }
        if !(0.0..=HIGHEST_M).contains(&self.height_m) {
            return Err(AskedError::Height { found_m: Metres::new(self.height_m) });
        }
        if !(-STEEPEST_PERCENT..=STEEPEST_PERCENT).contains(&self.slope_percent) {
            return Err(AskedError::Slope { found_percent: self.slope_percent });
        }
        Ok(())
    }
}

impl AskedError {
    /// Why, with lengths in `units`.
    pub fn words(&self, units: LengthUnits) -> String {
        let laid = |metres: f64| laid_words(Metres::new(metres), units);
        match self {
            Self::Stride { found_m } => format!(
                "cannot plan for a stride of {}: a canter stride of a horse or pony is {}",
                laid_words(*found_m, units),
                span_words(Metres::new(STRIDES_M.0), Metres::new(STRIDES_M.1), units)
            ),
            Self::Uncertainty { found_m } => format!(
                "cannot plan for a stride within ±{}: ±{} at most is planned for",
                laid_words(*found_m, units),
                laid(WITHIN_M)
            ),
            Self::Height { found_m } => format!(
                "cannot plan for a fence of {}: 0 (a pole on the ground) to {} is needed",
                laid_words(*found_m, units),
                laid(HIGHEST_M)
            ),
            Self::Slope { found_percent } => format!(
                "cannot plan for a slope of {}: {} to {} is needed",
                written_percent(*found_percent),
                written_percent(-STEEPEST_PERCENT).trim_end_matches(" %"),
                written_percent(STEEPEST_PERCENT)
            ),
            Self::Strides { found } => {
                format!("cannot plan a line of {found} strides: 1 to {LONGEST_LINE} are planned")
            }
            Self::Walked { found } => format!(
                "cannot count a line of {found} walked paces: {LEAST_WALKED} (landing and take-off) \
                 to {MOST_WALKED} are counted"
            ),
        }
    }

    /// What can be done about it.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Stride { .. } => "a stride is from one hoof print to the next of the same hoof",
            Self::Uncertainty { .. } => {
                "half of the 95 % interval; where nothing is said it is ±0.10 m"
            }
            Self::Height { .. } => "metres, or such as 3ft3in",
            Self::Slope { .. } => "rise over way, uphill above 0: 3 is 3 cm to a metre",
            Self::Strides { .. } => {
                "on longer lines the distance no longer fixes how many strides are ridden"
            }
            Self::Walked { .. } => {
                "paces of 3 ft, from the far base of the first fence to the near base of the second"
            }
        }
    }
}

impl Display for AskedError {
    fn fmt(&self, out: &mut Formatter<'_>) -> Written {
        write!(out, "{}", self.words(LengthUnits::Metres))
    }
}

impl std::error::Error for AskedError {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_refused_is_told_in_the_units_asked_for() {
        let stride = AskedError::Stride { found_m: Metres::new(9.0) };
        assert_eq!(
            stride.words(LengthUnits::Feet),
            "cannot plan for a stride of 29 ft 6 in: a canter stride of a horse or pony is 4 ft 11 in \
             to 21 ft 4 in"
        );
        assert_eq!(
            stride.to_string(),
            "cannot plan for a stride of 9.00 m: a canter stride of a horse or pony is 1.50 to 6.50 m"
        );
        let walked = AskedError::Walked { found: 60.0 };
        assert!(walked.to_string().ends_with("4 (landing and take-off) to 55 are counted"));
    }
}
