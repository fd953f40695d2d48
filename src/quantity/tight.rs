//! Numbers where room is short: captions, charts, table cells. Same rounding as [`written`].

use super::estimate::Estimate;
use super::length_units::{LengthUnits, METRES_PER_FOOT};
use super::units::{Metres, MetresPerSecond, Seconds, Unit};
use super::written::{Written, decimals_for, fixed, written, written_bare, written_decimals};

/// A length as [`written`], but feet and inches as 11′6″.
pub fn written_tight(length: &Estimate<Metres>, units: LengthUnits) -> Written {
    let plain = written(length, units);
    if !plain.unit.is_empty() {
        return plain;
    }
    Written {
        value: in_primes(&plain.value),
        plus_minus: in_primes(&plain.plus_minus),
        unit: String::new(),
    }
}

/// "11 ft 6 in" as 11′6″, "12 ft" as 12′0″.
pub fn in_primes(feet_and_inches: &str) -> String {
    let whole = feet_and_inches.strip_suffix(" ft").map(|feet| format!("{feet} ft 0 in"));
    let text = whole.as_deref().unwrap_or(feet_and_inches);
    text.replace(" ft ", "\u{2032}").replace(" in", "\u{2033}")
}

/// A speed in metres a minute, the unit of course rules, whole metres.
pub fn written_pace(speed: &Estimate<MetresPerSecond>) -> Written {
    Written {
        value: fixed(speed.value.metres_per_minute(), 0),
        plus_minus: fixed((speed.plus_minus() * 60.0).max(1.0), 0),
        unit: "m/min".to_owned(),
    }
}

/// A speed as riders read it beside lengths in `units`: metres a minute, or feet a second.
pub fn written_speed(speed: &Estimate<MetresPerSecond>, units: LengthUnits) -> Written {
    match units {
        LengthUnits::Metres => written_pace(speed),
        LengthUnits::Feet => {
            let half = speed.plus_minus() / METRES_PER_FOOT;
            let decimals = decimals_for(half, 1);
            let least = 10f64.powi(-(decimals as i32));
            Written {
                value: fixed(speed.value.get() / METRES_PER_FOOT, decimals),
                plus_minus: fixed(half.max(least), decimals),
                unit: "ft/s".to_owned(),
            }
        }
    }
}

/// A moment or a time without ±: hundredths of a second.
pub fn written_time(time: Seconds) -> String {
    format!("{} s", fixed(time.get(), 2))
}

/// When a frame is, or how long a clip: thousandths of a second, which tell frames apart.
pub fn written_moment(time: Seconds) -> String {
    format!("{} s", fixed(time.get(), 3))
}

/// A number that was not measured (a rate, a ratio of a clip), to so many decimals.
pub fn written_plain(number: f64, decimals: usize) -> String {
    fixed(number, decimals)
}

/// A round number on an axis, with the decimals its step needs.
pub fn written_tick(value: f64, step: f64) -> String {
    let decimals = (0..3).find(|d| {
        let scaled = step * 10f64.powi(*d);
        (scaled - scaled.round()).abs() < 1e-6
    });
    fixed(value, decimals.unwrap_or(3) as usize)
}

/// A set length (a tolerance, a spacing) in the unit of `units` without its symbol.
pub fn written_setting(length: Metres, units: LengthUnits) -> String {
    match units {
        LengthUnits::Metres => format!("{} m", fixed(length.get(), 2)),
        LengthUnits::Feet => {
            let inches = (length.get() / METRES_PER_FOOT * 12.0).round();
            if inches < 24.0 {
                format!("{} in", fixed(inches, 0))
            } else {
                format!("{} ft", fixed(inches / 12.0, 1))
            }
        }
    }
}

/// A ± on its own, as in "± 6 cm" or "± 2 in": whole centimetres under a metre, never none.
pub fn written_half(half: Metres, units: LengthUnits) -> String {
    match units {
        LengthUnits::Metres if half.get() < 0.995 => {
            format!("± {} cm", fixed((half.get() * 100.0).max(1.0), 0))
        }
        LengthUnits::Metres => format!("± {} m", fixed(half.get(), 1)),
        LengthUnits::Feet => {
            format!(
                "± {}",
                written_bare(Metres::new(half.get().max(METRES_PER_FOOT / 12.0)), units)
            )
        }
    }
}

/// A place to stand at: half metres, or whole feet; nobody stands finer.
pub fn written_place(length: Metres, units: LengthUnits) -> String {
    match units {
        LengthUnits::Metres => {
            let halves = (length.get() * 2.0).round();
            format!("{} m", fixed(halves / 2.0, usize::from(halves % 2.0 != 0.0)))
        }
        LengthUnits::Feet => format!("{} ft", fixed(length.get() / METRES_PER_FOOT, 0)),
    }
}

/// A length as it was typed or laid: the decimals it has, two at most, or feet and inches.
pub fn written_laid(length: Metres, units: LengthUnits) -> String {
    let centimetres = (length.get() * 100.0).round() / 100.0;
    match units {
        LengthUnits::Metres => format!("{} m", written_tick(centimetres, centimetres)),
        LengthUnits::Feet => written_bare(length, units),
    }
}

/// A height to hold something at: tenths of a metre, or feet and inches.
pub fn written_held(height: Metres, units: LengthUnits) -> String {
    match units {
        LengthUnits::Metres => format!("{} m", fixed(height.get(), 1)),
        LengthUnits::Feet => written_bare(height, units),
    }
}

/// The half-width of an estimate of any unit but a length, with its unit: "± 1.3 strides/min".
pub fn written_half_of<U: Unit>(half: U) -> String {
    let decimals = written_decimals::<U>(half.get());
    let least = 10f64.powi(-(decimals as i32));
    format!("± {} {}", fixed(half.get().max(least), decimals), U::SYMBOL)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::StridesPerMinute;
    use crate::quantity::sample::estimate;

    #[test]
    fn a_setting_turns_from_inches_to_feet_at_two_feet() {
        let feet = |metres: f64| written_setting(Metres::new(metres), LengthUnits::Feet);
        assert_eq!([feet(0.3), feet(0.5842), feet(0.6096)], ["12 in", "23 in", "2.0 ft"]);
    }

    #[test]
    fn what_was_laid_keeps_its_own_decimals() {
        let laid = |metres: f64, units| written_laid(Metres::new(metres), units);
        let m = LengthUnits::Metres;
        assert_eq!(
            [3.0, 3.66, -2.5].map(|metres| laid(metres, m)),
            ["3 m", "3.66 m", "\u{2212}2.5 m"]
        );
        // 12 ft are 3.6576 m exactly.
        assert_eq!(laid(3.6576, LengthUnits::Feet), "12 ft");
    }

    #[test]
    fn feet_shrink_to_primes_and_metres_stay() {
        let length = estimate::<Metres>(3.5, 0.05);
        let tight = written_tight(&length, LengthUnits::Feet);
        assert_eq!((tight.value.as_str(), tight.plus_minus.as_str()), ("11′6″", "2″"));
        let even = written_tight(&estimate::<Metres>(3.6576, 0.05), LengthUnits::Feet);
        assert_eq!(even.value, "12′0″");
        assert_eq!(
            written_tight(&length, LengthUnits::Metres),
            written(&length, LengthUnits::Metres)
        );
    }

    #[test]
    fn a_half_width_alone_is_in_centimetres_or_inches() {
        let half = |metres: f64, units| written_half(Metres::new(metres), units);
        let m = LengthUnits::Metres;
        assert_eq!(
            [half(0.0642, m), half(0.002, m), half(0.994, m)],
            ["± 6 cm", "± 1 cm", "± 99 cm"]
        );
        assert_eq!([half(0.996, m), half(1.26, m)], ["± 1.0 m", "± 1.3 m"]);
        // 5.08 cm is 2 in exactly; under one inch is one.
        let ft = LengthUnits::Feet;
        assert_eq!([half(0.0508, ft), half(0.01, ft)], ["± 2 in", "± 1 in"]);
        assert_eq!(written_half_of(StridesPerMinute::new(1.34)), "± 1.3 strides/min");
    }

    #[test]
    fn a_place_to_stand_is_told_to_half_a_metre() {
        let place = |metres: f64, units| written_place(Metres::new(metres), units);
        let (m, ft) = (LengthUnits::Metres, LengthUnits::Feet);
        assert_eq!(
            [place(12.2, m), place(12.3, m), place(-0.5, m)],
            ["12 m", "12.5 m", "\u{2212}0.5 m"]
        );
        // 12.192 m is 40 ft exactly.
        assert_eq!(place(12.192, ft), "40 ft");
        let held = |units| written_held(Metres::new(1.6), units);
        assert_eq!([held(m), held(ft)], ["1.6 m", "5 ft 3 in"]);
    }

    #[test]
    fn pace_is_in_whole_metres_a_minute() {
        assert_eq!(written_pace(&estimate(5.83, 0.21)).to_string(), "350 ± 13 m/min");
        assert_eq!(written_pace(&estimate(5.83, 0.004)).to_string(), "350 ± 1 m/min");
    }

    #[test]
    fn speed_follows_the_unit_of_lengths() {
        // 6.096 m/s is 20 ft/s exactly.
        let speed = estimate(6.096, 0.2);
        assert_eq!(written_speed(&speed, LengthUnits::Feet).to_string(), "20.0 ± 0.7 ft/s");
        assert_eq!(written_speed(&speed, LengthUnits::Metres).to_string(), "366 ± 12 m/min");
    }

    #[test]
    fn ticks_carry_the_decimals_of_their_step() {
        assert_eq!(written_tick(2.0, 0.5), "2.0");
        assert_eq!(written_tick(350.0, 25.0), "350");
        assert_eq!(written_time(Seconds::new(3.5)), "3.50 s");
        assert_eq!(written_moment(Seconds::new(-0.0334)), "\u{2212}0.033 s");
        assert_eq!(written_plain(59.9401, 3), "59.940");
        assert_eq!(written_setting(Metres::new(0.3), LengthUnits::Feet), "12 in");
    }
}
