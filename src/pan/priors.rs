//! What is believed of the camera before a point of the background is looked at.

use serde::{Deserialize, Serialize};

use crate::quantity::Given;
use crate::scene::PictureSize;

/// Weak beliefs that keep open what the tracks leave open.
///
/// The unit of shifts is fixed by them alone: pictures tell a shift of 5 cm before a fence at
/// 10 m from one of 10 cm before a fence at 20 m in nothing. So `nearness` puts the background
/// at a usual distance, and whoever uses the shifts must allow them one common unknown factor.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct MotionPriors {
    /// Natural logarithm of the focal length in pixels.
    pub log_focal: Given,
    /// Radial distortion (no unit).
    pub k1: Given,
    /// Standard deviation of the camera's place about where it began, each direction, metres.
    pub shift_sd_m: f64,
    /// One over a background point's distance, 1/m. Not its logarithm: that would pull a sky-line
    /// nearer, and the camera's turn with it.
    pub nearness: Given,
}

impl MotionPriors {
    /// Where nothing is known of the phone: a focal length of 0.8 of the longer side, give or take
    /// a third. Common lenses, no source.
    pub fn unknown_phone(picture: PictureSize) -> Self {
        let longer = f64::from(picture.width.max(picture.height));
        Self::of_lens(Given::new((0.8 * longer).ln(), 0.35), Given::new(0.0, 0.05))
    }

    /// With beliefs of the lens handed in, and a person who sways by about 20 cm before things that
    /// are about 17 m away or farther.
    pub fn of_lens(log_focal: Given, k1: Given) -> Self {
        Self { log_focal, k1, shift_sd_m: 0.2, nearness: Given::new(0.06, 0.06) }
    }
}

/// Weight of a belief: one over its variance, and where it was stated "exactly", as much as
/// numbers of this size bear.
pub(super) fn weight(given: Given) -> f64 {
    1.0 / given.sd.max(1e-6).powi(2)
}

/// Standard deviation of ln zoom against the first frame: a phone's zoom goes over a few steps.
pub(super) const ZOOM_SD: f64 = 0.3;

/// Standard deviation of a turn against the first frame, radians. It enters only the comparison
/// of models; no turn is drawn towards nil.
pub(super) const TURN_SD: f64 = 0.5;
