//! Non-linear least squares: Levenberg–Marquardt on sparse rows, and the covariance at the end.
//!
//! Method: Nielsen's damping (Madsen, Nielsen & Tingleff 2004, alg. 3.16) with Marquardt's
//! diagonal scaling; each step solves the scaled normal equations by Cholesky. The fixed point
//! depends only on the gradient, so the normal equations cost speed of convergence, not
//! accuracy. The covariance, where they would cost it, falls back to a QR factorisation when the
//! scaled matrix is ill-conditioned.
//!
//! With [`Stop::bend`] each step is bent along the model's curvature, and shortened where the
//! curvature is strong (geodesic acceleration, Transtrum & Sethna 2012; from memory): without it
//! two of the certified problems end far from their bottom. The survey, which has a good start,
//! goes without: it made the search for the start several times slower.
//!
//! Rows are sparse because a click knows one hoof and one frame of hundreds; the
//! `levenberg-marquardt` crate takes a dense Jacobian (the two were not timed side by side).
//!
//! Checked against the certified values of the NIST StRD problems in `tests/it/outside_nist.rs`.

use nalgebra::{Cholesky, DMatrix, DVector, Dyn};

/// Residuals and their sparse derivatives, row by row.
#[derive(Clone, Debug, Default)]
pub struct Rows {
    residuals: Vec<f64>,
    starts: Vec<usize>,
    columns: Vec<u32>,
    values: Vec<f64>,
    robust_cost: f64,
}

impl Rows {
    /// Adds what a robust loss costs beyond the squares of its down-weighted residuals.
    pub fn add_robust_cost(&mut self, cost: f64) {
        self.robust_cost += cost;
    }

    /// Adds one residual (already divided by its standard deviation) and its derivatives by
    /// column. A column may stand several times: its entries add up.
    pub fn push(&mut self, residual: f64, derivatives: impl IntoIterator<Item = (usize, f64)>) {
        self.starts.push(self.columns.len());
        self.residuals.push(residual);
        for (column, value) in derivatives {
            self.columns.push(column as u32);
            self.values.push(value);
        }
    }

    /// Number of residuals.
    pub fn len(&self) -> usize {
        self.residuals.len()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.residuals.is_empty()
    }

    /// The residual of one row.
    pub fn residual(&self, row: usize) -> f64 {
        self.residuals[row]
    }

    /// The derivatives of one row, (column, value).
    pub fn derivatives(&self, row: usize) -> impl Iterator<Item = (usize, f64)> + '_ {
        let end = self.starts.get(row + 1).copied().unwrap_or(self.columns.len());
        (self.starts[row]..end).map(|at| (self.columns[at] as usize, self.values[at]))
    }

    /// Half the sum of squared residuals, and what robust losses add.
    pub fn cost(&self) -> f64 {
        self.residuals.iter().map(|r| r * r).sum::<f64>() / 2.0 + self.robust_cost
    }

    fn normal_equations(&self, unknowns: usize) -> (DMatrix<f64>, DVector<f64>) {
        let mut normal = DMatrix::zeros(unknowns, unknowns);
        let mut gradient = DVector::zeros(unknowns);
        for row in 0..self.len() {
            let residual = self.residuals[row];
            for (i, a) in self.derivatives(row) {
                gradient[i] += a * residual;
                for (j, b) in self.derivatives(row) {
                    normal[(i, j)] += a * b;
                }
            }
        }
        (normal, gradient)
    }

    fn dense(&self, unknowns: usize) -> DMatrix<f64> {
        let mut dense = DMatrix::zeros(self.len().max(unknowns), unknowns);
        for row in 0..self.len() {
            for (column, value) in self.derivatives(row) {
                dense[(row, column)] += value;
            }
        }
        dense
    }
}

/// A least-squares problem.
pub trait Problem {
    /// Residuals and derivatives at `x`; `None` where the model has no value (a point behind the
    /// camera): the solver then takes a shorter step.
    fn rows(&self, x: &DVector<f64>) -> Option<Rows>;
}

/// When to stop.
#[derive(Clone, Copy, Debug)]
pub struct Stop {
    /// Most iterations.
    pub iterations: usize,
    /// Smallest relative step.
    pub step: f64,
    /// Smallest relative fall of the cost, predicted and found.
    pub cost: f64,
    /// Smallest fall of the cost, predicted and found, in the units of the residuals squared.
    /// With residuals in standard deviations, 1e-4 means that no unknown is farther than about
    /// a hundredth of its own standard deviation from the bottom.
    pub fall: f64,
    /// Whether steps are bent along the model's curvature: needed from far starts, and it costs
    /// the residuals once more for every step.
    pub bend: bool,
}

impl Stop {
    /// To the last digit: for certified values.
    pub const EXACT: Self =
        Self { iterations: 5000, step: 1e-14, cost: 1e-28, fall: 0.0, bend: true };
    /// Far below any placing error.
    pub const SURVEY: Self =
        Self { iterations: 1000, step: 1e-10, cost: 1e-12, fall: 1e-4, bend: false };
}

/// Where the solver ended.
#[derive(Clone, Debug)]
pub struct Solution {
    /// The unknowns.
    pub x: DVector<f64>,
    /// Residuals and derivatives there.
    pub rows: Rows,
    /// Steps taken.
    pub iterations: usize,
    /// Whether a stopping rule other than the iteration limit was met.
    pub converged: bool,
}

/// Why there is no solution.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum SolveError {
    /// The model has no value at the start.
    #[error("cannot start the adjustment: the model has no value at the starting point")]
    NoStart,
    /// The unknowns are not determined.
    #[error("cannot adjust: unknown number {column} is not determined by the observations")]
    Undetermined {
        /// Index of an unknown that can move freely.
        column: usize,
    },
}

/// Damping under which a step is as good as Gauss and Newton's.
const LIGHT_DAMPING: f64 = 1e-3;
/// Below this, damping changes nothing, and only makes the way back up longer.
const LEAST_DAMPING: f64 = 1e-15;
/// A step whose cost falls by this many times what was predicted is stretched, at most so far.
const STRETCH_FROM: f64 = 1.5;
const MOST_STRETCH: f64 = 64.0;
/// Share of an unknown's earlier scale that is kept from step to step.
const SCALE_KEPT: f64 = 0.5;

/// Minimises the sum of squared residuals from `start`.
pub fn solve(
    problem: &impl Problem,
    start: DVector<f64>,
    stop: Stop,
) -> Result<Solution, SolveError> {
    let unknowns = start.len();
    let mut x = start;
    let mut rows = problem.rows(&x).ok_or(SolveError::NoStart)?;
    let mut cost = rows.cost();
    if !cost.is_finite() {
        return Err(SolveError::NoStart);
    }
    let mut scale = DVector::from_element(unknowns, 0.0);
    let (mut damping, mut growth) = (1e-4, 2.0);
    for iteration in 0..stop.iterations {
        let (normal, gradient) = rows.normal_equations(unknowns);
        // The largest diagonal so far, fading: one bad place on the way would else hold its
        // unknowns back for good, and the bare diagonal lets a flat place throw them far away.
        scale = normal
            .diagonal()
            .map(f64::sqrt)
            .zip_map(&scale, |now, before| f64::max(now, SCALE_KEPT * before));
        loop {
            let damped = Damped::new(&normal, &scale, damping);
            let step = damped.as_ref().map(|damped| damped.step(&gradient));
            let small = step.as_ref().is_some_and(|s| {
                s.component_mul(&scale).norm() <= stop.step * x.component_mul(&scale).norm()
            });
            let found = damped.zip(step.as_ref()).and_then(|(damped, step)| {
                // Down-weighted rows carry derivatives at a fixed weight, so that their
                // curvature cannot be told; and the last step needs none.
                let next = if small || !stop.bend || rows.robust_cost > 0.0 {
                    &x + step
                } else {
                    &x + step + correction(problem, &x, &rows, step, &damped, &scale)?
                };
                Some((problem.rows(&next)?, next))
            });
            if let (Some((next_rows, next)), Some(step)) = (found, step) {
                let next_cost = next_rows.cost();
                let weighted = step.component_mul(&scale);
                let predicted = (damping * weighted.norm_squared() - step.dot(&gradient)) / 2.0;
                if next_cost < cost {
                    let gain = (cost - next_cost) / predicted.max(f64::MIN_POSITIVE);
                    // A heavily damped step is short for its damping's sake: its small fall
                    // tells nothing.
                    let least = f64::max(
                        stop.cost * cost,
                        if damping <= LIGHT_DAMPING { stop.fall } else { 0.0 },
                    );
                    let flat = cost - next_cost <= least && predicted <= least;
                    (x, rows, cost) = if gain > STRETCH_FROM && !small {
                        stretched(problem, &x, &step, (next, next_rows, next_cost))
                    } else {
                        (next, next_rows, next_cost)
                    };
                    damping *= (1.0 - (2.0 * gain - 1.0).powi(3)).max(1.0 / 3.0);
                    damping = damping.max(LEAST_DAMPING);
                    growth = 2.0;
                    if small || flat {
                        return Ok(Solution {
                            x,
                            rows,
                            iterations: iteration + 1,
                            converged: true,
                        });
                    }
                    break;
                }
            }
            if small || damping > 1e30 {
                // No shorter step lowers the cost: this is the bottom, to rounding.
                let converged = small || gradient_is_flat(&gradient, &scale, cost);
                return Ok(Solution { x, rows, iterations: iteration + 1, converged });
            }
            damping *= growth;
            growth *= 2.0;
        }
    }
    Ok(Solution { x, rows, iterations: stop.iterations, converged: false })
}

/// Goes on along a step that fell faster than predicted, twice as far each time, as long as the
/// cost falls: along a valley in which the residuals' own curvature takes away most of the
/// normal equations' one, single steps would creep.
fn stretched(
    problem: &impl Problem,
    from: &DVector<f64>,
    step: &DVector<f64>,
    mut best: (DVector<f64>, Rows, f64),
) -> (DVector<f64>, Rows, f64) {
    let mut times = 2.0;
    while times <= MOST_STRETCH {
        let farther = from + step * times;
        let Some(rows) = problem.rows(&farther) else { break };
        let cost = rows.cost();
        if cost.is_nan() || cost >= best.2 {
            break;
        }
        best = (farther, rows, cost);
        times *= 2.0;
    }
    best
}

fn gradient_is_flat(gradient: &DVector<f64>, scale: &DVector<f64>, cost: f64) -> bool {
    let bound = 1e-8 * (2.0 * cost).sqrt().max(f64::MIN_POSITIVE);
    gradient.iter().zip(scale.iter()).all(|(g, s)| g.abs() <= bound * s.max(f64::MIN_POSITIVE))
}

/// `N + λ D²`, factorised in columns scaled to unit length.
struct Damped {
    factor: Cholesky<f64, Dyn>,
    unscale: DVector<f64>,
}

impl Damped {
    fn new(normal: &DMatrix<f64>, scale: &DVector<f64>, damping: f64) -> Option<Self> {
        let unscale = scale.map(|s| if s > 0.0 { 1.0 / s } else { 1.0 });
        let n = normal.nrows();
        let mut scaled = DMatrix::from_fn(n, n, |i, j| normal[(i, j)] * unscale[i] * unscale[j]);
        for i in 0..n {
            scaled[(i, i)] += damping;
        }
        Some(Self { factor: scaled.cholesky()?, unscale })
    }

    /// The step down `gradient`: solves `(N + λ D²) step = −gradient`.
    fn step(&self, gradient: &DVector<f64>) -> DVector<f64> {
        let step = self.factor.solve(&-gradient.component_mul(&self.unscale));
        step.component_mul(&self.unscale)
    }
}

/// How far along a step the residuals are probed for their curvature, as a part of the step.
const PROBE: f64 = 0.1;
/// A step whose correction is longer than this part of itself goes beyond where the derivatives
/// say anything.
const MOST_BEND: f64 = 0.5;

/// What curvature adds to `step`: half the acceleration of the path on which the residuals
/// change evenly. `None` where it is too strong for a step of this length, or where the model
/// has no value.
fn correction(
    problem: &impl Problem,
    x: &DVector<f64>,
    rows: &Rows,
    step: &DVector<f64>,
    damped: &Damped,
    scale: &DVector<f64>,
) -> Option<DVector<f64>> {
    let probed = problem.rows(&(x + step * PROBE))?;
    let mut pull = DVector::zeros(x.len());
    for row in 0..rows.len() {
        let slope: f64 = rows.derivatives(row).map(|(i, a)| a * step[i]).sum();
        let change = (probed.residual(row) - rows.residual(row)) / PROBE;
        let curvature = 2.0 / PROBE * (change - slope);
        for (i, a) in rows.derivatives(row) {
            pull[i] += a * curvature;
        }
    }
    let acceleration = damped.step(&pull);
    let size = acceleration.component_mul(scale).norm();
    (size <= MOST_BEND * step.component_mul(scale).norm()).then(|| acceleration / 2.0)
}

/// Covariance of the unknowns at `solution` for residuals of unit variance: the inverse of the
/// normal matrix. For residuals of unknown variance multiply by 2·cost / redundancy.
pub fn covariance(rows: &Rows, unknowns: usize) -> Result<DMatrix<f64>, SolveError> {
    let (normal, _) = rows.normal_equations(unknowns);
    let lengths = normal.diagonal().map(f64::sqrt);
    if let Some(column) = lengths.iter().position(|length| length.is_nan() || *length <= 0.0) {
        return Err(SolveError::Undetermined { column });
    }
    let n = unknowns;
    let scaled = DMatrix::from_fn(n, n, |i, j| normal[(i, j)] / (lengths[i] * lengths[j]));
    // The smallest pivot of a unit-diagonal matrix tells how much of a column the others leave.
    let inverse = scaled
        .cholesky()
        .filter(|factor| factor.l_dirty().diagonal().iter().all(|pivot| pivot * pivot > 1e-7))
        .map(|factor| factor.inverse());
    let inverse = match inverse {
        Some(inverse) => inverse,
        None => inverse_by_qr(rows, &lengths)?,
    };
    Ok(DMatrix::from_fn(n, n, |i, j| inverse[(i, j)] / (lengths[i] * lengths[j])))
}

fn inverse_by_qr(rows: &Rows, lengths: &DVector<f64>) -> Result<DMatrix<f64>, SolveError> {
    let mut dense = rows.dense(lengths.len());
    for (mut column, length) in dense.column_iter_mut().zip(lengths.iter()) {
        column /= *length;
    }
    let upper = dense.qr().r();
    let weakest = upper.diagonal().map(f64::abs).imin();
    if upper[(weakest, weakest)].abs() < 1e-13 {
        return Err(SolveError::Undetermined { column: weakest });
    }
    let identity = DMatrix::identity(lengths.len(), lengths.len());
    let root = upper
        .solve_upper_triangular(&identity)
        .ok_or(SolveError::Undetermined { column: weakest })?;
    Ok(&root * root.transpose())
}

#[cfg(test)]
mod tests;
