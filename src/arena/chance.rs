//! Chance by seed: one independent stream for each purpose, so that a change in one part of a
//! scene (say, more poles) leaves the draws of the others alone.

use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, StandardNormal};

use crate::quantity::seeded;

/// What the draws are for.
#[derive(Clone, Copy, Debug)]
pub(super) enum Purpose {
    Laying = 1,
    Hooves = 2,
    Hand = 3,
    Surroundings = 4,
    Clicks = 5,
    Ground = 6,
}

/// The stream of `seed` for `purpose`.
pub(super) fn stream(seed: u64, purpose: Purpose) -> ChaCha8Rng {
    let mut random = seeded(seed);
    random.set_stream(purpose as u64);
    random
}

/// A draw from the normal distribution with mean 0 and standard deviation `sd`.
pub(super) fn normal(random: &mut ChaCha8Rng, sd: f64) -> f64 {
    let draw: f64 = StandardNormal.sample(random);
    sd * draw
}

/// A draw evenly between `low` and `high`.
pub(super) fn between(random: &mut ChaCha8Rng, low: f64, high: f64) -> f64 {
    use rand::Rng;
    low + (high - low) * (f64::from(random.next_u32()) / f64::from(u32::MAX))
}
