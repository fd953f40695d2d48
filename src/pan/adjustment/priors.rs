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
    /// One over a background point's distance, 1/m. Its standard deviation must be wide: hundreds
    /// of points that each believe a little would together be sure of their mean, and a common
    /// change of nearness looks like a turn and a zoom. Not its logarithm: that would pull a sky-line
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
        Self { log_focal, k1, shift_sd_m: 0.2, nearness: Given::new(0.06, 0.2) }
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

/// Cost of a point's nearness with its slope and (Gauss–Newton) curvature.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct NearnessCost {
    pub cost: f64,
    pub slope: f64,
    pub curvature: f64,
}

/// Nothing lies beyond infinity, give or take this, 1 per nominal metre.
const INFINITY_SD: f64 = 0.02;
/// Nothing that is filmed as background is nearer than 2.5 nominal metres …
const NEAREST: f64 = 0.4;
/// … give or take this.
const NEAREST_SD: f64 = 0.03;

impl NearnessCost {
    /// The wide belief, and a steep rise where no background is. Without it something that moves
    /// passes for something very near, and a camera on a stand for one that is held in the hand.
    pub fn of(nearness: f64, belief: Given) -> Self {
        let mut sum = Self::default();
        sum.add(nearness - belief.value, weight(belief));
        let (_, outside) = Self::outside(nearness);
        for (off, weight) in outside {
            sum.add(off, weight);
        }
        sum
    }

    /// Whether no background is there.
    pub fn absurd(nearness: f64) -> bool {
        Self::outside(nearness).0 > 2.0
    }

    /// How far outside in standard deviations, and that by parts.
    fn outside(nearness: f64) -> (f64, [(f64, f64); 2]) {
        let (beyond, before) = (nearness.min(0.0), (nearness - NEAREST).max(0.0));
        let weight = |off: f64, sd: f64| if off == 0.0 { 0.0 } else { sd.powi(-2) };
        let parts = [(beyond, weight(beyond, INFINITY_SD)), (before, weight(before, NEAREST_SD))];
        (before / NEAREST_SD - beyond / INFINITY_SD, parts)
    }

    fn add(&mut self, off: f64, weight: f64) {
        self.cost += 0.5 * off * off * weight;
        self.slope += off * weight;
        self.curvature += weight;
    }
}
