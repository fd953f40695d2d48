//! When a frame happened: frame numbers and exact times.
//!
//! A container counts time in integer ticks of its own clock (90,000 a second, 600 a second, ...). Turning them
//! into seconds too early loses the exactness that stride durations rest on, so a time stays ticks and clock
//! until somebody asks for seconds, and this file holds the only conversions between the two.
//! Invariant: comparing and subtracting times is exact, also between different clocks. Nothing here rounds twice.
//! Not handled: wall-clock dates, and clocks whose period does not fit two `u32`.

use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The place of a frame in presentation order, counted from 0.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(transparent)]
pub struct FrameNumber(pub u32);

impl fmt::Display for FrameNumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// A container's clock: one tick lasts `num / den` seconds. Both are above 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(try_from = "RawTimeBase")]
pub struct TimeBase {
    num: u32,
    den: u32,
}

/// A clock as written in a file, before it is checked.
#[derive(Deserialize, JsonSchema)]
struct RawTimeBase {
    #[schemars(range(min = 1))]
    num: u32,
    #[schemars(range(min = 1))]
    den: u32,
}

/// A clock that does not tick.
#[derive(Debug, thiserror::Error)]
#[error("cannot use {num}/{den} s as the length of a tick: both numbers must be above 0")]
pub struct TimeBaseError {
    /// Seconds in `den` ticks, as given.
    pub num: u32,
    /// Ticks in `num` seconds, as given.
    pub den: u32,
}

impl TryFrom<RawTimeBase> for TimeBase {
    type Error = TimeBaseError;

    fn try_from(raw: RawTimeBase) -> Result<TimeBase, TimeBaseError> {
        TimeBase::new(raw.num, raw.den)
    }
}

impl TimeBase {
    /// A clock whose tick lasts `num / den` seconds.
    pub fn new(num: u32, den: u32) -> Result<TimeBase, TimeBaseError> {
        if num == 0 || den == 0 {
            return Err(TimeBaseError { num, den });
        }
        Ok(TimeBase { num, den })
    }

    /// Seconds in [`den`](Self::den) ticks.
    pub fn num(self) -> u32 {
        self.num
    }

    /// Ticks in [`num`](Self::num) seconds.
    pub fn den(self) -> u32 {
        self.den
    }

    /// The length of `ticks` in seconds.
    pub fn seconds(self, ticks: i64) -> f64 {
        // One rounding: the product is exact in i128, and the division is the only inexact step that matters.
        (i128::from(ticks) * i128::from(self.num)) as f64 / f64::from(self.den)
    }

    /// How many times a second something happens that happens `count` times in `ticks`; `None` if no time passes.
    pub fn rate_hz(self, count: u64, ticks: i128) -> Option<f64> {
        let passed = ticks.checked_mul(i128::from(self.num)).filter(|passed| *passed > 0)?;
        // Both products are whole numbers, so 240 events in 8 s at 1/90000 s give 30, not 29.999999999999996.
        Some((i128::from(count) * i128::from(self.den)) as f64 / passed as f64)
    }

    /// The number of whole ticks nearest to `seconds`, held inside what an `i64` can count.
    pub fn ticks_near(self, seconds: f64) -> i64 {
        (seconds * f64::from(self.den) / f64::from(self.num)).round() as i64
    }
}

/// The moment a frame is shown: whole ticks of a clock.
///
/// Two times are equal when they are the same moment, whatever their clocks.
#[derive(Clone, Copy, Debug, Serialize, Deserialize, JsonSchema)]
pub struct FrameTime {
    /// Ticks since the clock's zero.
    pub ticks: i64,
    /// The clock.
    #[serde(flatten)]
    pub base: TimeBase,
}

impl FrameTime {
    /// The moment `ticks` after the clock's zero.
    pub fn new(ticks: i64, base: TimeBase) -> FrameTime {
        FrameTime { ticks, base }
    }

    /// Seconds since the clock's zero, rounded once.
    pub fn seconds(self) -> f64 {
        self.base.seconds(self.ticks)
    }

    /// Seconds from `earlier` to `self`, negative when `self` comes first; rounded once, at the end.
    pub fn seconds_since(self, earlier: FrameTime) -> f64 {
        if self.base == earlier.base {
            let ticks = i128::from(self.ticks) - i128::from(earlier.ticks);
            return (ticks * i128::from(self.base.num)) as f64 / f64::from(self.base.den);
        }
        let (mine, theirs, den) = self.over_common_den(earlier);
        (mine - theirs) as f64 / den as f64
    }

    /// Ticks from `earlier` to `self`, where both are on the same clock.
    pub fn ticks_since(self, earlier: FrameTime) -> Option<i64> {
        if self.base != earlier.base {
            return None;
        }
        self.ticks.checked_sub(earlier.ticks)
    }

    /// Both times over one denominator. No overflow: 64 + 32 + 32 bits at most, one of them a sign.
    fn over_common_den(self, other: FrameTime) -> (i128, i128, u64) {
        let scaled = |time: FrameTime, by: u32| {
            i128::from(time.ticks) * i128::from(u64::from(time.base.num) * u64::from(by))
        };
        let den = u64::from(self.base.den) * u64::from(other.base.den);
        (scaled(self, other.base.den), scaled(other, self.base.den), den)
    }
}

impl PartialEq for FrameTime {
    fn eq(&self, other: &FrameTime) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for FrameTime {}

impl PartialOrd for FrameTime {
    fn partial_cmp(&self, other: &FrameTime) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for FrameTime {
    fn cmp(&self, other: &FrameTime) -> Ordering {
        let (mine, theirs, _) = self.over_common_den(*other);
        mine.cmp(&theirs)
    }
}

impl Hash for FrameTime {
    /// Equal moments hash alike: the time is brought to lowest terms first.
    fn hash<H: Hasher>(&self, state: &mut H) {
        let num = i128::from(self.ticks) * i128::from(self.base.num);
        let den = i128::from(self.base.den);
        let divisor = greatest_common_divisor(num.unsigned_abs(), den.unsigned_abs()) as i128;
        (num / divisor, den / divisor).hash(state);
    }
}

fn greatest_common_divisor(a: u128, b: u128) -> u128 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a.max(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn time(ticks: i64, num: u32, den: u32) -> FrameTime {
        FrameTime::new(ticks, TimeBase::new(num, den).expect("a clock that ticks"))
    }

    #[test]
    fn the_same_moment_on_two_clocks_is_equal_and_hashes_alike() {
        use std::hash::{BuildHasher, RandomState};
        let (phone, broadcast) = (time(20, 1, 600), time(3000, 1, 90_000));
        let state = RandomState::new();
        assert_eq!(phone, broadcast);
        assert_eq!(state.hash_one(phone), state.hash_one(broadcast));
        assert!(time(1001, 1, 30_000) > time(1, 1, 30));
    }

    #[test]
    fn a_clock_tells_its_tick() {
        let base = TimeBase::new(1001, 30_000).unwrap();
        assert_eq!((base.num(), base.den()), (1001, 30_000));
    }

    #[test]
    fn differences_between_two_clocks_are_those_of_the_moments() {
        // 7 ticks of 1/30 s are 0.2333… s, 50 of 3/600 s are 0.25 s.
        let (first, second) = (time(7, 1, 30), time(50, 3, 600));
        assert!((second.seconds_since(first) - 1.0 / 60.0).abs() < 1e-15);
        assert!((first.seconds_since(second) + 1.0 / 60.0).abs() < 1e-15);
        assert_eq!(second.ticks_since(first), None);
        assert_ne!(first, second);
        let (early, late) = (time(10, 1001, 30_000), time(40, 1001, 30_000));
        assert_eq!(late.ticks_since(early), Some(30));
        assert_eq!(late.seconds_since(early), 1.001);
        assert_eq!(early.seconds_since(late), -1.001);
    }

    #[test]
    fn other_moments_hash_otherwise() {
        use std::hash::{BuildHasher, RandomState};
        let state = RandomState::new();
        let hash = |time: FrameTime| state.hash_one(time);
        // 0.5 s on three clocks, and their neighbours.
        let half = hash(time(300, 1, 600));
        assert!([time(45_000, 1, 90_000), time(5, 3, 30)].map(hash).iter().all(|h| *h == half));
        for other in [time(301, 1, 600), time(45_000, 1, 90_001), time(5, 2, 30), time(1, 1, 1)] {
            assert_ne!(hash(other), half, "{other:?}");
        }
        // 1.5 s is three halves: the denominator is that of 0.5 s, the numerator is not.
        assert_ne!(hash(time(900, 1, 600)), half);
    }

    #[test]
    fn the_greatest_common_divisor_is_that_of_the_textbook() {
        // Euclid's example of most handbooks: 1071 and 462 have 21 (from memory).
        assert_eq!(greatest_common_divisor(1071, 462), 21);
        assert_eq!(greatest_common_divisor(0, 5), 5);
        assert_eq!(greatest_common_divisor(0, 0), 1);
    }

    #[test]
    fn differences_are_exact_at_the_far_end_of_a_long_clock() {
        let late = time(i64::MAX - 1, 1, 90_000);
        let later = time(i64::MAX, 1, 90_000);
        assert_eq!(later.ticks_since(late), Some(1));
        assert_eq!(later.seconds_since(late), 1.0 / 90_000.0);
        assert_eq!(
            time(i64::MIN, u32::MAX, 1).cmp(&time(i64::MAX, u32::MAX, u32::MAX)),
            Ordering::Less
        );
    }

    #[test]
    fn ticks_go_to_seconds_and_back() {
        let base = TimeBase::new(1001, 30_000).expect("a clock that ticks");
        for ticks in [-7_i64, 0, 1, 389, 1_000_003] {
            assert_eq!(base.ticks_near(base.seconds(ticks)), ticks);
        }
        assert_eq!(time(390, 1001, 30_000).seconds(), 13.013);
        assert_eq!(
            TimeBase::new(1, 90_000).ok().and_then(|base| base.rate_hz(62, 186_000)),
            Some(30.0)
        );
        assert_eq!(base.rate_hz(5, 0), None);
    }

    #[test]
    fn a_clock_that_stands_still_is_refused() {
        let message = TimeBase::new(1, 0).expect_err("0 is no denominator").to_string();
        assert_eq!(
            message,
            "cannot use 1/0 s as the length of a tick: both numbers must be above 0"
        );
    }
}
