//! What a measured number is: a unit, a value, its uncertainty, and how it is written down.
//!
//! Invariant: no file, no clock, no printing; the same seed gives the same draws.

mod draws;
mod estimate;
mod given;
mod in_sentences;
mod length_units;
mod median;
mod probability;
#[cfg(test)]
pub(crate) mod sample;
mod thinned_draws;
mod tight;
pub mod time;
mod units;
mod written;

pub use draws::{DrawError, GaussianDraws, seeded};
pub use estimate::{Estimate, Percentile95};
pub use given::Given;
pub use in_sentences::{
    as_sentence, capital, unbroken, whole_counts, whole_numbers, whole_plus_minus,
};
pub use length_units::{LengthUnits, METRES_PER_FOOT};
pub use median::median;
pub use probability::{WrittenProbability, written_probability};
pub use thinned_draws::ThinnedDraws;
pub use tight::{
    in_primes, written_half, written_half_of, written_held, written_laid, written_moment,
    written_pace, written_place, written_plain, written_setting, written_speed, written_tick,
    written_tight, written_time,
};
pub use time::{FrameNumber, FrameTime};
pub use units::{
    Degrees, Metres, MetresPerSecond, Percent, Pixels, Seconds, StridesPerMinute, Unit,
};
pub use written::{
    Written, written, written_bare, written_decimals, written_halves, written_percent,
    written_taped,
};
