//! The true lengths behind a series of measured ones, for numbers that measure their spread.
//!
//! Measured lengths scatter by their own error on top of the horse's, and draws about them scatter
//! once more: range and coefficient of variation of such draws count the error twice. So the
//! lengths are taken as drawn from a normal distribution of unknown mean and unknown spread (both
//! flat beforehand), and drawn anew given what was measured. With one spread this is the normal
//! model with known variances of Gelman et al., Bayesian Data Analysis, 3rd ed., section 5.4 (from
//! memory), here with the full covariance of the lengths, since they share hooves and camera.

use nalgebra::{DMatrix, DVector};
use rand::RngExt;
use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, StandardNormal};

use crate::quantity::GaussianDraws;

/// Steps of the table of spreads.
const STEPS: usize = 48;

/// What is known of the lengths for one spread.
struct Given {
    weight: f64,
    mean_at: f64,
    mean_sd: f64,
    /// How far the measured lengths are pulled to the mean: error over error and spread.
    pull: DMatrix<f64>,
    scatter: DMatrix<f64>,
}

/// `count` draws of the true lengths (one column each) given the measured ones and the covariance
/// of their errors, metres.
pub(super) fn draw_true_lengths(
    measured: &DVector<f64>,
    errors: &DMatrix<f64>,
    count: usize,
    random: &mut ChaCha8Rng,
) -> DMatrix<f64> {
    let strides = measured.len();
    let mean = measured.mean();
    // Far beyond what the measured lengths allow for their spread.
    let widest = 3.0 * (measured.max() - measured.min()) + 0.02 * mean.abs();
    let table: Vec<Given> = (0..STEPS)
        .filter_map(|step| given(measured, errors, widest * (step as f64 + 0.5) / STEPS as f64))
        .collect();
    let top = table.iter().map(|row| row.weight).fold(f64::NEG_INFINITY, f64::max);
    let weights: Vec<f64> = table.iter().map(|row| (row.weight - top).exp()).collect();
    let total: f64 = weights.iter().sum();
    let mut draws = DMatrix::zeros(strides, count);
    for column in 0..count {
        let mut at = random.random::<f64>() * total;
        let row = weights.iter().position(|weight| {
            at -= weight;
            at <= 0.0
        });
        let row = &table[row.unwrap_or(table.len() - 1)];
        let normal: f64 = StandardNormal.sample(random);
        let centre = DVector::from_element(strides, row.mean_at + row.mean_sd * normal);
        let pulled = measured - &row.pull * (measured - centre);
        let drawn = pulled + GaussianDraws::of_factor(&row.scatter, random);
        draws.set_column(column, &drawn);
    }
    draws
}

/// The table's row for one spread; `None` where the errors leave it no density.
fn given(measured: &DVector<f64>, errors: &DMatrix<f64>, spread: f64) -> Option<Given> {
    let strides = measured.len();
    let identity = DMatrix::identity(strides, strides);
    let both = (errors + &identity * spread.powi(2)).cholesky()?;
    let ones = DVector::from_element(strides, 1.0);
    let by_ones = both.solve(&ones);
    let precision = ones.dot(&by_ones);
    let mean_at = by_ones.dot(measured) / precision;
    let off = measured - &ones * mean_at;
    let weight = -both.l().diagonal().map(f64::ln).sum()
        - off.dot(&both.solve(&off)) / 2.0
        - precision.ln() / 2.0;
    let pull = errors * both.solve(&identity);
    let left = &identity * spread.powi(2);
    // Error and spread both known: what is left is their parallel sum.
    let scatter = &pull * left;
    let scatter = (&scatter + scatter.transpose()) / 2.0;
    let eigen = scatter.symmetric_eigen();
    let roots = eigen.eigenvalues.map(|value| value.max(0.0).sqrt());
    let scatter = eigen.eigenvectors * DMatrix::from_diagonal(&roots);
    Some(Given { weight, mean_at, mean_sd: precision.recip().sqrt(), pull, scatter })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::seeded;

    fn sd(values: impl Iterator<Item = f64> + Clone) -> f64 {
        let count = values.clone().count() as f64;
        let mean = values.clone().sum::<f64>() / count;
        (values.map(|v| (v - mean).powi(2)).sum::<f64>() / (count - 1.0)).sqrt()
    }

    #[test]
    fn one_spread_gives_the_normal_model_with_known_variances() {
        // Gelman et al., Bayesian Data Analysis, 3rd ed., section 5.4 (from memory): errors of
        // variance 0.01 and 0.04 and a spread of 0.3 make variances of 0.10 and 0.13.
        let measured = DVector::from_vec(vec![3.0, 3.6]);
        let errors = DMatrix::from_diagonal(&DVector::from_vec(vec![0.01, 0.04]));
        let row = given(&measured, &errors, 0.3).unwrap();
        let precision = 1.0 / 0.10 + 1.0 / 0.13;
        let mean = (3.0 / 0.10 + 3.6 / 0.13) / precision;
        assert!((row.mean_at - mean).abs() < 1e-12);
        assert!((row.mean_sd - precision.powf(-0.5)).abs() < 1e-12);
        let pull = DMatrix::from_diagonal(&DVector::from_vec(vec![0.01 / 0.10, 0.04 / 0.13]));
        assert!((&row.pull - pull).norm() < 1e-12, "{}", row.pull);
        // What is left of each: error and spread in parallel, 1 / (1/0.01 + 1/0.09) = 0.009.
        let left = DVector::from_vec(vec![0.009, 0.04 * 0.09 / 0.13]);
        let found = &row.scatter * row.scatter.transpose();
        assert!((&found - DMatrix::from_diagonal(&left)).norm() < 1e-12, "{found}");
        // ln of p(spread | measured) but for what all spreads share, eq. 5.21.
        let off = [(3.0 - mean).powi(2) / 0.10, (3.6 - mean).powi(2) / 0.13];
        let weight = -(0.10_f64 * 0.13).ln() / 2.0 - (off[0] + off[1]) / 2.0 - precision.ln() / 2.0;
        assert!((row.weight - weight).abs() < 1e-12, "{} {weight}", row.weight);
    }

    #[test]
    fn an_error_that_lengths_share_moves_them_together() {
        // Two strides share a hoof: what one gains the other loses.
        let measured = DVector::from_vec(vec![3.2, 3.4, 3.6]);
        let errors = DMatrix::from_row_slice(
            3,
            3,
            &[0.02, -0.01, 0.0, -0.01, 0.02, -0.01, 0.0, -0.01, 0.02],
        );
        let row = given(&measured, &errors, 0.2).unwrap();
        // Error and spread in parallel: (E⁻¹ + 1/0.04)⁻¹, by the inverses themselves.
        let precision = errors.clone().try_inverse().unwrap() + DMatrix::identity(3, 3) / 0.04;
        let left = precision.try_inverse().unwrap();
        let found = &row.scatter * row.scatter.transpose();
        assert!((found - left).norm() < 1e-12);
        assert!((row.mean_at - 3.4).abs() < 1e-12, "the middle of a series alike from both ends");
    }

    #[test]
    fn the_spread_of_the_truths_is_that_of_its_integral() {
        // Equal errors: given a spread s the squares about the mean are (1 − B)² S + (n − 1) e B',
        // with B = e / (e + s²), B' = s² / (e + s²), S the measured ones; and s has the density
        // (e + s²)^−(n−1)/2 exp(−S / 2(e + s²)). Summed here over s finely, up to where the lengths
        // leave no more: 3 ranges and a fiftieth of the mean.
        let measured = DVector::from_vec(vec![3.30, 3.52, 3.41, 3.60, 3.37]);
        let (n, e) = (5.0, 0.08_f64.powi(2));
        let squares = measured.variance() * n;
        let (mut total, mut sum) = (0.0, 0.0);
        for step in 0..20_000 {
            let s2 = ((3.0 * 0.30 + 0.02 * 3.44) * (f64::from(step) + 0.5) / 20_000.0).powi(2);
            let both: f64 = e + s2;
            let density = both.powf(-(n - 1.0) / 2.0) * (-squares / 2.0 / both).exp();
            total += density;
            sum += density * ((s2 / both).powi(2) * squares + (n - 1.0) * e * s2 / both);
        }
        let draws =
            draw_true_lengths(&measured, &(DMatrix::identity(5, 5) * e), 20_000, &mut seeded(11));
        let found = draws.column_iter().map(|c| c.variance() * n).sum::<f64>() / 20_000.0;
        assert!((found / (sum / total) - 1.0).abs() < 0.02, "{found} against {}", sum / total);
        let mean = draws.mean();
        assert!((mean - 3.44).abs() < 0.005, "{mean}");
    }

    #[test]
    fn lengths_in_another_unit_have_the_same_draws_in_it() {
        let measured = DVector::from_vec(vec![3.5, 3.3, 3.0, 3.8]);
        let errors = DMatrix::from_fn(4, 4, |i, j| if i == j { 0.01 } else { 0.002 });
        let plain = draw_true_lengths(&measured, &errors, 200, &mut seeded(3));
        // Also in a unit so large that the densities leave the range of a float.
        for unit in [2.0, 2f64.powi(-200)] {
            let (measured, errors) = (&measured * unit, &errors * unit.powi(2));
            let drawn = draw_true_lengths(&measured, &errors, 200, &mut seeded(3));
            assert!((drawn / unit - &plain).norm() < 1e-6, "{unit}");
        }
    }

    #[test]
    fn small_errors_leave_the_lengths_alone() {
        let measured = DVector::from_vec(vec![3.5, 3.3, 3.0, 3.8]);
        let errors = DMatrix::identity(4, 4) * 0.01_f64.powi(2);
        let draws = draw_true_lengths(&measured, &errors, 2000, &mut seeded(1));
        for (stride, row) in draws.row_iter().enumerate() {
            assert!((row.mean() - measured[stride]).abs() < 0.002);
            let found = sd(row.iter().copied());
            assert!((found - 0.01).abs() < 0.001, "{found}");
        }
    }

    #[test]
    fn intervals_of_the_spread_hold_the_truth() {
        // Lengths of true sd 0.05 and 0.20 m about 3.4 m, measured with an error of 0.10 m.
        for spread in [0.05, 0.20] {
            let mut random = seeded(7);
            let errors = DMatrix::identity(6, 6) * 0.10_f64.powi(2);
            let mut inside = 0;
            for _ in 0..200 {
                let mut normal = || -> f64 { StandardNormal.sample(&mut random) };
                let truth: Vec<f64> = (0..6).map(|_| 3.4 + spread * normal()).collect();
                let measured = DVector::from_iterator(6, truth.iter().map(|t| t + 0.10 * normal()));
                let draws = draw_true_lengths(&measured, &errors, 400, &mut random);
                let mut spreads: Vec<f64> =
                    draws.column_iter().map(|c| sd(c.iter().copied())).collect();
                spreads.sort_by(f64::total_cmp);
                let true_sd = sd(truth.iter().copied());
                inside += u32::from((spreads[10]..=spreads[389]).contains(&true_sd));
            }
            // 95 % of 200 is 190, give or take 3; a truth drawn for one fixed spread, not for all
            // spreads alike, may lie a little outside that.
            assert!((180..=200).contains(&inside), "{spread}: {inside} of 200");
        }
    }
}
