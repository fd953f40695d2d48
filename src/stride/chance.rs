//! What a draw leaves to chance beside the survey's posterior.

use rand::{Rng, RngExt};
use rand_distr::{Distribution, StandardNormal};

/// How far a fence whose base was marked at one end only may stand off square to the track, sd in
/// radians: riders are asked to come square, and come so within some degrees. Common practice,
/// no source.
const OFF_SQUARE_RAD: f64 = 0.10;

/// The chances of one draw.
#[derive(Clone, Debug)]
pub(super) struct Chance {
    /// How far back in its frame gap each contact happened, 0 to 1, in the approach's order.
    pub lateness: Vec<f64>,
    /// How far a base known at one end only stands off square to the track, radians.
    pub off_square: f64,
}

impl Chance {
    /// Draws the chances of `count` draws for `footfalls` footfalls.
    pub fn draws(count: usize, footfalls: usize, random: &mut impl Rng) -> Vec<Self> {
        (0..count)
            .map(|_| {
                let lateness = (0..footfalls).map(|_| random.random::<f64>()).collect();
                let normal: f64 = StandardNormal.sample(random);
                Self { lateness, off_square: OFF_SQUARE_RAD * normal }
            })
            .collect()
    }
}
