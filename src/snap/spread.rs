//! How far the end found may be from the true one, from what the fit leaves over.
//!
//! Neighbouring pixels of sand, and of a pole that is not quite like the model, err alike. So the
//! variance is summed over pairs of neighbours, with each pixel's own left-over (a "sandwich"),
//! instead of supposing that all pixels err alone and equally.

use std::collections::HashMap;

use nalgebra::{DMatrix, DVector};

use super::appearance::{Appearance, Surface};
use super::fit::{Beliefs, Fitted, STEPS};
use super::patch::Patch;
use super::shape::{COUNT, Shape};

/// Standard deviations of the end, pixels.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spread {
    pub(super) along: f64,
    pub(super) across: f64,
}

/// Pixels up to this far apart in both directions are held to err alike, less the farther.
const LAG: i32 = 3;

pub(super) fn spread(
    patch: &Patch,
    surface: Surface,
    fitted: &Fitted,
    beliefs: &Beliefs,
) -> Option<Spread> {
    let appearance = Appearance::of(patch, surface);
    let (linear, count) = (appearance.count(), appearance.count() + COUNT);
    let mut slopes = DMatrix::<f64>::zeros(count, patch.pixels.len());
    for (i, pixel) in patch.pixels.iter().enumerate() {
        let row = appearance.row(&fitted.shape, pixel);
        for a in 0..row.count {
            slopes[(row.index[a], i)] = row.value[a];
        }
    }
    for k in 0..COUNT {
        let mut values = fitted.shape.values();
        values[k] += STEPS[k];
        let up = Shape::from_values(values);
        values[k] -= 2.0 * STEPS[k];
        let down = Shape::from_values(values);
        for (i, pixel) in patch.pixels.iter().enumerate() {
            let change = appearance.row(&up, pixel).says(&fitted.levels)
                - appearance.row(&down, pixel).says(&fitted.levels);
            slopes[(linear + k, i)] = change / (2.0 * STEPS[k]);
        }
    }
    let mut weighted = slopes.clone();
    for (i, weight) in fitted.weights.iter().enumerate() {
        weighted.column_mut(i).scale_mut(*weight);
    }
    let square = fitted.noise * fitted.noise;
    let mut normal = &weighted * slopes.transpose() / square;
    for i in 0..linear {
        normal[(i, i)] += appearance.belief(i).map_or(1e-9, |sd| sd.powi(-2));
    }
    for (k, sd) in beliefs.sd().iter().enumerate() {
        normal[(linear + k, linear + k)] += sd.powi(-2);
    }
    let solver = normal.cholesky()?;
    let shape = fitted.shape;
    let mut along = DVector::zeros(count);
    along[linear + 4] = 1.0;
    let mut across = DVector::zeros(count);
    across[linear] = 1.0;
    across[linear + 1] = shape.end;
    let leverage = leverage(&solver.solve(&weighted), &slopes, square);
    let neighbours = Neighbours::of(patch);
    let sd = |direction: &DVector<f64>| {
        let influence = weighted.tr_mul(&solver.solve(direction)) / square;
        let pulls: Vec<f64> = (0..patch.pixels.len())
            .map(|i| influence[i] * fitted.left_over[i] / (1.0 - leverage[i]))
            .collect();
        let alone = influence.norm() * fitted.noise;
        neighbours.sum(&pulls).max(0.25 * alone * alone).sqrt().max(alone)
    };
    Some(Spread { along: sd(&along), across: sd(&across) })
}

/// How much each pixel rules its own fit; a pixel that rules all of it leaves nothing over.
fn leverage(solved: &DMatrix<f64>, slopes: &DMatrix<f64>, square: f64) -> Vec<f64> {
    (0..slopes.ncols())
        .map(|i| (solved.column(i).dot(&slopes.column(i)) / square).clamp(0.0, 0.8))
        .collect()
}

/// Which pixels lie beside which.
struct Neighbours {
    pairs: Vec<(usize, usize, f64)>,
}

impl Neighbours {
    fn of(patch: &Patch) -> Self {
        let places: HashMap<(i32, i32), usize> =
            patch.pixels.iter().enumerate().map(|(i, pixel)| (pixel.at, i)).collect();
        let mut pairs = Vec::new();
        for (i, pixel) in patch.pixels.iter().enumerate() {
            for dy in -LAG..=LAG {
                for dx in -LAG..=LAG {
                    if let Some(&j) = places.get(&(pixel.at.0 + dx, pixel.at.1 + dy)) {
                        // A triangle in each direction: sums stay positive.
                        let fade = |d: i32| 1.0 - f64::from(d.abs()) / f64::from(LAG + 1);
                        pairs.push((i, j, fade(dx) * fade(dy)));
                    }
                }
            }
        }
        Self { pairs }
    }

    fn sum(&self, pulls: &[f64]) -> f64 {
        self.pairs.iter().map(|&(i, j, share)| share * pulls[i] * pulls[j]).sum()
    }
}
