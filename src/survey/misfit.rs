//! How badly each observation fits, in units of what it may: the tests behind suspects.
//!
//! A residual is smaller than its observation's error, since the observation pulls the survey
//! towards itself. So each is divided by its own standard deviation, from the redundancy matrix
//! `I − J Q Jᵀ` (Baarda 1968, data snooping; from memory). An observation that nothing checks has
//! no such number.

use nalgebra::{DMatrix, Matrix2, Vector2};

use super::least_squares::Rows;

/// Share of its own variance that a residual must keep to be testable.
const LEAST_REDUNDANCY: f64 = 0.02;

/// How unlikely a misfit is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Misfit {
    /// Size in standard deviations of the residual.
    pub in_sds: f64,
    /// Natural logarithm of the probability of one as large or larger.
    pub log_probability: f64,
}

impl Misfit {
    /// Of one row. `None` when nothing checks it.
    pub fn of_row(rows: &Rows, covariance: &DMatrix<f64>, row: usize) -> Option<Self> {
        let redundancy = 1.0 - product(rows, covariance, row, row);
        if redundancy < LEAST_REDUNDANCY {
            return None;
        }
        let in_sds = rows.residual(row).abs() / redundancy.sqrt();
        Some(Self { in_sds, log_probability: log_two_sided(in_sds) })
    }

    /// Of the two rows of a click, together. `None` when nothing checks it in any direction.
    pub fn of_click(rows: &Rows, covariance: &DMatrix<f64>, first: usize) -> Option<Self> {
        let (a, b) = (first, first + 1);
        let cross = -product(rows, covariance, a, b);
        let redundancy = Matrix2::new(
            1.0 - product(rows, covariance, a, a),
            cross,
            cross,
            1.0 - product(rows, covariance, b, b),
        );
        let residual = Vector2::new(rows.residual(a), rows.residual(b));
        let eigen = redundancy.symmetric_eigen();
        let (mut squares, mut directions) = (0.0, 0);
        for axis in 0..2 {
            if eigen.eigenvalues[axis] >= LEAST_REDUNDANCY {
                let along = eigen.eigenvectors.column(axis).dot(&residual);
                squares += along * along / eigen.eigenvalues[axis];
                directions += 1;
            }
        }
        let in_sds = squares.sqrt();
        match directions {
            0 => None,
            1 => Some(Self { in_sds, log_probability: log_two_sided(in_sds) }),
            _ => Some(Self { in_sds, log_probability: -squares / 2.0 }),
        }
    }
}

/// `(J Q Jᵀ)` between two rows.
fn product(rows: &Rows, covariance: &DMatrix<f64>, a: usize, b: usize) -> f64 {
    rows.derivatives(a)
        .map(|(i, left)| {
            rows.derivatives(b).map(|(j, right)| left * covariance[(i, j)] * right).sum::<f64>()
        })
        .sum()
}

/// ln of the probability that a standard normal lies farther out than `size` on either side.
fn log_two_sided(size: f64) -> f64 {
    if size < 25.0 {
        return libm::erfc(size / std::f64::consts::SQRT_2).ln();
    }
    // The leading term of the tail, where erfc leaves the range of f64.
    -size * size / 2.0 - (size * (std::f64::consts::PI / 2.0).sqrt()).ln()
}

/// ln of the probability that a chi-square of `freedom` degrees is at least `value`
/// (Wilson & Hilferty 1931, cube-root normal approximation).
pub fn log_chi_square_tail(value: f64, freedom: f64) -> f64 {
    let spread = 2.0 / (9.0 * freedom);
    let normal = ((value / freedom).cbrt() - (1.0 - spread)) / spread.sqrt();
    if normal < 0.0 { 0.0 } else { log_two_sided(normal) - std::f64::consts::LN_2 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tails_agree_with_the_tables() {
        // Normal: 1.96 leaves 5 %; chi-square of 10 degrees: 18.307 leaves 5 %, 29.588 leaves
        // 0.1 % (NIST/SEMATECH e-Handbook of Statistical Methods, tables 1.3.6.7; from memory).
        assert!((log_two_sided(1.959_964).exp() - 0.05).abs() < 1e-6);
        assert!((log_chi_square_tail(18.307, 10.0).exp() - 0.05).abs() < 0.001);
        assert!((log_chi_square_tail(29.588, 10.0).exp() - 0.001).abs() < 0.0001);
        let (near, far) = (log_two_sided(24.999), log_two_sided(25.001));
        assert!(near > far && near - far < 0.1);
    }
}
