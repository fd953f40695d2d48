//! One click.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::quantity::FrameNumber;
use crate::scene::FramePoint;

/// How well a hoof can be placed, pixels, when nobody said.
pub const HOOF_SD_PX: f64 = 1.5;
/// How well a crisp point can be placed, pixels, when nobody said.
pub const POINT_SD_PX: f64 = 1.0;

/// A point a person placed on a frame, with its placing error.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Mark {
    /// The frame it was placed on; the first frame is 0.
    pub frame: FrameNumber,
    /// Pixels to the right of the upright picture's left edge.
    pub x: f64,
    /// Pixels down from its top edge.
    pub y: f64,
    /// Standard deviation of the placing in each direction, pixels. About 0.4 snapped to an
    /// edge, 1 for a crisp point, 1.5 for a hoof, 3 in blur.
    pub sd_px: f64,
    /// Keys of other versions, kept as they are.
    #[serde(flatten)]
    pub other: Map<String, Value>,
}

impl Mark {
    /// A mark at `point` of `frame`.
    pub fn new(frame: FrameNumber, point: FramePoint, sd_px: f64) -> Self {
        Self { frame, x: point.x, y: point.y, sd_px, other: Map::new() }
    }

    /// Where it was placed.
    pub fn point(&self) -> FramePoint {
        FramePoint::new(self.x, self.y)
    }
}
