//! How hard the tracker looks.

use crate::scene::PictureSize;

/// What a caller may choose. The rest follows from the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrackerSettings {
    /// Points followed at once. More cost time; fewer leave parts of the picture bare.
    pub points: usize,
    /// Sightings kept of a frame between key frames.
    pub sightings_between: usize,
    /// Frames a second as captured: how far near things shift from one frame to the next while the
    /// hand sways.
    pub frames_per_s: f64,
    /// Feeds the random samples: the same seed gives the same tracks.
    pub seed: u64,
}

impl Default for TrackerSettings {
    fn default() -> Self {
        Self { points: 320, sightings_between: 40, frames_per_s: 30.0, seed: 1 }
    }
}

/// Lengths in pixels that follow from the picture's width.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lengths {
    /// From one frame to the next the background agrees to this: near things shift a little
    /// against far ones when the hand sways.
    pub(super) step_slack: f64,
    /// From key frame to frame a hand's sway moves near things this far from the common map.
    pub(super) key_slack: f64,
    /// Beyond this no sway explains it.
    pub(super) most_parallax: f64,
    /// Least distance between points.
    pub(super) apart: f64,
    /// Points nearer to the edge are given up.
    pub(super) margin: f64,
}

impl Lengths {
    pub(super) fn of(size: PictureSize, frames_per_s: f64) -> Self {
        let wide = f64::from(size.width);
        // A rate that is none counts as the slowest.
        let slower = (60.0 / frames_per_s.max(1.0)).clamp(0.5, 4.0);
        Self {
            step_slack: (0.0008 * wide * slower).max(0.8),
            key_slack: (0.005 * wide).max(4.0),
            most_parallax: (0.02 * wide).max(10.0),
            apart: (0.012 * wide).max(9.0),
            margin: 11.0,
        }
    }
}
