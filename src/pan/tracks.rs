//! Points of the still background, each seen in many frames: what the tracker hands to the
//! adjustment of the camera's motion.

use serde::{Deserialize, Serialize};

use crate::quantity::FrameNumber;
use crate::scene::{FramePoint, PictureSize};

/// Everything that was tracked in a clip.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Tracks {
    /// The upright picture.
    pub picture: PictureSize,
    /// The frames that were looked at, in order.
    pub frames: Vec<TrackedFrame>,
    /// How many points there are: a point is a number below this.
    pub points: u32,
}

/// One frame and the points seen in it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct TrackedFrame {
    /// Which frame.
    pub frame: FrameNumber,
    /// Whether it is a key frame: these are adjusted together, with all their sightings. A frame
    /// between keeps few sightings, well spread, of points that key frames see as well.
    pub key: bool,
    /// Which piece of the clip it belongs to: pieces share no points (a cut, or a stretch in
    /// which the background was lost).
    pub piece: u32,
    /// How well it was followed.
    pub held: Held,
    /// The points seen in it.
    pub sightings: Vec<Sighting>,
}

/// How well a frame was followed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Held {
    /// Many points, well spread.
    Well,
    /// Few points, or all in one part of the picture, or the picture blurred.
    Poorly,
    /// Not at all: no sightings.
    Lost,
}

/// One point in one frame.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Sighting {
    /// Which point.
    pub point: u32,
    /// Where it is.
    pub at: FramePoint,
    /// Standard deviation in each direction, pixels.
    pub sd_px: f32,
}
