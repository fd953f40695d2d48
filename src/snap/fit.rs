//! Moves the outline until the model explains the pixels best.

use nalgebra::{SMatrix, SVector};

use super::appearance::{Appearance, Surface};
use super::patch::{Patch, median};
use super::shape::{COUNT, Shape};

/// A fitted outline.
#[derive(Clone, Debug)]
pub(super) struct Fitted {
    pub(super) shape: Shape,
    /// Weight of each pixel: below 1 where something else than the model is seen.
    pub(super) weights: Vec<f64>,
    pub(super) left_over: Vec<f64>,
    pub(super) levels: Vec<f64>,
    /// Standard deviation of what is left over, grey levels.
    pub(super) noise: f64,
    /// How much the end differs from the ground beyond it, levels.
    pub(super) end_step: f64,
}

/// What is believed of an outline before the picture: weak, so that where the picture says
/// something it decides, and where it does not (a shadow that is not there) the sums still have
/// an answer.
#[derive(Clone, Copy, Debug)]
pub(super) struct Beliefs {
    mean: [f64; COUNT],
    sd: [f64; COUNT],
}

impl Beliefs {
    /// About a start: `turn_sd` says how well the direction is known.
    pub(super) fn about(start: &Shape, turn_sd: f64) -> Self {
        let half = start.half;
        let mut mean = start.values();
        mean[3] = 0.0;
        mean[5..].copy_from_slice(&[0.5, 0.0, 0.0, 0.6, 0.0, -0.1]);
        let shadow = 1.2 * half;
        let sd = [50.0, turn_sd, 20.0, 0.04, 50.0, 1.5, shadow, shadow, 0.25, 0.25, 0.2];
        Self { mean, sd }
    }

    pub(super) fn sd(&self) -> [f64; COUNT] {
        self.sd
    }

    fn left_over(&self, shape: &Shape) -> SVector<f64, COUNT> {
        let values = shape.values();
        SVector::from_fn(|i, _| (values[i] - self.mean[i]) / self.sd[i])
    }
}

/// Steps of the numerical derivatives.
pub(super) const STEPS: [f64; COUNT] =
    [0.01, 0.001, 0.01, 0.001, 0.01, 0.01, 0.02, 0.02, 0.01, 0.01, 0.01];

/// Fits from `start`, at most `rounds` steps.
pub(super) fn fit(
    patch: &Patch,
    surface: Surface,
    start: Shape,
    beliefs: &Beliefs,
    noise: f64,
    rounds: u32,
) -> Option<Fitted> {
    let appearance = Appearance::of(patch, surface);
    let mut state = State { patch, appearance, beliefs, weights: vec![1.0; patch.pixels.len()] };
    let mut shape = start.possible();
    let mut noise = noise;
    let mut damping = 1e-3;
    let mut left = state.left_over(&shape, noise)?;
    for round in 0..rounds {
        // Weights and noise follow the fit, and are held while steps are compared.
        if round > 0 {
            noise = spread(&left);
            state.weights = left.iter().map(|value| weight(value / noise)).collect();
            left = state.left_over(&shape, noise)?;
        }
        let cost = state.cost(&shape, &left, noise);
        let (normal, right) = state.normal(&shape, &left, noise)?;
        let mut moved = 0.0;
        let mut better = false;
        for _ in 0..5 {
            let mut damped = normal;
            for i in 0..COUNT {
                damped[(i, i)] *= 1.0 + damping;
            }
            let step = damped.cholesky()?.solve(&right);
            let values = shape.values();
            let next = Shape::from_values(std::array::from_fn(|i| values[i] + step[i])).possible();
            let next_left = state.left_over(&next, noise);
            if let Some(next_left) = next_left
                && state.cost(&next, &next_left, noise) < cost
            {
                moved = step[0].abs() + step[2].abs() + step[4].abs();
                shape = next;
                left = next_left;
                damping = (damping * 0.3).max(1e-6);
                better = true;
                break;
            }
            damping *= 10.0;
        }
        if !better || (moved < 0.003 && round > 1) {
            break;
        }
    }
    noise = spread(&left);
    let solved = appearance.solve(&shape, patch, &state.weights, noise)?;
    let end_step = appearance.end_step(&shape, &solved.levels);
    Some(Fitted {
        shape,
        weights: state.weights,
        left_over: solved.left_over,
        levels: solved.levels,
        noise,
        end_step,
    })
}

/// A bell curve's standard deviation from the median of the absolute values; never below what
/// rounding to whole levels leaves.
fn spread(left: &[f64]) -> f64 {
    (1.4826 * median(left.iter().map(|value| value.abs()).collect())).max(0.7)
}

/// Full weight up to 2.5 standard deviations, less beyond (Huber).
fn weight(z: f64) -> f64 {
    if z.abs() <= 2.5 { 1.0 } else { 2.5 / z.abs() }
}

struct State<'a> {
    patch: &'a Patch,
    appearance: Appearance,
    beliefs: &'a Beliefs,
    weights: Vec<f64>,
}

impl State<'_> {
    fn left_over(&self, shape: &Shape, noise: f64) -> Option<Vec<f64>> {
        let solved = self.appearance.solve(shape, self.patch, &self.weights, noise)?;
        Some(solved.left_over)
    }

    fn cost(&self, shape: &Shape, left: &[f64], noise: f64) -> f64 {
        let squares: f64 = left.iter().zip(&self.weights).map(|(r, w)| w * r * r).sum();
        squares / (noise * noise) + self.beliefs.left_over(shape).norm_squared()
    }

    /// Normal equations of the outline alone; the brightness follows it at every step.
    fn normal(
        &self,
        shape: &Shape,
        left: &[f64],
        noise: f64,
    ) -> Option<(SMatrix<f64, COUNT, COUNT>, SVector<f64, COUNT>)> {
        let values = shape.values();
        let mut slopes = Vec::with_capacity(COUNT);
        for i in 0..COUNT {
            // Away from the limits, so that the step is one.
            let step = if i == 5 && values[i] > 0.5 { -STEPS[i] } else { STEPS[i] };
            let mut moved = values;
            moved[i] += step;
            let there = self.left_over(&Shape::from_values(moved), noise)?;
            let slope: Vec<f64> = there.iter().zip(left).map(|(b, a)| (b - a) / step).collect();
            slopes.push(slope);
        }
        let mut normal = SMatrix::<f64, COUNT, COUNT>::zeros();
        let mut right = SVector::<f64, COUNT>::zeros();
        let square = noise * noise;
        for i in 0..COUNT {
            for j in 0..=i {
                let sum: f64 = slopes[i]
                    .iter()
                    .zip(&slopes[j])
                    .zip(&self.weights)
                    .map(|((a, b), w)| w * a * b)
                    .sum();
                normal[(i, j)] = sum / square;
                normal[(j, i)] = sum / square;
            }
            let sum: f64 =
                slopes[i].iter().zip(left).zip(&self.weights).map(|((a, r), w)| w * a * r).sum();
            right[i] = -sum / square;
        }
        let believed = self.beliefs.left_over(shape);
        for i in 0..COUNT {
            normal[(i, i)] += 1.0 / self.beliefs.sd[i].powi(2);
            right[i] -= believed[i] / self.beliefs.sd[i];
        }
        Some((normal, right))
    }
}
