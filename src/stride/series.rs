//! The true lengths behind a series of measured ones, for numbers that measure their spread.
//!
//! Measured lengths scatter by their own error on top of the horse's, and draws about them scatter
//! once more: range and coefficient of variation of such draws count the error twice. So the
//! lengths are taken as drawn from a normal distribution of unknown mean, unknown spread and
//! unknown trend, and drawn anew given what was measured. With one spread and no trend this is the
//! normal model with known variances of Gelman et al., Bayesian Data Analysis, 3rd ed., section 5.4
//! (from memory), here with the full covariance of the lengths, since they share hooves and camera.
//!
//! The trend is there because an error of the camera is mostly one: without it, strides that grow or
//! shrink steadily would be taken for that error, and said to be level. It has a size of its own, of
//! which small ones are the more probable beforehand (flat in its root): were it flat, a level approach
//! would be given a trend by its errors. Mean and spread are flat beforehand.

use nalgebra::{DMatrix, DVector};
use rand::RngExt;
use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, StandardNormal};

use crate::quantity::GaussianDraws;

/// Steps of the table of spreads, and of the sizes of the trend.
const SPREADS: usize = 32;
const TRENDS: usize = 12;
/// Rows of the table that are less probable than the most probable by this, natural log, are never
/// drawn.
const NEVER: f64 = 30.0;

/// How much the true lengths may differ.
#[derive(Clone, Copy, Debug)]
struct Differing {
    /// Standard deviation about the trend, metres.
    spread: f64,
    /// Standard deviation of the trend, metres a stride.
    trend: f64,
}

/// What is known of the lengths for one way of differing.
struct Given {
    weight: f64,
    mean_at: f64,
    mean_sd: f64,
    /// Inverse of error and difference together.
    inverse: DMatrix<f64>,
    /// Covariance of the true lengths about their mean.
    differ: DMatrix<f64>,
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
    // Far beyond what the measured lengths allow for their spread, and for a trend from end to end.
    let widest = 3.0 * (measured.max() - measured.min()) + 0.02 * mean.abs();
    let steepest = 2.0 * widest / (strides as f64 - 1.0);
    let at = |step: usize, steps: usize| (step as f64 + 0.5) / steps as f64;
    let differing = (0..SPREADS).flat_map(|spread| {
        (0..TRENDS).map(move |trend| Differing {
            spread: widest * at(spread, SPREADS),
            trend: steepest * at(trend, TRENDS).powi(2),
        })
    });
    let mut table: Vec<Given> =
        differing.filter_map(|differing| given(measured, errors, differing)).collect();
    let top = table.iter().map(|row| row.weight).fold(f64::NEG_INFINITY, f64::max);
    table.retain(|row| row.weight > top - NEVER);
    let weights: Vec<f64> = table.iter().map(|row| (row.weight - top).exp()).collect();
    let total: f64 = weights.iter().sum();
    let table: Vec<Left> = table.into_iter().map(|row| row.left(errors)).collect();
    let mut draws = DMatrix::zeros(strides, count);
    for column in 0..count {
        let mut at = random.random::<f64>() * total;
        let row = weights.iter().position(|weight| {
            at -= weight;
            at <= 0.0
        });
        let row = &table[row.unwrap_or(table.len() - 1)];
        let normal: f64 = StandardNormal.sample(random);
        let centre = DVector::from_element(strides, row.given.mean_at + row.given.mean_sd * normal);
        let pulled = measured - &row.pull * (measured - centre);
        let drawn = pulled + GaussianDraws::of_factor(&row.scatter, random);
        draws.set_column(column, &drawn);
    }
    draws
}

/// The table's row for one way of differing; `None` where the errors leave it no density.
fn given(measured: &DVector<f64>, errors: &DMatrix<f64>, differing: Differing) -> Option<Given> {
    let strides = measured.len();
    let identity = DMatrix::identity(strides, strides);
    let middle = (strides as f64 - 1.0) / 2.0;
    let steps = DVector::from_fn(strides, |stride, _| stride as f64 - middle);
    let differ =
        &identity * differing.spread.powi(2) + &steps * steps.transpose() * differing.trend.powi(2);
    let both = (errors + &differ).cholesky()?;
    let ones = DVector::from_element(strides, 1.0);
    let by_ones = both.solve(&ones);
    let precision = ones.dot(&by_ones);
    let mean_at = by_ones.dot(measured) / precision;
    let off = measured - &ones * mean_at;
    let weight = -both.l().diagonal().map(f64::ln).sum()
        - off.dot(&both.solve(&off)) / 2.0
        - precision.ln() / 2.0;
    let inverse = both.inverse();
    Some(Given { weight, mean_at, mean_sd: precision.recip().sqrt(), inverse, differ })
}

/// What a row leaves of the lengths, once they are measured.
struct Left {
    given: Given,
    /// How far the measured lengths are pulled to the mean: error over error and difference.
    pull: DMatrix<f64>,
    scatter: DMatrix<f64>,
}

impl Given {
    fn left(self, errors: &DMatrix<f64>) -> Left {
        let pull = errors * &self.inverse;
        // Error and difference both known: what is left is their parallel sum.
        let scatter = &pull * &self.differ;
        let scatter = (&scatter + scatter.transpose()) / 2.0;
        let eigen = scatter.symmetric_eigen();
        let roots = eigen.eigenvalues.map(|value| value.max(0.0).sqrt());
        let scatter = eigen.eigenvectors * DMatrix::from_diagonal(&roots);
        Left { given: self, pull, scatter }
    }
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
        let differing = Differing { spread: 0.3, trend: 0.0 };
        let row = given(&measured, &errors, differing).unwrap();
        let precision = 1.0 / 0.10 + 1.0 / 0.13;
        let mean = (3.0 / 0.10 + 3.6 / 0.13) / precision;
        assert!((row.mean_at - mean).abs() < 1e-12);
        assert!((row.mean_sd - precision.powf(-0.5)).abs() < 1e-12);
        let row_weight = row.weight;
        let row = row.left(&errors);
        let pull = DMatrix::from_diagonal(&DVector::from_vec(vec![0.01 / 0.10, 0.04 / 0.13]));
        assert!((&row.pull - pull).norm() < 1e-12, "{}", row.pull);
        // What is left of each: error and spread in parallel, 1 / (1/0.01 + 1/0.09) = 0.009.
        let left = DVector::from_vec(vec![0.009, 0.04 * 0.09 / 0.13]);
        let found = &row.scatter * row.scatter.transpose();
        assert!((&found - DMatrix::from_diagonal(&left)).norm() < 1e-12, "{found}");
        // ln of p(spread | measured) but for what all spreads share, eq. 5.21.
        let off = [(3.0 - mean).powi(2) / 0.10, (3.6 - mean).powi(2) / 0.13];
        let weight = -(0.10_f64 * 0.13).ln() / 2.0 - (off[0] + off[1]) / 2.0 - precision.ln() / 2.0;
        assert!((row_weight - weight).abs() < 1e-12, "{row_weight} {weight}");
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
        let row = given(&measured, &errors, Differing { spread: 0.2, trend: 0.0 }).unwrap();
        let mean_at = row.mean_at;
        let row = row.left(&errors);
        // Error and spread in parallel: (E⁻¹ + 1/0.04)⁻¹, by the inverses themselves.
        let precision = errors.clone().try_inverse().unwrap() + DMatrix::identity(3, 3) / 0.04;
        let left = precision.try_inverse().unwrap();
        let found = &row.scatter * row.scatter.transpose();
        assert!((found - left).norm() < 1e-12);
        assert!((mean_at - 3.4).abs() < 1e-12, "the middle of a series alike from both ends");
    }

    #[test]
    fn the_spread_of_the_truths_is_that_of_its_integral() {
        // Equal errors e, so that the trend (size c along the steps, which have squares q) and what is
        // left beside it (squares S in n − 2 directions) stand apart. For a spread s and a trend t the
        // density is (e + s²)^−(n−2)/2 exp(−S / 2(e + s²)) times (e + p)^−1/2 exp(−c² / 2(e + p)), with
        // p = s² + q t²; of a direction with the measured square m² and difference d, (d/(e + d))² m² +
        // e d / (e + d) is left. Summed finely up to where the lengths leave no more: a spread of 3
        // ranges and a fiftieth of the mean, a trend of as much from the middle to an end, flat in its root.
        let measured = DVector::from_vec(vec![3.30, 3.52, 3.41, 3.60, 3.37]);
        let (n, e, q): (f64, f64, f64) = (5.0, 0.08_f64.powi(2), 10.0);
        let along: f64 = (0..5).map(|k| (k as f64 - 2.0) * measured[k]).sum::<f64>() / q.sqrt();
        let rest = measured.variance() * n - along.powi(2);
        let widest = 3.0 * 0.30 + 0.02 * 3.44;
        let left = |d: f64, square: f64, count: f64| {
            (d / (e + d)).powi(2) * square + count * e * d / (e + d)
        };
        let (mut total, mut sum) = (0.0, 0.0);
        for spread in 0..800 {
            let s2 = (widest * (f64::from(spread) + 0.5) / 800.0).powi(2);
            for trend in 0..800 {
                let t = widest / 2.0 * ((f64::from(trend) + 0.5) / 800.0).powi(2);
                let p = s2 + q * t * t;
                let density = (e + s2).powf(-(n - 2.0) / 2.0)
                    * (-rest / 2.0 / (e + s2)).exp()
                    * (e + p).powf(-0.5)
                    * (-along.powi(2) / 2.0 / (e + p)).exp();
                total += density;
                sum += density * (left(s2, rest, n - 2.0) + left(p, along.powi(2), 1.0));
            }
        }
        let draws =
            draw_true_lengths(&measured, &(DMatrix::identity(5, 5) * e), 20_000, &mut seeded(11));
        let found = draws.column_iter().map(|c| c.variance() * n).sum::<f64>() / 20_000.0;
        assert!((found / (sum / total) - 1.0).abs() < 0.02, "{found} against {}", sum / total);
        let mean = draws.mean();
        assert!((mean - 3.44).abs() < 0.005, "{mean}");
    }

    #[test]
    fn a_trend_is_not_taken_for_an_error_that_looks_like_one() {
        // Errors of a camera: 0.02 m a stride along the series, 0.02 m of each hoof. Strides that grow by
        // 0.06 m each, scattered by 0.03 m: intervals of the range must hold the truth, not lie below it.
        let steps = DVector::from_fn(6, |stride, _| stride as f64 - 2.5);
        let hooves = DMatrix::from_fn(6, 6, |i, j| match i.abs_diff(j) {
            0 => 2.0,
            1 => -1.0,
            _ => 0.0,
        });
        let errors = (&steps * steps.transpose() + hooves) * 0.02_f64.powi(2);
        let root = errors.clone().cholesky().unwrap().l();
        let mut random = seeded(5);
        let (mut inside, mut below) = (0, 0);
        for _ in 0..200 {
            let mut normal = || -> f64 { StandardNormal.sample(&mut random) };
            let truth = DVector::from_fn(6, |k, _| 3.5 + 0.06 * steps[k] + 0.03 * normal());
            let slips = DVector::from_fn(6, |_, _| normal());
            let draws = draw_true_lengths(&(&truth + &root * slips), &errors, 400, &mut random);
            let mut ranges: Vec<f64> = draws.column_iter().map(|c| c.max() - c.min()).collect();
            ranges.sort_by(f64::total_cmp);
            let range = truth.max() - truth.min();
            inside += u32::from((ranges[10]..=ranges[389]).contains(&range));
            below += u32::from(range > ranges[389]);
        }
        assert!(inside >= 180 && below <= 14, "{inside} and {below} of 200");
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
