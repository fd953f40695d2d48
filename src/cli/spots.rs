//! Numbers and points as they are typed: `512.3,700.4`.

use std::str::FromStr;

use crate::quantity::METRES_PER_FOOT;
use crate::scene::PictureSize;

/// As for clips that are opened.
const MOST_CAPTURE_RATE: f64 = 100_000.0;

/// `X,Y`: a point of the picture, or a shift, in pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

/// `X,Y,W,H`: a part of the picture, in pixels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Crop {
    /// Left edge.
    pub x: u32,
    /// Upper edge.
    pub y: u32,
    /// Width.
    pub width: u32,
    /// Height.
    pub height: u32,
}

impl FromStr for Spot {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let [x, y] = numbers(text, "two numbers as X,Y needed")?;
        Ok(Self { x, y })
    }
}

impl FromStr for Crop {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let needed = "four whole numbers as X,Y,W,H needed";
        let parts: Result<Vec<u32>, _> = text.split(',').map(|part| part.trim().parse()).collect();
        match parts.map_err(|_| needed)?.as_slice() {
            [_, _, 0, _] | [_, _, _, 0] => Err("a width and height above 0 needed".to_owned()),
            [x, y, width, height] => Ok(Self { x: *x, y: *y, width: *width, height: *height }),
            _ => Err(needed.to_owned()),
        }
    }
}

/// `112`, or `112-126`: one frame, or those of a stretch, both ends included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FrameRange {
    /// The first.
    pub first: u32,
    /// The last, where a stretch was typed.
    pub last: Option<u32>,
}

impl FromStr for FrameRange {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let needed = || "a whole number, 0 or more, needed, or two such as 112-126".to_owned();
        let frame = |part: &str| part.parse::<u32>().map_err(|_| needed());
        let Some((first, last)) = text.split_once(['-', '\u{2013}']) else {
            return Ok(Self { first: frame(text)?, last: None });
        };
        let (first, last) = (frame(first)?, frame(last)?);
        if last < first {
            return Err(format!("the earlier frame first, {last}-{first}, needed"));
        }
        Ok(Self { first, last: Some(last) })
    }
}

fn numbers<const N: usize>(text: &str, needed: &str) -> Result<[f64; N], String> {
    let parts: Result<Vec<f64>, String> = text.split(',').map(|part| number(part.trim())).collect();
    parts.ok().and_then(|parts| parts.try_into().ok()).ok_or_else(|| needed.to_owned())
}

/// A whole number, 0 or more.
pub(super) fn whole<T: FromStr>(text: &str) -> Result<T, String> {
    text.parse().map_err(|_| "a whole number, 0 or more, needed".to_owned())
}

/// How many times slower a reel plays.
pub(super) fn reel_slow(text: &str) -> Result<u32, String> {
    let times = text.parse().ok().filter(|times| (1..=20).contains(times));
    times.ok_or_else(|| "a whole number from 1 to 20 needed".to_owned())
}

/// Frames a second at which a camera can have recorded.
pub(super) fn capture_rate(text: &str) -> Result<f64, String> {
    let sane = |rate: &f64| *rate > 0.0 && *rate <= MOST_CAPTURE_RATE;
    number(text)
        .ok()
        .filter(sane)
        .ok_or_else(|| format!("a number above 0 and up to {MOST_CAPTURE_RATE} needed"))
}

/// A length that says which strides are level, metres: no stride is longer than ten.
pub(super) fn band_length(text: &str) -> Result<f64, String> {
    let sane = |metres: &f64| *metres <= 10.0;
    let needed = "metres above 0 and up to 10 needed, or such as 8in";
    length(text).ok().filter(sane).ok_or_else(|| needed.to_owned())
}

/// How many times slower than life a clip plays: the bounds are those of the marks file's rules.
pub(super) fn slowed(text: &str) -> Result<f64, String> {
    let sane = |times: &f64| (0.01..=1000.0).contains(times);
    number(text).ok().filter(sane).ok_or_else(|| "a number from 0.01 to 1000 needed".to_owned())
}

/// With the minus that keyboards have, in place of the true one that this program prints, so that
/// what was printed can be typed.
fn with_typed_minus(text: &str) -> String {
    text.replacen('\u{2212}', "-", 1)
}

/// A whole number of either sign.
pub(super) fn signed(text: &str) -> Result<i32, String> {
    with_typed_minus(text).parse().map_err(|_| "a whole number needed".to_owned())
}

/// A finite number.
pub(super) fn number(text: &str) -> Result<f64, String> {
    match with_typed_minus(text).parse::<f64>() {
        Ok(value) if value.is_finite() => Ok(value),
        _ => Err("a number needed".to_owned()),
    }
}

/// Units that a length may be typed in, and how long each is, metres.
const LENGTH_UNITS: [(&str, f64); 7] = [
    ("cm", 0.01),
    ("m", 1.0),
    ("ft", METRES_PER_FOOT),
    ("in", METRES_PER_FOOT / 12.0),
    ("\u{2032}", METRES_PER_FOOT),
    ("\u{2033}", METRES_PER_FOOT / 12.0),
    ("'", METRES_PER_FOOT),
];

/// A length above 0, metres: `1.83`, `1.83m`, `6ft`, `5ft6in`.
pub(super) fn length(text: &str) -> Result<f64, String> {
    let needed = || "a length above 0 needed: metres, or such as 6ft or 5ft6in".to_owned();
    let lower = text.trim().to_lowercase();
    let mut rest: &str = &lower;
    let (mut metres, mut parts) = (0.0, 0);
    while !rest.is_empty() {
        let digits = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
        let value: f64 = rest[..digits].parse().map_err(|_| needed())?;
        rest = rest[digits..].trim_start();
        let unit = LENGTH_UNITS.iter().find(|(unit, _)| rest.starts_with(unit));
        metres += value * unit.map_or(1.0, |(_, metres)| *metres);
        rest = rest[unit.map_or(0, |(unit, _)| unit.len())..].trim_start();
        parts += 1;
        // Only a number by itself is taken for metres.
        if unit.is_none() && (parts > 1 || !rest.is_empty()) {
            return Err(needed());
        }
    }
    Some(metres).filter(|metres| *metres > 0.0).ok_or_else(needed)
}

/// A length, 0 or more, metres.
pub(super) fn length_or_none(text: &str) -> Result<f64, String> {
    if number(text) == Ok(0.0) { Ok(0.0) } else { length(text) }
}

/// A finite number above 0.
pub(super) fn positive(text: &str) -> Result<f64, String> {
    number(text).ok().filter(|value| *value > 0.0).ok_or_else(|| "a number above 0 needed".into())
}

/// A finite number, 0 or more.
pub(super) fn not_negative(text: &str) -> Result<f64, String> {
    number(text).ok().filter(|value| *value >= 0.0).ok_or_else(|| "0 or more needed".into())
}

/// `LEAST,MOST`, metres.
pub(super) fn range(text: &str) -> Result<(f64, f64), String> {
    let [low, high] = numbers(text, "two numbers as LEAST,MOST needed")?;
    Ok((low, high))
}

/// `1920x1080`, pixels.
pub(super) fn picture_size(text: &str) -> Result<PictureSize, String> {
    let sides = text.split_once(['x', '×']);
    let side = |text: &str| text.trim().parse::<u32>().ok().filter(|side| *side > 0);
    let size = sides.and_then(|(width, height)| {
        Some(PictureSize { width: side(width)?, height: side(height)? })
    });
    size.ok_or_else(|| "width and height in pixels as 1920x1080 needed".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_metres_or_say_what_they_are() {
        assert_eq!(length("1.83"), Ok(1.83));
        assert_eq!((length("183cm"), length("1.83 m")), (Ok(1.83), Ok(1.83)));
        // 12 ft are 3.6576 m exactly.
        assert!((length("12ft").unwrap() - 3.6576).abs() < 1e-12);
        assert!((length("5ft6in").unwrap() - 1.6764).abs() < 1e-12);
        assert!((length("5 ft 6 in").unwrap() - 1.6764).abs() < 1e-12);
        for wrong in ["", "0", "-1", "ft", "5ft6", "3x", "1 2", "nan", "6ftm"] {
            assert!(length(wrong).is_err(), "{wrong}");
        }
        assert_eq!((length_or_none("0"), length_or_none("1m")), (Ok(0.0), Ok(1.0)));
    }

    #[test]
    fn points_and_parts_are_read() {
        assert_eq!("\u{2212}512.3,\u{2212}7".parse(), Ok(Spot { x: -512.3, y: -7.0 }));
        assert_eq!((signed("\u{2212}1"), signed("-2"), signed("3")), (Ok(-1), Ok(-2), Ok(3)));
        assert!(signed("1.5").is_err() && signed("\u{2212}\u{2212}1").is_err());
        assert_eq!("512.3,-7".parse(), Ok(Spot { x: 512.3, y: -7.0 }));
        assert_eq!("5, 6,70,80".parse(), Ok(Crop { x: 5, y: 6, width: 70, height: 80 }));
        for wrong in ["", "5", "5;6", "5,6,7", "nan,1", "5,inf"] {
            assert!(wrong.parse::<Spot>().is_err(), "{wrong}");
        }
        for wrong in ["1,2,3", "1,2,0,4", "-1,2,3,4", "1.5,2,3,4"] {
            assert!(wrong.parse::<Crop>().is_err(), "{wrong}");
        }
        assert_eq!("7".parse(), Ok(FrameRange { first: 7, last: None }));
        assert_eq!("7-9".parse(), Ok(FrameRange { first: 7, last: Some(9) }));
        for wrong in ["-1", "9-7", "7-", "7-8-9", "7..9"] {
            assert!(wrong.parse::<FrameRange>().is_err(), "{wrong}");
        }
        assert_eq!(whole("7"), Ok(7_u32));
        for wrong in ["-1", "3.5", "", "4294967296"] {
            assert!(whole::<u32>(wrong).is_err(), "{wrong}");
        }
        for wrong in ["0", "-240", "nan", "inf", "1e9", "fast"] {
            assert!(capture_rate(wrong).is_err() && slowed(wrong).is_err(), "{wrong}");
        }
        assert_eq!((capture_rate("240"), slowed("8")), (Ok(240.0), Ok(8.0)));
        assert_eq!(range("\u{2212}2,15"), Ok((-2.0, 15.0)));
        assert!(range("2").is_err() && range("a,b").is_err());
        assert_eq!(picture_size("1920x1080"), Ok(PictureSize { width: 1920, height: 1080 }));
        assert!(["1920", "0x1080", "ax1"].iter().all(|wrong| picture_size(wrong).is_err()));
        assert_eq!(positive("0"), Err("a number above 0 needed".into()));
        assert_eq!(not_negative("-0.1"), Err("0 or more needed".into()));
    }
}
