//! The camera's motion through a clip: what is kept on disk and asked for later.

use serde::{Deserialize, Serialize};

use super::bundle::{COMMON, KeyPose};
use super::error::MotionGap;
use super::motion_model::MotionModel;
use super::packed::Packed;
use super::tracks::Held;
use crate::quantity::{FrameNumber, Given};
use crate::scene::PictureSize;

/// The motion of the camera.
///
/// Gauge: within a piece everything is told against the camera of its first key frame. Shifts are
/// in nominal metres: their unit comes from weak beliefs in the distance of the background and in
/// the sway ([`super::MotionPriors`]), so all shifts of a piece share one unknown factor. Whoever
/// uses them needs an unknown of their own for it; of its error the covariance holds only what the
/// beliefs leave, and too much of it does no harm beside a free factor.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CameraMotion {
    /// The way of moving; the richest one when pieces differ.
    pub model: MotionModel,
    /// The upright picture.
    pub picture: PictureSize,
    /// Stretches with a background in common.
    pub pieces: Vec<MotionPiece>,
    /// Frames that were looked at and not followed.
    pub lost: Vec<FrameNumber>,
}

/// A stretch of a clip whose frames are linked by their background.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct MotionPiece {
    /// The way of moving, and the layout of all blocks below.
    pub model: MotionModel,
    /// How much more plausible each way of moving is than the chosen one, −2 ln of the odds; below
    /// 0 for nearly all.
    pub against: Vec<(MotionModel, f64)>,
    /// Key frames; the first is the reference.
    pub keys: Vec<FrameNumber>,
    /// Natural logarithm of the reference camera's focal length in pixels.
    pub log_focal: Given,
    /// Radial distortion.
    pub k1: Given,
    /// Joint covariance of ln focal length, k1 and, for each key frame after the first, its
    /// [`MotionModel::unknowns`]: turn (left, radians), ln zoom, shift (nominal metres).
    pub covariance: Packed,
    /// Every frame that was followed, in order, key frames among them.
    pub frames: Vec<FrameMotion>,
    /// How well key frames fit.
    pub residuals: Residuals,
}

/// One frame.
///
/// Its error is `gain` times the error of what it hangs on, plus an `own` one that is independent
/// of all other frames'.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FrameMotion {
    /// Which frame.
    pub frame: FrameNumber,
    /// How well it was followed.
    pub held: Held,
    /// Where the camera was and looked, against the reference.
    pub pose: KeyPose,
    /// Key frames it hangs on, by index; never the reference, which has no error.
    pub on: Vec<u32>,
    /// By ln focal length, k1 and the unknowns of each of `on`: row by row.
    pub gain: Vec<f32>,
    /// Covariance of its own error.
    pub own: Packed,
    /// Points that are believed and points seen.
    pub points: (u32, u32),
    /// Median misfit of the believed ones, pixels.
    pub residual_px: f64,
}

/// How well sightings fit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Residuals {
    /// Sightings in key frames.
    pub seen: u32,
    /// Those that are believed.
    pub believed: u32,
    /// Median misfit of the believed ones, pixels.
    pub median_px: f64,
    /// 95 of 100 of the believed ones misfit by less, pixels.
    pub p95_px: f64,
    /// Factor on all stated standard deviations that the misfits asked for; 1 or more. All
    /// covariances hold it.
    pub scale: f64,
}

impl FrameMotion {
    /// Columns in the piece's covariance that it hangs on, in the order of `gain`.
    pub(super) fn columns(&self, model: MotionModel) -> Vec<usize> {
        let of_key = |key: &u32| {
            let first = COMMON + (*key as usize).saturating_sub(1) * model.count();
            first..first + model.count()
        };
        (0..COMMON).chain(self.on.iter().flat_map(of_key)).collect()
    }
}

impl CameraMotion {
    /// The piece a frame lies in and its motion.
    pub fn find(&self, frame: FrameNumber) -> Result<(&MotionPiece, &FrameMotion), MotionGap> {
        self.pieces
            .iter()
            .find_map(|piece| Some((piece, piece.frame(frame)?)))
            .ok_or(MotionGap::NotFollowed { frame })
    }
}

impl MotionPiece {
    /// The motion of a frame of this piece.
    pub fn frame(&self, frame: FrameNumber) -> Option<&FrameMotion> {
        let at = self.frames.binary_search_by_key(&frame, |motion| motion.frame).ok()?;
        self.frames.get(at)
    }
}
