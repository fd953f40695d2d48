//! How well the camera was followed, stretch by stretch.

use std::collections::BTreeSet;

use super::motion::CameraMotion;
use super::tracks::Held;
use crate::quantity::FrameNumber;

/// Frames in a row that were followed equally well.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// First frame.
    pub from: FrameNumber,
    /// Last frame.
    pub to: FrameNumber,
    /// How well.
    pub held: Held,
    /// Index of the piece they lie in; `None` for lost frames.
    pub piece: Option<usize>,
    /// Median, over the frames, of the median misfit of believed points, pixels; 0 for lost ones.
    pub residual_px: f64,
}

impl CameraMotion {
    /// All frames that were looked at, in stretches.
    pub fn stretches(&self) -> Vec<Stretch> {
        let mut all: BTreeSet<FrameNumber> = self.lost.iter().copied().collect();
        all.extend(self.pieces.iter().flat_map(|piece| piece.frames.iter().map(|f| f.frame)));
        let told: Vec<(FrameNumber, Held, Option<usize>, f64)> = all
            .into_iter()
            .map(|frame| {
                let in_piece = |(i, piece): (usize, &super::motion::MotionPiece)| {
                    piece.frame(frame).map(|m| (frame, m.held, Some(i), m.residual_px))
                };
                let found = self.pieces.iter().enumerate().find_map(in_piece);
                found.unwrap_or((frame, Held::Lost, None, 0.0))
            })
            .collect();
        told.chunk_by(|a, b| (a.1, a.2) == (b.1, b.2))
            .filter_map(|run| {
                let (first, last) = (run.first()?, run.last()?);
                let mut misfits: Vec<f64> = run.iter().map(|told| told.3).collect();
                misfits.sort_by(f64::total_cmp);
                Some(Stretch {
                    from: first.0,
                    to: last.0,
                    held: first.1,
                    piece: first.2,
                    residual_px: misfits[misfits.len() / 2],
                })
            })
            .collect()
    }
}
