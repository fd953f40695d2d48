//! A person's walked paces. ("Pace" alone is the horse's speed.)

use schemars::JsonSchema;
use serde::Serialize;

use super::distance::DistanceRange;
use crate::quantity::{METRES_PER_FOOT, Metres, Unit};

/// One walked pace, 3 ft: four to a 12-ft stride (R2, R6, R11). Exact by the convention; a distance
/// that was walked is good to about 0.10 m at best.
pub const WALKED_PACE_M: f64 = 3.0 * METRES_PER_FOOT;

/// How many walked paces a length is.
pub fn walked_paces(length: Metres) -> f64 {
    length.get() / WALKED_PACE_M
}

/// A distance in walked paces of 3 ft.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WalkedRange {
    /// Low end.
    pub low: f64,
    /// Where to start.
    pub aim: f64,
    /// High end.
    pub high: f64,
}

impl From<DistanceRange> for WalkedRange {
    fn from(length: DistanceRange) -> Self {
        Self {
            low: walked_paces(length.low_m),
            aim: walked_paces(length.aim_m),
            high: walked_paces(length.high_m),
        }
    }
}
