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

    /// Column and derivative of what an observation depends on.
    type Depends = &'static [(usize, f64)];

    /// Observations of unit variance with the covariance of what they determine.
    fn adjusted(observations: &[(f64, Depends)], unknowns: usize) -> (Rows, DMatrix<f64>) {
        let mut rows = Rows::default();
        for (residual, derivatives) in observations {
            rows.push(*residual, derivatives.iter().copied());
        }
        let covariance = crate::survey::least_squares::covariance(&rows, unknowns).unwrap();
        (rows, covariance)
    }

    #[test]
    fn a_residual_from_a_mean_of_four_has_three_quarters_of_its_variance() {
        let own: Depends = &[(0, 1.0)];
        let (rows, covariance) = adjusted(&[(-3.0, own), (1.0, own), (1.0, own), (1.0, own)], 1);
        let misfit = Misfit::of_row(&rows, &covariance, 0).unwrap();
        assert!((misfit.in_sds - 3.0 / 0.75f64.sqrt()).abs() < 1e-12);
        assert!((misfit.log_probability - log_two_sided(12f64.sqrt())).abs() < 1e-12);
        // Alone it is the mean, and nothing checks it.
        let (rows, covariance) = adjusted(&[(0.5, own)], 1);
        assert_eq!(Misfit::of_row(&rows, &covariance, 0), None);
    }

    #[test]
    fn a_click_is_tested_in_the_directions_that_others_check() {
        let (x, y): (Depends, Depends) = (&[(0, 1.0)], &[(1, 1.0)]);
        // Two clicks on one place, 2 px apart in x and 4 in y: each keeps half its variance, so
        // the squares are (1 + 4) / 0.5, and their chance is that of chi-square with two degrees.
        let (rows, covariance) = adjusted(&[(1.0, x), (-2.0, y), (-1.0, x), (2.0, y)], 2);
        for first in [0, 2] {
            let misfit = Misfit::of_click(&rows, &covariance, first).unwrap();
            assert!((misfit.in_sds - 10f64.sqrt()).abs() < 1e-12);
            assert!((misfit.log_probability + 5.0).abs() < 1e-12);
        }
        // A click whose place is checked in x only: squares 1 / 0.5, one direction.
        let (rows, covariance) = adjusted(&[(1.0, x), (0.0, y), (-1.0, x)], 2);
        let misfit = Misfit::of_click(&rows, &covariance, 0).unwrap();
        assert!((misfit.in_sds - 2f64.sqrt()).abs() < 1e-9);
        assert!((misfit.log_probability - log_two_sided(2f64.sqrt())).abs() < 1e-9);
        // A place that nothing but its click tells.
        let (rows, covariance) = adjusted(&[(0.3, x), (0.4, y)], 2);
        assert_eq!(Misfit::of_click(&rows, &covariance, 0), None);
        // A place that can move along (0.6, 0.8): only what lies across is a misfit.
        let (a, b): (Depends, Depends) = (&[(0, 0.6)], &[(0, 0.8)]);
        let (rows, covariance) = adjusted(&[(3.0, a), (1.0, b)], 1);
        let misfit = Misfit::of_click(&rows, &covariance, 0).unwrap();
        assert!((misfit.in_sds - (-0.8 * 3.0f64 + 0.6 * 1.0).abs()).abs() < 1e-9);
    }

    #[test]
    fn the_far_tail_agrees_with_the_table_and_a_small_chi_square_is_no_misfit() {
        // Q(30) = 4.906 714e−198 (a common table of the normal tail; from memory).
        let expected = (2.0 * 4.906_714f64).ln() - 198.0 * std::f64::consts::LN_10;
        assert!((log_two_sided(30.0) - expected).abs() < 0.002);
        assert_eq!(log_chi_square_tail(9.0, 10.0), 0.0);
        // Half of all lie beyond the median, 9.342 for ten degrees (the same handbook).
        assert!((log_chi_square_tail(9.35, 10.0).exp() - 0.5).abs() < 0.01);
    }

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
