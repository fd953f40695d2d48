//! What the marks file remembers of its clip, so that it can tell another clip from its own
//! and measure while the clip is elsewhere.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::quantity::FrameNumber;
use crate::scene::PictureSize;

/// The clip that was marked.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ClipNote {
    /// File name, looked for beside the marks file (a relative path is allowed).
    pub file: String,
    /// Its length in bytes; 0 as long as there is no file.
    pub size_bytes: u64,
    /// Its BLAKE3 hash, 64 hexadecimal digits: marks belong to this very file. Empty as long as
    /// there is no file.
    pub blake3: String,
    /// The upright, square-pixel picture.
    pub picture: PictureSize,
    /// Number of frames.
    pub frame_count: u32,
    /// Which video stream, when the file has several.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stream: Option<usize>,
    /// Captured seconds per second of playing time: 1 for an ordinary clip, 1/8 for 240 frames
    /// a second that play at 30.
    pub capture_seconds_per_second: f64,
    /// Exact times of the frames that carry marks, and of their predecessors' gap.
    #[serde(default)]
    pub frames: Vec<MarkedFrame>,
    /// Keys of other versions, kept as they are.
    #[serde(flatten)]
    pub other: Map<String, Value>,
}

/// The time of one frame that carries a mark.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MarkedFrame {
    /// Its number.
    pub frame: FrameNumber,
    /// Its time in the clip, seconds of playing time.
    pub time_s: f64,
    /// Playing time since the frame before it, seconds; how late a contact can have been seen.
    pub gap_s: f64,
    /// Keys of other versions, kept as they are.
    #[serde(flatten)]
    pub other: Map<String, Value>,
}

impl MarkedFrame {
    /// Frame `frame` at `time_s`, `gap_s` after the one before it.
    pub fn new(frame: FrameNumber, time_s: f64, gap_s: f64) -> Self {
        Self { frame, time_s, gap_s, other: Map::new() }
    }
}

impl ClipNote {
    /// The remembered time of a frame, if it carries marks.
    pub fn time_of(&self, frame: FrameNumber) -> Option<&MarkedFrame> {
        self.frames.iter().find(|known| known.frame == frame)
    }

    /// How fast the clip plays: "8 times slower than life".
    pub fn pace_words(&self) -> String {
        super::edit::pace_words(self.capture_seconds_per_second)
    }
}
