//! How a measured number is written: the only rounding in the crate.
//!
//! Rule: the ± keeps two figures when its first is 1 or 2, else one (GUM 7.2.6 asks for at most
//! two), never finer than a length's centimetre, and the value is rounded to the same place.

use super::estimate::Estimate;
use super::length_units::{LengthUnits, METRES_PER_FOOT};
use super::units::{Metres, Unit};

/// A number ready to print: the value, the ± that follows it, and the unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// The rounded value.
    pub value: String,
    /// The rounded half-width of the 95 % interval.
    pub plus_minus: String,
    /// The unit's symbol; empty when the value carries its own (feet and inches).
    pub unit: String,
}

impl std::fmt::Display for Written {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "{} ± {}{}", self.value, self.plus_minus, self.unit_behind())
    }
}

impl Written {
    /// The unit with what stands between a number and it: a space, which does not stand before °
    /// (ISO 80000-1, 7.1.4: the percent sign has its space, the signs of angles have none).
    pub fn unit_behind(&self) -> String {
        match self.unit.as_str() {
            "" | "°" => self.unit.clone(),
            unit => format!(" {unit}"),
        }
    }
}

/// Decimals that a half-width of `plus_minus` supports, at most `finest`.
pub(super) fn decimals_for(plus_minus: f64, finest: usize) -> usize {
    if plus_minus <= 0.0 || !plus_minus.is_finite() {
        return finest;
    }
    let exponent = plus_minus.log10().floor();
    let first_figure = plus_minus / 10f64.powf(exponent);
    let figures = if first_figure < 2.95 { 1.0 } else { 0.0 };
    (figures - exponent).clamp(0.0, finest as f64) as usize
}

pub(super) fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let is_zero = text.chars().all(|c| matches!(c, '-' | '0' | '.'));
    if is_zero { text.trim_start_matches('-').to_owned() } else { text.replace('-', "\u{2212}") }
}

/// Decimals that a number of unit `U` is written with when its ± is `plus_minus`; lengths and speeds
/// may be in feet.
pub fn written_decimals<U: Unit>(plus_minus: f64) -> usize {
    let finest = if matches!(U::SYMBOL, "s" | "m/s" | "m") { 2 } else { 1 };
    decimals_for(plus_minus, finest)
}

/// Writes an estimate of any unit; lengths follow `units`.
pub fn written<U: Unit>(estimate: &Estimate<U>, units: LengthUnits) -> Written {
    let half = estimate.plus_minus();
    let is_length = U::SYMBOL == Metres::SYMBOL;
    if is_length && units == LengthUnits::Feet {
        return written_feet(estimate.value.get(), half);
    }
    let decimals = written_decimals::<U>(half);
    // A half-width under the last place is written as one unit of that place, never as zero.
    let least = 10f64.powi(-(decimals as i32));
    Written {
        value: fixed(estimate.value.get(), decimals),
        plus_minus: fixed(half.max(least), decimals),
        unit: U::SYMBOL.to_owned(),
    }
}

/// Feet and inches under 30 ft, feet with one decimal above.
fn written_feet(metres: f64, half_metres: f64) -> Written {
    let feet = metres / METRES_PER_FOOT;
    let half_feet = half_metres / METRES_PER_FOOT;
    if feet.abs() >= 30.0 {
        return Written {
            value: fixed(feet, 1),
            plus_minus: fixed(half_feet.max(0.1), 1),
            unit: "ft".into(),
        };
    }
    Written {
        value: feet_and_inches(feet),
        plus_minus: feet_and_inches(half_feet.max(1.0 / 12.0)),
        unit: String::new(),
    }
}

fn feet_and_inches(feet: f64) -> String {
    let inches = (feet * 12.0).round() as i64;
    let sign = if inches < 0 { "\u{2212}" } else { "" };
    match (inches.abs() / 12, inches.abs() % 12) {
        (0, inch) => format!("{sign}{inch} in"),
        (foot, 0) => format!("{sign}{foot} ft"),
        (foot, inch) => format!("{sign}{foot} ft {inch} in"),
    }
}

/// A length without ±, for captions and scale bars: two decimals of a metre, or feet and inches.
pub fn written_bare(length: Metres, units: LengthUnits) -> String {
    match units {
        LengthUnits::Metres => format!("{} m", fixed(length.get(), 2)),
        LengthUnits::Feet => {
            let feet = length.get() / METRES_PER_FOOT;
            if feet.abs() < 30.0 { feet_and_inches(feet) } else { format!("{} ft", fixed(feet, 1)) }
        }
    }
}

/// A length in feet and whole inches at any length, as a tape is read. (Charts write lengths from 30
/// ft on in decimal feet.)
pub fn written_taped(length: Metres) -> String {
    feet_and_inches(length.get() / METRES_PER_FOOT)
}

/// A count to the half, as people walk and talk: "½", "8", "19½".
pub fn written_halves(count: f64) -> String {
    let halves = (2.0 * count).round() as i64;
    let sign = if halves < 0 { "\u{2212}" } else { "" };
    match (halves.abs() / 2, halves.abs() % 2) {
        (0, 1) => format!("{sign}½"),
        (whole, 0) => format!("{sign}{whole}"),
        (whole, _) => format!("{sign}{whole}½"),
    }
}

/// A percentage without ±: whole, or with one decimal where it has one.
pub fn written_percent(percent: f64) -> String {
    let decimals = usize::from((percent * 10.0).round() % 10.0 != 0.0);
    format!("{} %", fixed(percent, decimals))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::sample::estimate;
    use crate::quantity::{Degrees, Percent, Seconds, StridesPerMinute};

    #[test]
    fn the_plus_minus_decides_the_places() {
        let m = LengthUnits::Metres;
        assert_eq!(written(&estimate::<Metres>(3.4217, 0.046), m).to_string(), "3.42 ± 0.05 m");
        assert_eq!(written(&estimate::<Metres>(3.4217, 0.46), m).to_string(), "3.4 ± 0.5 m");
        assert_eq!(written(&estimate::<Metres>(3.4217, 0.146), m).to_string(), "3.42 ± 0.15 m");
        assert_eq!(written(&estimate::<Metres>(12.34, 4.6), m).to_string(), "12 ± 5 m");
        assert_eq!(written(&estimate::<Seconds>(0.6171, 0.0004), m).to_string(), "0.62 ± 0.01 s");
        assert_eq!(
            written(&estimate::<StridesPerMinute>(97.26, 1.34), m).to_string(),
            "97.3 ± 1.3 strides/min"
        );
    }

    #[test]
    fn feet_are_feet_and_inches_below_thirty() {
        let ft = LengthUnits::Feet;
        // 12 ft is 3.6576 m exactly.
        assert_eq!(written(&estimate::<Metres>(3.6576, 0.1), ft).to_string(), "12 ft ± 4 in");
        assert_eq!(written(&estimate::<Metres>(3.5, 0.05), ft).to_string(), "11 ft 6 in ± 2 in");
        assert_eq!(written(&estimate::<Metres>(25.603, 0.2), ft).to_string(), "84.0 ± 0.7 ft");
        assert_eq!(written_bare(Metres::new(-0.1), ft), "\u{2212}4 in");
        assert_eq!(written_bare(Metres::new(-3.5), ft), "\u{2212}11 ft 6 in");
        // 1 mm is no inch, and no inch has no sign.
        assert_eq!(written_bare(Metres::new(-0.001), ft), "0 in");
        // 30 ft is 9.144 m exactly: the first length in decimal feet.
        assert_eq!(written_bare(Metres::new(9.144), ft), "30.0 ft");
        assert_eq!(written(&estimate::<Metres>(9.144, 0.2), ft).to_string(), "30.0 ± 0.7 ft");
        assert_eq!(written_bare(Metres::new(9.1186), ft), "29 ft 11 in");
    }

    #[test]
    fn a_unit_stands_apart_from_its_number_but_not_degrees() {
        let m = LengthUnits::Metres;
        assert_eq!(written(&estimate::<Degrees>(11.31, 0.52), m).to_string(), "11.3 ± 0.5°");
        assert_eq!(written(&estimate::<Percent>(5.04, 1.2), m).to_string(), "5.0 ± 1.2 %");
    }

    #[test]
    fn a_tape_is_read_in_feet_and_inches_at_any_length() {
        let of_feet = |feet: f64| written_taped(Metres::new(feet * METRES_PER_FOOT));
        assert_eq!([of_feet(57.5), of_feet(84.0), of_feet(0.5)], ["57 ft 6 in", "84 ft", "6 in"]);
        // Half an inch short of a foot is a foot, never 12 in.
        assert_eq!(of_feet(11.97), "12 ft");
    }

    #[test]
    fn counts_are_whole_or_half_and_percentages_short() {
        assert_eq!([8.0, 19.4, 0.5, 0.1].map(written_halves), ["8", "19½", "½", "0"]);
        assert_eq!([5.0, 4.17, -2.5].map(written_percent), ["5 %", "4.2 %", "\u{2212}2.5 %"]);
    }

    #[test]
    fn a_figure_that_rounds_to_three_stands_alone() {
        // Two figures only while the first is 1 or 2: 2.95 would be written 3.0.
        assert_eq!((decimals_for(2.94, 2), decimals_for(2.95, 2)), (1, 0));
        assert_eq!((decimals_for(1.0, 2), decimals_for(0.1, 2)), (1, 2));
        // What bounds nothing decides nothing.
        for nothing in [0.0, -1.0, f64::INFINITY, f64::NAN] {
            assert_eq!(decimals_for(nothing, 2), 2, "{nothing}");
        }
    }

    #[test]
    fn a_negative_zero_loses_its_sign() {
        assert_eq!(fixed(-0.001, 2), "0.00");
        assert_eq!(fixed(-0.11, 2), "\u{2212}0.11");
    }
}
