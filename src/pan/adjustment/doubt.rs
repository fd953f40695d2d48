//! Reasons to trust the camera's motion less.

use serde::{Deserialize, Serialize};

use super::motion::CameraMotion;
use super::motion_model::MotionModel;
use super::tracks::Held;
use crate::quantity::FrameNumber;

/// A stand that is not touched keeps its picture to less than this, pixels of a picture 1000 wide.
const STILL_PX: f64 = 1.5;
/// Median misfit beyond which the background is no rigid scene, pixels of a picture 1000 wide.
const ROUGH_PX: f64 = 1.0;

/// A reason to trust the motion less.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum MotionDoubt {
    /// The camera was said to be fixed and was not.
    CameraMoved {
        /// How far the picture wandered, pixels.
        moved_px: f64,
    },
    /// Nothing links the pieces.
    Broken {
        /// How many pieces there are.
        pieces: usize,
    },
    /// Frames without a motion.
    Lost {
        /// The first of them.
        first: FrameNumber,
        /// How many.
        count: usize,
    },
    /// Frames followed by few points.
    Poor {
        /// First frame of the longest such stretch.
        from: FrameNumber,
        /// Its last frame.
        to: FrameNumber,
        /// How many frames in all.
        count: usize,
    },
    /// The background does not hold together.
    Rough {
        /// Median misfit, pixels.
        median_px: f64,
    },
}

impl CameraMotion {
    /// Everything doubtful, with what was claimed of the camera, if anything was.
    pub fn doubts(&self, claimed: Option<MotionModel>) -> Vec<MotionDoubt> {
        let unit = f64::from(self.picture.width.max(self.picture.height)) / 1000.0;
        let mut doubts = Vec::new();
        let moved_px = self.moved_px();
        if claimed == Some(MotionModel::Fixed) && moved_px > STILL_PX * unit {
            doubts.push(MotionDoubt::CameraMoved { moved_px });
        }
        if self.pieces.len() > 1 {
            doubts.push(MotionDoubt::Broken { pieces: self.pieces.len() });
        }
        if let Some(&first) = self.lost.first() {
            doubts.push(MotionDoubt::Lost { first, count: self.lost.len() });
        }
        let stretches = self.stretches();
        let poor = || stretches.iter().filter(|stretch| stretch.held == Held::Poorly);
        if let Some(longest) = poor().max_by_key(|stretch| stretch.to.0 - stretch.from.0) {
            let count = poor().map(|stretch| (stretch.to.0 - stretch.from.0 + 1) as usize).sum();
            doubts.push(MotionDoubt::Poor { from: longest.from, to: longest.to, count });
        }
        let median_px = self.pieces.iter().map(|p| p.residuals.median_px).fold(0.0, f64::max);
        if median_px > ROUGH_PX * unit {
            doubts.push(MotionDoubt::Rough { median_px });
        }
        doubts
    }
}

impl MotionDoubt {
    /// In words.
    pub fn sentence(&self) -> String {
        match self {
            Self::CameraMoved { moved_px } => format!(
                "the camera was said to be fixed, but its picture wandered by {moved_px:.1} px: \
                 lengths measured as if it stood still are wrong"
            ),
            Self::Broken { pieces } => format!(
                "the background was lost on the way: the clip falls into {pieces} pieces that \
                 only ties placed by hand can join"
            ),
            Self::Lost { first, count } => format!(
                "the camera could not be followed in {count} frames, the first being {first}: \
                 marks there need ties placed by hand"
            ),
            Self::Poor { from, to, count } => format!(
                "the camera was followed by few points in {count} frames, most of them from {from} \
                 to {to}"
            ),
            Self::Rough { median_px } => format!(
                "the background fits only to {median_px:.1} px: much of it moves, or the picture is \
                 bent by the phone's stabilisation"
            ),
        }
    }
}
