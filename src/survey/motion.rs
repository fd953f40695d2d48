//! The camera's motion, found from the background, as one observation of the poses.
//!
//! Observed are the turn, zoom and shift of each pose against one of them, with the joint
//! covariance of all: what drifts along a pan is known well between neighbours and badly from end
//! to end, and that is how it enters. Shifts are seen up to one factor of their own, an unknown.
//!
//! Invariant: rows are whitened, so that they are independent and of unit variance.

use nalgebra::{Cholesky, DMatrix, DVector, Matrix3, Rotation3, Vector3};

use super::least_squares::Rows;
use super::model::{FramePose, Model, triple};
use crate::pan::{MotionModel, RelativeMotion};
use crate::scene::{left_jacobian, rotation_vector, skew};

/// An observed motion and the poses it is of.
#[derive(Clone, Debug)]
pub struct ObservedMotion {
    relative: RelativeMotion,
    /// Pose of each frame of `relative`.
    poses: Vec<usize>,
    /// ln(metres of the ground / units of the shifts); `None` where no shift is observed.
    log_unit: Option<usize>,
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

/// Standard deviation of ln(metres / unit): the tracker's unit is a guess at the distance of the
/// background, right to a factor of four or so.
pub const LOG_UNIT_SD: f64 = 1.5;

/// What a lens found from a pan is off besides its random error: lenses bend otherwise than by one
/// term, rows are not read at once, phones bend the picture to steady it. On the one real clip at
/// hand, which turns by 29°, the focal length found ranged by 6 % to either side with the points
/// that were followed and the beliefs of them. Relative sd, for a turn of that angle; the wider the
/// turn the less of it. Common practice, no source.
const LENS_ERROR: f64 = 0.04;
const LENS_ERROR_AT_RAD: f64 = 0.5;

fn lens_error(relative: &RelativeMotion) -> f64 {
    let widest = relative.turns.iter().map(Rotation3::angle).fold(0.0, f64::max);
    LENS_ERROR * (LENS_ERROR_AT_RAD / widest.max(0.05)).min(4.0)
}

impl ObservedMotion {
    /// The motion of poses; `log_unit` is the column of the shifts' factor. `None` where the
    /// covariance is none.
    pub fn new(
        relative: RelativeMotion,
        poses: Vec<usize>,
        log_unit: Option<usize>,
    ) -> Option<Self> {
        let (parts, rows): (Vec<Part>, Vec<usize>) = parts(relative.model, poses.len())
            .into_iter()
            .enumerate()
            .filter(|(_, part)| log_unit.is_some() || !matches!(part, Part::Shift(..)))
            .map(|(row, part)| (part, row))
            .unzip();
        let mut covariance = relative.covariance.select_rows(&rows).select_columns(&rows);
        covariance[(0, 0)] += lens_error(&relative).powi(2);
        let factor = Cholesky::new(covariance)?.l();
        let size = factor.nrows();
        let whitener = factor.solve_lower_triangular(&DMatrix::identity(size, size))?;
        Some(Self { relative, poses, log_unit, kept: parts, whitener })
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

    /// What is modelled less what was observed, and how it moves, not yet whitened.
    fn plain(&self, model: &Model, x: &DVector<f64>) -> Vec<(f64, Vec<(usize, f64)>)> {
        let first = &model.poses[self.poses[0]];
        let pairs: Vec<Pair> = (0..self.poses.len()).map(|i| self.pair(model, x, i)).collect();
        let one = |column: Option<usize>, by: f64| column.map(|column| (column, by));
        self.kept
            .iter()
            .map(|part| match *part {
                Part::LogFocal => {
                    let zoom = first.zoom.map_or(0.0, |zoom| x[zoom]);
                    let value = x[model.camera.log_focal] + zoom - self.relative.log_focal;
                    let own = [(model.camera.log_focal, 1.0)];
                    (value, own.into_iter().chain(one(first.zoom, 1.0)).collect())
                }
                Part::Distortion => {
                    (x[model.camera.k1] - self.relative.k1, vec![(model.camera.k1, 1.0)])
                }
                Part::Turn(i, axis) => pairs[i].turn(axis),
                Part::Zoom(i) => {
                    let zoom = |pose: &FramePose| pose.zoom.map_or(0.0, |zoom| x[zoom]);
                    let pose = &model.poses[self.poses[i]];
                    let value = zoom(pose) - zoom(first) - self.relative.log_zooms[i];
                    let columns = one(pose.zoom, 1.0).into_iter().chain(one(first.zoom, -1.0));
                    (value, columns.collect())
                }
                Part::Shift(i, axis) => pairs[i].shift(axis, self.relative.shifts[i]),
            })
            .collect()
    }

    fn pair(&self, model: &Model, x: &DVector<f64>, i: usize) -> Pair {
        let (first, other) = (&model.poses[self.poses[0]], &model.poses[self.poses[i]]);
        let turn = |pose: &FramePose| Rotation3::new(triple(x, pose.turn)) * pose.start;
        let (base, turned) = (turn(first), turn(other));
        let relative = turned * base.inverse();
        let off = rotation_vector(&(relative * self.relative.turns[i].inverse()));
        // exp(off) seen from a small turn further: half of what left_jacobian would take away.
        let straighten = Matrix3::identity() - 0.5 * skew(off);
        let sway = |pose: &FramePose| pose.sway.map_or(Vector3::zeros(), |at| triple(x, at));
        let unit = self.log_unit.map_or(1.0, |column| (-x[column]).exp());
        let base_jacobian = left_jacobian(triple(x, first.turn));
        let shift = unit * (base * (sway(other) - sway(first)));
        Pair {
            off,
            by_turn: straighten * left_jacobian(triple(x, other.turn)),
            by_base: -(straighten * relative.matrix() * base_jacobian),
            shift,
            shift_by_sway: unit * base.matrix(),
            shift_by_base: -skew(shift) * base_jacobian,
            turn_at: other.turn,
            base_at: first.turn,
            sway_at: other.sway,
            base_sway_at: first.sway,
            unit_at: self.log_unit,
        }
    }
}

/// A pose against the first.
struct Pair {
    off: Vector3<f64>,
    by_turn: Matrix3<f64>,
    by_base: Matrix3<f64>,
    shift: Vector3<f64>,
    shift_by_sway: Matrix3<f64>,
    shift_by_base: Matrix3<f64>,
    turn_at: usize,
    base_at: usize,
    sway_at: Option<usize>,
    base_sway_at: Option<usize>,
    unit_at: Option<usize>,
}

impl Pair {
    fn turn(&self, axis: usize) -> (f64, Vec<(usize, f64)>) {
        let mut by = of_row(self.turn_at, &self.by_turn, axis, 1.0);
        by.extend(of_row(self.base_at, &self.by_base, axis, 1.0));
        (self.off[axis], by)
    }

    fn shift(&self, axis: usize, observed: Vector3<f64>) -> (f64, Vec<(usize, f64)>) {
        let mut by = of_row(self.base_at, &self.shift_by_base, axis, 1.0);
        if let Some(at) = self.sway_at {
            by.extend(of_row(at, &self.shift_by_sway, axis, 1.0));
        }
        if let Some(at) = self.base_sway_at {
            by.extend(of_row(at, &self.shift_by_sway, axis, -1.0));
        }
        if let Some(at) = self.unit_at {
            by.push((at, -self.shift[axis]));
        }
        (self.shift[axis] - observed[axis], by)
    }
}

fn of_row(first: usize, by: &Matrix3<f64>, axis: usize, sign: f64) -> Vec<(usize, f64)> {
    (0..3).map(|column| (first + column, sign * by[(axis, column)])).collect()
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
