//! How the camera moved between frames, with everything that is uncertain about it.

use std::collections::BTreeSet;

use nalgebra::{DMatrix, Matrix3, Rotation3, SMatrix, Vector3};

use super::bundle::COMMON;
use super::error::MotionGap;
use super::motion::{CameraMotion, FrameMotion, MotionPiece};
use super::motion_model::MotionModel;
use crate::quantity::FrameNumber;
use crate::scene::skew;

/// Motion of frames against the first of them: what the survey takes as an observation.
#[derive(Clone, Debug, PartialEq)]
pub struct RelativeMotion {
    /// The way of moving: which blocks `covariance` holds.
    pub model: MotionModel,
    /// The frames; everything is told against the first.
    pub frames: Vec<FrameNumber>,
    /// Turns directions of the first frame's camera into those of each frame's.
    pub turns: Vec<Rotation3<f64>>,
    /// Natural logarithm of each frame's focal length over the first frame's.
    pub log_zooms: Vec<f64>,
    /// Place of each frame's camera less that of the first, in the axes of the first frame's
    /// camera: nominal metres, up to one unknown factor common to all.
    pub shifts: Vec<Vector3<f64>>,
    /// Natural logarithm of the first frame's focal length in pixels.
    pub log_focal: f64,
    /// Radial distortion.
    pub k1: f64,
    /// Joint covariance of `log_focal`, `k1` and, for each frame after the first, the model's
    /// [`MotionModel::unknowns`]: turn `d` with `exp(d) turn` (radians), ln zoom, shift. The
    /// common factor of the shifts is as good as unknown: see [`CameraMotion`].
    pub covariance: DMatrix<f64>,
}

impl CameraMotion {
    /// Motion of `frames` against the first of them.
    ///
    /// Errors: a frame was not followed, was named twice, or lies beyond a cut.
    pub fn between(&self, frames: &[FrameNumber]) -> Result<RelativeMotion, MotionGap> {
        let Some(&base) = frames.first() else { return Err(MotionGap::NoFrames) };
        let (piece, first) = self.find(base)?;
        let mut named = BTreeSet::new();
        let mut others = Vec::new();
        for &frame in frames {
            if !named.insert(frame) {
                return Err(MotionGap::Twice { frame });
            }
            match piece.frame(frame) {
                Some(motion) => others.push(motion),
                None => {
                    self.find(frame)?;
                    return Err(MotionGap::Apart { from: base, to: frame });
                }
            }
        }
        Ok(piece.between(first, &others))
    }
}

impl MotionPiece {
    fn between(&self, first: &FrameMotion, all: &[&FrameMotion]) -> RelativeMotion {
        let base = &first.pose;
        RelativeMotion {
            model: self.model,
            frames: all.iter().map(|motion| motion.frame).collect(),
            turns: all.iter().map(|motion| motion.pose.turn * base.turn.inverse()).collect(),
            log_zooms: all.iter().map(|motion| motion.pose.log_zoom - base.log_zoom).collect(),
            shifts: all.iter().map(|m| base.turn * (m.pose.shift - base.shift)).collect(),
            log_focal: self.log_focal.value + base.log_zoom,
            k1: self.k1.value,
            covariance: self.covariance_between(first, all),
        }
    }

    /// Errors against the first frame are `by_frame · error of the frame − by_first · error of the
    /// first`; both hang on the key frames' errors and have a part of their own.
    fn covariance_between(&self, first: &FrameMotion, all: &[&FrameMotion]) -> DMatrix<f64> {
        let count = self.model.count();
        let keys = self.covariance.matrix();
        let others = all.get(1..).unwrap_or_default();
        let size = COMMON + others.len() * count;
        let gain_first = self.gain(first, keys.nrows());
        let own_first = first.own.matrix();
        let mut gain = DMatrix::zeros(size, keys.nrows());
        let mut by_first = DMatrix::zeros(size, count);
        let mut own = DMatrix::zeros(size, size);
        gain[(0, 0)] = 1.0;
        gain[(1, 1)] = 1.0;
        if let Some(zoom) = self.model.unknowns().iter().position(|&place| place == 3) {
            by_first[(0, zoom)] = 1.0;
            let row = gain.row(0) + gain_first.row(zoom);
            gain.set_row(0, &row);
        }
        for (i, frame) in others.iter().enumerate() {
            let row = COMMON + i * count;
            let (by_frame, minus_first) = self.by_ends(first, frame);
            let rows = &by_frame * self.gain(frame, keys.nrows()) - &minus_first * &gain_first;
            gain.rows_mut(row, count).copy_from(&rows);
            by_first.rows_mut(row, count).copy_from(&-minus_first);
            let block = &by_frame * frame.own.matrix() * by_frame.transpose();
            own.view_mut((row, row), (count, count)).copy_from(&block);
        }
        &gain * keys * gain.transpose() + &by_first * own_first * by_first.transpose() + own
    }

    /// A frame's gain by all unknowns of the key frames.
    fn gain(&self, frame: &FrameMotion, columns: usize) -> DMatrix<f64> {
        let count = self.model.count();
        let on = frame.columns(self.model);
        let mut gain = DMatrix::zeros(count, columns);
        for (value, (i, &column)) in
            frame.gain.iter().zip((0..count).flat_map(|i| on.iter().map(move |c| (i, c))))
        {
            gain[(i, column)] += f64::from(*value);
        }
        gain
    }

    /// How relative motion hangs on that of the frame, and (negated) on that of the first.
    fn by_ends(&self, first: &FrameMotion, frame: &FrameMotion) -> (DMatrix<f64>, DMatrix<f64>) {
        let base = first.pose.turn;
        let shift = base * (frame.pose.shift - first.pose.shift);
        let mut by_frame = SMatrix::<f64, 7, 7>::identity();
        by_frame.fixed_view_mut::<3, 3>(4, 4).copy_from(base.matrix());
        let mut by_first = by_frame;
        let turn: Matrix3<f64> = *(frame.pose.turn * base.inverse()).matrix();
        by_first.fixed_view_mut::<3, 3>(0, 0).copy_from(&turn);
        by_first.fixed_view_mut::<3, 3>(4, 0).copy_from(&skew(shift));
        let places = self.model.unknowns();
        let pick = |whole: &SMatrix<f64, 7, 7>| {
            DMatrix::from_fn(places.len(), places.len(), |i, j| whole[(places[i], places[j])])
        };
        (pick(&by_frame), pick(&by_first))
    }
}
