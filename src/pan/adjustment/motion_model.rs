//! Which ways a camera is allowed to move: from one that stands still to one that does everything.

use std::fmt;

use serde::{Deserialize, Serialize};

/// What may change from frame to frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MotionModel {
    /// Nothing: on a stand, not touched.
    Fixed,
    /// The way it looks: turned on a stand.
    Turning,
    /// The way it looks and its focal length.
    TurningZooming,
    /// The way it looks and its place: held in the hand.
    Handheld,
    /// Everything.
    HandheldZooming,
}

impl MotionModel {
    /// Simplest first.
    pub const ALL: [Self; 5] =
        [Self::Fixed, Self::Turning, Self::TurningZooming, Self::Handheld, Self::HandheldZooming];

    /// Whether the camera turns.
    pub fn turns(self) -> bool {
        self != Self::Fixed
    }

    /// Whether its focal length changes.
    pub fn zooms(self) -> bool {
        matches!(self, Self::TurningZooming | Self::HandheldZooming)
    }

    /// Whether its place changes.
    pub fn shifts(self) -> bool {
        matches!(self, Self::Handheld | Self::HandheldZooming)
    }

    /// The unknowns of one frame, as places among turn (0–2), ln zoom (3) and shift (4–6).
    pub fn unknowns(self) -> &'static [usize] {
        match self {
            Self::Fixed => &[],
            Self::Turning => &[0, 1, 2],
            Self::TurningZooming => &[0, 1, 2, 3],
            Self::Handheld => &[0, 1, 2, 4, 5, 6],
            Self::HandheldZooming => &[0, 1, 2, 3, 4, 5, 6],
        }
    }

    /// How many unknowns a frame has.
    pub fn count(self) -> usize {
        self.unknowns().len()
    }
}

impl fmt::Display for MotionModel {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Fixed => "fixed",
            Self::Turning => "turning",
            Self::TurningZooming => "turning and zooming",
            Self::Handheld => "hand-held",
            Self::HandheldZooming => "hand-held and zooming",
        })
    }
}
