//! Seeded draws from a joint normal distribution: how uncertainty reaches non-linear numbers.
//!
//! Propagation of distributions by Monte Carlo, JCGM 101:2008 (section 6.4.8 for the
//! multivariate normal by Cholesky factor). The seed is an argument; the same seed gives the
//! same draws on every machine (ChaCha8).

use nalgebra::{DMatrix, DVector};
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, StandardNormal};

/// Why no draws could be made.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum DrawError {
    /// The covariance has a direction of negative variance beyond rounding.
    #[error(
        "cannot draw from the covariance: its smallest eigenvalue is {smallest:.3e} (0 or more needed)"
    )]
    NotACovariance {
        /// The offending eigenvalue.
        smallest: f64,
    },
}

/// The generator all draws and all invented scenes use.
pub fn seeded(seed: u64) -> ChaCha8Rng {
    ChaCha8Rng::seed_from_u64(seed)
}

/// A joint normal distribution ready to be drawn from.
pub struct GaussianDraws {
    mean: DVector<f64>,
    factor: DMatrix<f64>,
}

impl GaussianDraws {
    /// From a mean (n) and a covariance (n × n, units of the mean squared). A covariance that
    /// is singular (something known exactly) is fine.
    pub fn new(mean: DVector<f64>, covariance: &DMatrix<f64>) -> Result<Self, DrawError> {
        if let Some(cholesky) = covariance.clone().cholesky() {
            return Ok(Self { mean, factor: cholesky.l() });
        }
        let eigen = covariance.clone().symmetric_eigen();
        let largest = eigen.eigenvalues.amax();
        let smallest = eigen.eigenvalues.min();
        if smallest < -1e-9 * largest.max(f64::MIN_POSITIVE) {
            return Err(DrawError::NotACovariance { smallest });
        }
        let roots = eigen.eigenvalues.map(|value| value.max(0.0).sqrt());
        Ok(Self { mean, factor: eigen.eigenvectors * DMatrix::from_diagonal(&roots) })
    }

    /// One draw about zero from a root of the covariance (any `factor` with covariance
    /// `factor factorᵀ`).
    pub fn of_factor(factor: &DMatrix<f64>, random: &mut ChaCha8Rng) -> DVector<f64> {
        let normal = DVector::from_fn(factor.ncols(), |_, _| {
            let value: f64 = StandardNormal.sample(random);
            value
        });
        factor * normal
    }

    /// `count` draws, one column each.
    pub fn draw(&self, count: usize, random: &mut ChaCha8Rng) -> DMatrix<f64> {
        let rows = self.factor.ncols();
        let normal = DMatrix::from_fn(rows, count, |_, _| {
            let value: f64 = StandardNormal.sample(random);
            value
        });
        let mut draws = &self.factor * normal;
        for mut column in draws.column_iter_mut() {
            column += &self.mean;
        }
        draws
    }
}
