//! Arithmetic of courses. Times are exact; how a time is rounded is the rulebook's business.

use crate::quantity::{Metres, MetresPerSecond, Seconds, Unit};

/// Longest course for each obstacle, metres (R25, R26).
const LONGEST_PER_OBSTACLE_M: f64 = 60.0;

/// The longest course over so many obstacles: 60 m each (R25, R26).
pub fn longest_course(obstacles: u32) -> Metres {
    Metres::new(f64::from(obstacles) * LONGEST_PER_OBSTACLE_M)
}

/// The time a course takes at `speed`.
///
/// Worked out in one division: a page that rounded the minutes first (R38) is a second off.
pub fn time_allowed(length: Metres, speed: MetresPerSecond) -> Seconds {
    Seconds::new(length.get() / speed.get())
}

/// The way covered at `speed` in `time`.
pub fn way_at(speed: MetresPerSecond, time: Seconds) -> Metres {
    Metres::new(speed.get() * time.get())
}

/// When a round is over: twice the time allowed (R29, read for eventing; FEI Jumping Rules Art. 228
/// from memory).
pub fn time_limit(allowed: Seconds) -> Seconds {
    Seconds::new(2.0 * allowed.get())
}
