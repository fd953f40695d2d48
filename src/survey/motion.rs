//! The camera's motion, found from the background, as one observation of the poses.
//!
//! Observed are the turn, zoom and shift of each pose against one of them, with the joint
//! covariance of all: what drifts along a pan is known well between neighbours and badly from end
//! to end, and that is how it enters. Shifts are seen up to one factor of their own, an unknown.
//!
//! Invariant: rows are whitened, so that they are independent and of unit variance.

use nalgebra::{Cholesky, DMatrix, DVector, Rotation3};

use super::least_squares::Rows;
use super::model::Model;
use crate::pan::{MotionModel, RelativeMotion};

/// An observed motion and the poses it is of.
#[derive(Clone, Debug)]
pub struct ObservedMotion {
    relative: RelativeMotion,
    /// Pose of each frame of `relative`.
    poses: Vec<usize>,
    /// What of `relative.covariance` is observed here, by its rows.
    kept: Vec<Part>,
    /// Inverse of the Cholesky factor of the covariance of what is kept.
    whitener: DMatrix<f64>,
}

/// One number that was observed.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Part {
    LogFocal,
    Distortion,
    /// About an axis, of the pose of that index.
    Turn(usize, usize),
    Zoom(usize),
    Shift(usize, usize),
}

/// Standard deviation of ln(metres / unit): how much a hand sways is known to a factor of three.
pub const LOG_UNIT_SD: f64 = 1.1;

/// What a lens found from a pan is off besides its random error: lenses bend otherwise than by one
/// term, rows are not read at once, phones bend the picture to steady it. On the one real clip at
/// hand, which turns by 29°, the focal length found ranged by 6 % to either side with the points
/// that were followed and the beliefs of them. Relative sd, for a turn of that angle; the wider the
/// turn the less of it. Common practice, no source.
const LENS_ERROR: f64 = 0.04;
const LENS_ERROR_AT_RAD: f64 = 0.5;

/// What each frame's turn is off by itself, for the same reasons, radians: a third of a pixel of a
/// picture 854 wide. Points near each other agree far better, and the adjustment believes them.
/// Common practice, no source.
const FRAME_ERROR_RAD: f64 = 4e-4;

/// Adds each frame's own error; that of the first is in all others.
fn add_frame_errors(parts: &[Part], covariance: &mut DMatrix<f64>) {
    for (row, one) in parts.iter().enumerate() {
        for (column, other) in parts.iter().enumerate() {
            if let (Part::Turn(i, axis), Part::Turn(j, same)) = (one, other)
                && axis == same
            {
                let times = if i == j { 2.0 } else { 1.0 };
                covariance[(row, column)] += times * FRAME_ERROR_RAD.powi(2);
            }
        }
    }
}

fn lens_error(relative: &RelativeMotion) -> f64 {
    let widest = relative.turns.iter().map(Rotation3::angle).fold(0.0, f64::max);
    LENS_ERROR * (LENS_ERROR_AT_RAD / widest.max(0.05)).min(4.0)
}

impl ObservedMotion {
    /// The motion of poses, of which the first is told against none; `shifts` says whether its
    /// shifts are observations. `None` where the covariance is none.
    pub fn new(relative: RelativeMotion, poses: Vec<usize>, shifts: bool) -> Option<Self> {
        let (parts, rows): (Vec<Part>, Vec<usize>) = parts(relative.model, poses.len())
            .into_iter()
            .enumerate()
            .filter(|(_, part)| shifts || !matches!(part, Part::Shift(..)))
            .map(|(row, part)| (part, row))
            .unzip();
        let mut covariance = relative.covariance.select_rows(&rows).select_columns(&rows);
        covariance[(0, 0)] += lens_error(&relative).powi(2);
        add_frame_errors(&parts, &mut covariance);
        let factor = Cholesky::new(covariance)?.l();
        let size = factor.nrows();
        let whitener = factor.solve_lower_triangular(&DMatrix::identity(size, size))?;
        Some(Self { relative, poses, kept: parts, whitener })
    }

    /// Adds its rows.
    pub fn push(&self, model: &Model, x: &DVector<f64>, rows: &mut Rows) {
        let plain: Vec<(f64, Vec<(usize, f64)>)> = self.plain(model, x);
        let size = plain.len();
        for row in 0..size {
            let mut residual = 0.0;
            let mut columns = Vec::new();
            for (at, (value, by)) in plain.iter().enumerate().take(row + 1) {
                let weight = self.whitener[(row, at)];
                residual += weight * value;
                columns.extend(by.iter().map(|(column, by)| (*column, weight * by)));
            }
            rows.push(residual, together(columns));
        }
    }

    /// What is modelled less what was observed, and how it moves, not yet whitened. The errors of
    /// turns and shifts are unknowns themselves (see `pose.rs`).
    fn plain(&self, model: &Model, x: &DVector<f64>) -> Vec<(f64, Vec<(usize, f64)>)> {
        let pose = |i: usize| &model.poses[self.poses[i]];
        let zoom_of = |i: usize| pose(i).zoom.map_or(0.0, |zoom| x[zoom]);
        let one = |column: Option<usize>, by: f64| column.map(|column| (column, by));
        let own = |column: usize| (x[column], vec![(column, 1.0)]);
        self.kept
            .iter()
            .map(|part| match *part {
                Part::LogFocal => {
                    let column = model.camera.log_focal;
                    let value = x[column] + zoom_of(0) - self.relative.log_focal;
                    (value, [(column, 1.0)].into_iter().chain(one(pose(0).zoom, 1.0)).collect())
                }
                Part::Distortion => {
                    (x[model.camera.k1] - self.relative.k1, vec![(model.camera.k1, 1.0)])
                }
                Part::Turn(i, axis) => own(pose(i).turn + axis),
                Part::Zoom(i) => {
                    let value = zoom_of(i) - zoom_of(0) - self.relative.log_zooms[i];
                    let columns = one(pose(i).zoom, 1.0).into_iter().chain(one(pose(0).zoom, -1.0));
                    (value, columns.collect())
                }
                Part::Shift(i, axis) => match pose(i).sway {
                    Some(error) => own(error + axis),
                    None => (0.0, Vec::new()),
                },
            })
            .collect()
    }
}

/// The numbers of a relative motion, in the order of its covariance.
fn parts(model: MotionModel, poses: usize) -> Vec<Part> {
    let mut parts = vec![Part::LogFocal, Part::Distortion];
    for i in 1..poses {
        parts.extend(model.unknowns().iter().map(|unknown| match unknown {
            0..=2 => Part::Turn(i, *unknown),
            3 => Part::Zoom(i),
            _ => Part::Shift(i, unknown - 4),
        }));
    }
    parts
}

/// Entries of one column added up.
fn together(mut columns: Vec<(usize, f64)>) -> Vec<(usize, f64)> {
    columns.sort_unstable_by_key(|(column, _)| *column);
    let mut sums: Vec<(usize, f64)> = Vec::with_capacity(columns.len());
    for (column, value) in columns {
        match sums.last_mut() {
            Some((last, sum)) if *last == column => *sum += value,
            _ => sums.push((column, value)),
        }
    }
    sums
}

#[cfg(test)]
mod tests;
