//! Brightness of ground, shadow and pole, solved for a given outline.
//!
//! Model of a pixel: what the pole does not cover is ground (a plane of brightness) or shadow
//! (one brightness). Along the pole the brightness follows any curve through closely spaced
//! knots, which is how bands of paint enter; only at the end it keeps one value for a short way.
//! Across, it is a parabola at each knot, which is how the light on a round pole enters.

use super::banded::Banded;
use super::patch::{Patch, Pixel};
use super::shape::Shape;
use super::step::step;

/// Pixels between knots along the pole: no wider than the blur of a camera's pixels.
const KNOT_PX: f64 = 0.9;
/// From the end on this far the brightness is that at the end: a band of paint is no shorter.
/// Without it the model could go on beyond the end in the ground's own colour.
const PLATEAU_PX: f64 = 1.8;
/// Three for the ground, one for the shadow.
const GROUND: usize = 4;
/// Most entries of a row: two knots, the plateau, the ground.
const ENTRIES: usize = 2 * 3 + 3 + GROUND;
/// Beliefs, grey levels: how far a band's brightness lies from the ground's, its slope across
/// the pole and its bend. They only keep the sums solvable where a knot has no pixel.
const BELIEFS: [f64; 3] = [120.0, 50.0, 30.0];

/// How much the model of a pole's surface can tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Surface {
    /// One brightness at each knot: for the first search.
    Bands,
    /// A parabola across the pole at each knot, and a shadow.
    Round,
}

/// A row of the linear model; its indices rise.
#[derive(Clone, Copy)]
pub(super) struct Row {
    pub(super) index: [usize; ENTRIES],
    pub(super) value: [f64; ENTRIES],
    pub(super) count: usize,
}

/// The linear part of the model for one window. Unknowns in order: knots, plateau, ground.
#[derive(Clone, Copy, Debug)]
pub(super) struct Appearance {
    surface: Surface,
    first: f64,
    knots: usize,
}

/// Solved brightness.
pub(super) struct Solved {
    pub(super) levels: Vec<f64>,
    /// Of each pixel: picture less model.
    pub(super) left_over: Vec<f64>,
}

impl Appearance {
    pub(super) fn of(patch: &Patch, surface: Surface) -> Self {
        let (low, high) = patch.window.t;
        let knots = ((high - low) / KNOT_PX).ceil() as usize + 2;
        Self { surface, first: low, knots }
    }

    fn terms(self) -> usize {
        match self.surface {
            Surface::Bands => 1,
            Surface::Round => 3,
        }
    }

    fn plateau(self) -> usize {
        self.knots * self.terms()
    }

    fn ground(self) -> usize {
        (self.knots + 1) * self.terms()
    }

    pub(super) fn count(self) -> usize {
        self.ground() + GROUND
    }

    /// Belief about level `index`: standard deviation about zero, `None` where nothing is
    /// believed.
    pub(super) fn belief(self, index: usize) -> Option<f64> {
        if index < self.ground() {
            return BELIEFS.get(index % self.terms()).copied();
        }
        // The shadow, where the outline leaves none to be seen.
        (index == self.ground() + 3).then_some(BELIEFS[0])
    }

    /// The row of `pixel` under `shape`.
    pub(super) fn row(self, shape: &Shape, pixel: &Pixel) -> Row {
        let mut row = Row { index: [0; ENTRIES], value: [0.0; ENTRIES], count: 0 };
        let (t, u) = (pixel.t, pixel.u);
        let pole = shape.pole(t, u);
        if pole > 1e-6 {
            let share = shape.share(t, u).clamp(-1.2, 1.2);
            let across = [1.0, share, share * share - 1.0 / 3.0];
            let terms = self.terms();
            let beyond = step(t - shape.end - PLATEAU_PX, shape.blur);
            if beyond > 1e-6 {
                let place = ((t - self.first) / KNOT_PX).clamp(0.0, self.knots as f64 - 1.001);
                let knot = place.floor();
                let part = place - knot;
                for (which, weight) in [(0, 1.0 - part), (1, part)] {
                    let from = (knot as usize + which) * terms;
                    for (term, value) in across.iter().enumerate().take(terms) {
                        row.push(from + term, pole * beyond * weight * value);
                    }
                }
            }
            if beyond < 1.0 - 1e-6 {
                for (term, value) in across.iter().enumerate().take(terms) {
                    row.push(self.plateau() + term, pole * (1.0 - beyond) * value);
                }
            }
        }
        let shadow = if self.surface == Surface::Round { shape.shadow(t, u) } else { 0.0 };
        let ground = (1.0 - pole) * (1.0 - shadow);
        let from = self.ground();
        if ground > 1e-6 {
            row.push(from, ground);
            row.push(from + 1, ground * t / 10.0);
            row.push(from + 2, ground * u / 10.0);
        }
        if shadow > 1e-6 {
            row.push(from + 3, (1.0 - pole) * shadow);
        }
        row
    }

    /// How much the pole's end differs from the ground beyond it, levels.
    pub(super) fn end_step(self, shape: &Shape, levels: &[f64]) -> f64 {
        let half = shape.half + shape.taper * shape.end;
        let middle = shape.middle + shape.turn * shape.end;
        let ground = &levels[self.ground()..];
        let shares = [-0.7, 0.0, 0.7];
        let squares: f64 = shares
            .iter()
            .map(|share| {
                let across = [1.0, *share, share * share - 1.0 / 3.0];
                let plateau = &levels[self.plateau()..];
                let pole: f64 = (0..self.terms()).map(|term| across[term] * plateau[term]).sum();
                let beyond = shape.end / 10.0 * ground[1]
                    + (middle + share * half) / 10.0 * ground[2];
                (pole - ground[0] - beyond).powi(2)
            })
            .sum();
        (squares / shares.len() as f64).sqrt()
    }

    /// Levels that fit the pixels best under `shape`; `weights` are per pixel, `noise` the
    /// standard deviation of a level. `None` when the sums cannot be solved.
    pub(super) fn solve(
        self,
        shape: &Shape,
        patch: &Patch,
        weights: &[f64],
        noise: f64,
    ) -> Option<Solved> {
        let count = self.count();
        let mut normal = Banded::new(count, self.plateau(), 2 * self.terms());
        let mut right = vec![0.0; count];
        let rows: Vec<Row> = patch.pixels.iter().map(|pixel| self.row(shape, pixel)).collect();
        for ((row, pixel), weight) in rows.iter().zip(&patch.pixels).zip(weights) {
            for a in 0..row.count {
                let (i, value) = (row.index[a], weight * row.value[a]);
                right[i] += value * pixel.level;
                for b in 0..=a {
                    normal.add(i, row.index[b], value * row.value[b]);
                }
            }
        }
        for i in 0..count {
            normal.add(i, i, self.belief(i).map_or(1e-9, |sd| (noise / sd).powi(2)));
        }
        normal.solve(&mut right)?;
        let left_over = rows
            .iter()
            .zip(&patch.pixels)
            .map(|(row, pixel)| pixel.level - row.times(&right))
            .collect();
        Some(Solved { levels: right, left_over })
    }
}

impl Row {
    fn push(&mut self, index: usize, value: f64) {
        self.index[self.count] = index;
        self.value[self.count] = value;
        self.count += 1;
    }

    pub(super) fn times(&self, levels: &[f64]) -> f64 {
        (0..self.count).map(|a| self.value[a] * levels[self.index[a]]).sum()
    }
}
