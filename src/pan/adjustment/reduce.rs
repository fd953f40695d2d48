//! Points eliminated from the normal equations (the Schur complement), and put back.
//!
//! Source: Triggs, McLauchlan, Hartley & Fitzgibbon 2000, section 6.1 (from memory).

use nalgebra::{Cholesky, DMatrix, DVector, Dyn, Matrix3, Vector3};
use rayon::prelude::*;

use super::normal::Normal;

/// As for the parts of the normal equations, but fewer: each holds a whole matrix.
const DENSE_PARTS: usize = 4;

/// The camera system that is left, ready to be solved.
pub(super) struct Reduced {
    camera: Cholesky<f64, Dyn>,
    right: DVector<f64>,
    /// Inverse of each point's own block.
    pub inverses: Vec<Matrix3<f64>>,
    /// Sum over the points of ln det of their own block.
    points_log_det: f64,
}

impl Reduced {
    /// With Marquardt's `damping` on all diagonals; `None` where something is left undetermined.
    pub fn of(normal: &Normal, damping: f64) -> Option<Self> {
        let factor = 1.0 + damping;
        let mut inverses = Vec::with_capacity(normal.points.len());
        let mut points_log_det = 0.0;
        for block in &normal.points {
            let mut own = block.own;
            for i in 0..3 {
                own[(i, i)] *= factor;
            }
            let cholesky = own.cholesky()?;
            points_log_det += 2.0 * cholesky.l().diagonal().iter().map(|d| d.ln()).sum::<f64>();
            inverses.push(cholesky.inverse());
        }
        let n = normal.gradient.len();
        let part = normal.points.len().div_ceil(DENSE_PARTS).max(1);
        let parts: Vec<(DMatrix<f64>, DVector<f64>)> = normal
            .points
            .par_chunks(part)
            .zip(inverses.par_chunks(part))
            .map(|(blocks, inverses)| {
                let mut matrix: DMatrix<f64> = DMatrix::zeros(n, n);
                let mut right = DVector::zeros(n);
                for (block, inverse) in blocks.iter().zip(inverses) {
                    // Columns rise, and the factorisation reads the lower triangle only.
                    for (i, (&b, cross)) in block.columns.iter().zip(&block.cross).enumerate() {
                        let left = inverse * cross;
                        right[b] += left.dot(&block.gradient);
                        let mut column = matrix.column_mut(b);
                        let column = column.as_mut_slice();
                        for (&a, other) in block.columns[i..].iter().zip(&block.cross[i..]) {
                            column[a] -= left.dot(other);
                        }
                    }
                }
                (matrix, right)
            })
            .collect();
        let mut matrix = normal.camera.clone();
        let mut right = -normal.gradient.clone();
        for i in 0..n {
            matrix[(i, i)] *= factor;
        }
        for (part, part_right) in parts {
            matrix += part;
            right += part_right;
        }
        let camera = Cholesky::new(matrix)?;
        Some(Self { camera, right, inverses, points_log_det })
    }

    /// Step of the cameras and of every point.
    pub fn step(&self, normal: &Normal) -> (DVector<f64>, Vec<Vector3<f64>>) {
        let cameras = self.camera.solve(&self.right);
        let points = normal
            .points
            .iter()
            .zip(&self.inverses)
            .map(|(block, inverse)| {
                let mut right = block.gradient;
                for (&column, cross) in block.columns.iter().zip(&block.cross) {
                    right += cameras[column] * cross;
                }
                -(inverse * right)
            })
            .collect();
        (cameras, points)
    }

    /// Joint covariance of the camera unknowns, points allowed for.
    pub fn covariance(&self) -> DMatrix<f64> {
        self.camera.inverse()
    }

    /// ln of the determinant of the whole normal matrix.
    pub fn log_det(&self) -> f64 {
        let cameras = self.camera.l_dirty().diagonal();
        2.0 * cameras.iter().map(|d| d.ln()).sum::<f64>() + self.points_log_det
    }
}
