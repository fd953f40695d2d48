//! Brightness of ground, shadow and pole, solved for a given outline.
//!
//! Model of a pixel: what the pole does not cover is ground (a plane of brightness) or shadow
//! (one brightness for the cast shadow, the line of contact with the ground and both). Along the pole the brightness follows any curve
//! through closely spaced knots, which is how bands of paint enter; across it all bands share
//! one light, which tells a dark lower side from the shadow beside it: the one is as bright as
//! its band allows, the other knows no bands. At the end either the end face is seen, or the
//! first band keeps one brightness for a short way.

use super::banded::Banded;
use super::patch::{Patch, Pixel};
use super::shape::{Place, Shape};
use super::step::step;

/// Pixels between knots along the pole: no wider than the blur of a camera's pixels.
const KNOT_PX: f64 = 0.9;
/// From the end on this far the brightness is that at the end: a band of paint is no shorter.
/// Without it the model could go on beyond the end in the ground's own colour.
const PLATEAU_PX: f64 = 1.8;
/// Three for the ground; for the shadow, the line of contact, and where both lie.
const GROUND: usize = 6;
/// For the end.
const END: usize = 5;
/// Most entries of a row: two knots, the end, the ground.
const ENTRIES: usize = 2 * 3 + END + GROUND;
/// Beliefs, grey levels: how far a band's brightness lies from the ground's, and how far its
/// slope and bend across the pole depart from the common light.
const BAND: [f64; 3] = [120.0, 12.0, 8.0];
/// The same for an end face, which is of another stuff and often has a rim.
const FACE: [f64; END] = [120.0, 15.0, 40.0, 15.0, 40.0];
/// The same for shadow and contact.
const SHADOW: f64 = 120.0;

/// As good as fixed: outweighs all pixels of a window.
const HELD: f64 = 1e7;

/// What is modelled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Surface {
    /// Whether each knot may depart from the common light.
    pub(super) fine: bool,
    /// Whether there is a shadow.
    pub(super) shadow: bool,
    /// Whether the end face looks towards the camera.
    pub(super) face: bool,
}

/// A row of the linear model; its indices rise.
#[derive(Clone, Copy)]
pub(super) struct Row {
    pub(super) index: [usize; ENTRIES],
    pub(super) value: [f64; ENTRIES],
    pub(super) count: usize,
    /// What the model says when all levels are 0.
    pub(super) fixed: f64,
}

/// The linear part of the model for one window. Unknowns in order: knots, end, ground.
#[derive(Clone, Copy, Debug)]
pub(super) struct Appearance {
    surface: Surface,
    first: f64,
    knots: usize,
    /// The level that all levels are counted from.
    base: f64,
    /// The picture's downward direction in the window.
    down: (f64, f64),
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
        let down = (patch.axes.along.y, patch.axes.across().y);
        Self { surface, first: low, knots, base: patch.base, down }
    }

    fn terms(self) -> usize {
        if self.surface.fine { 3 } else { 1 }
    }

    fn end(self) -> usize {
        self.knots * self.terms()
    }

    fn ground(self) -> usize {
        self.end() + END
    }

    pub(super) fn count(self) -> usize {
        self.ground() + GROUND
    }

    /// Belief about level `index`: standard deviation about zero, `None` where nothing is
    /// believed.
    pub(super) fn belief(self, index: usize) -> Option<f64> {
        if index < self.end() {
            return BAND.get(index % self.terms()).copied();
        }
        if index < self.ground() {
            let beliefs =
                if self.surface.face { FACE } else { [BAND[0], BAND[1], BAND[2], 1.0, 1.0] };
            return beliefs.get(index - self.end()).copied();
        }
        (index >= self.ground() + 3).then_some(SHADOW)
    }

    /// The row of `pixel` under `shape`.
    pub(super) fn row(self, shape: &Shape, pixel: &Pixel) -> Row {
        let mut row = Row { index: [0; ENTRIES], value: [0.0; ENTRIES], count: 0, fixed: 0.0 };
        let place = shape.place(pixel.t, pixel.u);
        let pole = shape.pole(place);
        if pole > 1e-6 {
            self.push_pole(&mut row, shape, place, pole);
        }
        if pole < 1.0 - 1e-6 {
            let (shadow, contact) = if self.surface.shadow {
                (shape.shadow(place), shape.contact(place, self.down))
            } else {
                (0.0, 0.0)
            };
            let ground = (1.0 - pole) * (1.0 - shadow) * (1.0 - contact);
            let from = self.ground();
            row.push(from, ground);
            row.push(from + 1, ground * pixel.t / 10.0);
            row.push(from + 2, ground * pixel.u / 10.0);
            if shadow > 1e-6 || contact > 1e-6 {
                row.push(from + 3, (1.0 - pole) * shadow * (1.0 - contact));
                row.push(from + 4, (1.0 - pole) * contact * (1.0 - shadow));
                row.push(from + 5, (1.0 - pole) * contact * shadow);
            }
        }
        row
    }

    fn push_pole(self, row: &mut Row, shape: &Shape, place: Place, pole: f64) {
        let at_end = if self.surface.face {
            shape.face(place)
        } else {
            1.0 - step(place.s - shape.end - PLATEAU_PX, shape.blur)
        };
        let side = pole * (1.0 - at_end);
        let (across, light) = across(shape, place);
        if at_end < 1.0 - 1e-6 {
            row.fixed += side * self.base * light;
            let at = ((place.s - self.first) / KNOT_PX).clamp(0.0, self.knots as f64 - 1.001);
            let knot = at.floor();
            let part = at - knot;
            for (which, weight) in [(0, 1.0 - part), (1, part)] {
                let from = (knot as usize + which) * self.terms();
                for (term, value) in across.iter().enumerate().take(self.terms()) {
                    row.push(from + term, side * weight * value);
                }
            }
        }
        if at_end > 1e-6 {
            let (basis, fixed) = self.end_basis(shape, place);
            row.fixed += pole * at_end * fixed;
            for (term, value) in basis.iter().enumerate() {
                row.push(self.end() + term, pole * at_end * value);
            }
        }
    }

    /// The terms of the end's brightness, and what it is without them.
    fn end_basis(self, shape: &Shape, place: Place) -> ([f64; END], f64) {
        let ([middle, share, bend], light) = across(shape, place);
        if self.surface.face {
            let along = shape.along_face(place).clamp(-1.2, 1.2);
            let out = share * share + along * along;
            ([1.0, share, out - 0.5, along, out * out - 1.0 / 3.0], 0.0)
        } else {
            ([middle, share, bend, 0.0, 0.0], self.base * light)
        }
    }

    /// How bright the ground is at a place of the window.
    pub(super) fn ground_at(self, t: f64, u: f64, levels: &[f64]) -> f64 {
        let ground = &levels[self.ground()..];
        ground[0] + t / 10.0 * ground[1] + u / 10.0 * ground[2]
    }

    /// How much the pole's end differs from the ground beyond it, levels.
    pub(super) fn end_step(self, shape: &Shape, levels: &[f64]) -> f64 {
        let (t, u) = shape.end_in_window();
        let half = shape.half_at_end();
        let shares = [-0.7, 0.0, 0.7];
        let squares: f64 = shares
            .iter()
            .map(|share| {
                let place = shape.place(t, u + share * half);
                let (basis, fixed) = self.end_basis(shape, place);
                let pole: f64 = basis.iter().zip(&levels[self.end()..]).map(|(b, l)| b * l).sum();
                let pole = pole + fixed;
                let beyond = self.ground_at(t, u, levels);
                (pole - beyond).powi(2)
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
        let rows: Vec<Row> = patch.pixels.iter().map(|pixel| self.row(shape, pixel)).collect();
        let mut held = [None; 3];
        let mut levels = self.solve_rows(&rows, patch, weights, noise, held)?;
        // A shadow darkens, and not to black: else a part of the pole would pass for one.
        for (which, least) in [0.6, 0.6, 0.78].into_iter().enumerate() {
            let ground = (self.base + levels[self.ground()]).max(1.0);
            let (low, high) = (-least * ground, 0.03 * ground);
            let depth = levels[self.ground() + 3 + which] - levels[self.ground()];
            if !(low..=high).contains(&depth) {
                held[which] = Some(levels[self.ground()] + depth.clamp(low, high));
            }
        }
        if self.surface.shadow && held.iter().any(Option::is_some) {
            levels = self.solve_rows(&rows, patch, weights, noise, held)?;
        }
        let left_over = rows
            .iter()
            .zip(&patch.pixels)
            .map(|(row, pixel)| pixel.level - row.says(&levels))
            .collect();
        Some(Solved { levels, left_over })
    }

    fn solve_rows(
        self,
        rows: &[Row],
        patch: &Patch,
        weights: &[f64],
        noise: f64,
        held: [Option<f64>; 3],
    ) -> Option<Vec<f64>> {
        let count = self.count();
        let mut normal = Banded::new(count, self.end(), 2 * self.terms());
        let mut right = vec![0.0; count];
        for ((row, pixel), weight) in rows.iter().zip(&patch.pixels).zip(weights) {
            let level = pixel.level - row.fixed;
            for a in 0..row.count {
                let (i, value) = (row.index[a], weight * row.value[a]);
                right[i] += value * level;
                for b in 0..=a {
                    normal.add(i, row.index[b], value * row.value[b]);
                }
            }
        }
        for i in 0..count {
            normal.add(i, i, self.belief(i).map_or(1e-9, |sd| (noise / sd).powi(2)));
        }
        for (which, level) in held.iter().enumerate() {
            if let Some(level) = level {
                let i = self.ground() + 3 + which;
                normal.add(i, i, HELD);
                right[i] += HELD * level;
            }
        }
        normal.solve(&mut right)?;
        Some(right)
    }
}

/// The terms of brightness across the pole: what all bands share, and a slope and a bend apart
/// from it; and the shared light less 1.
fn across(shape: &Shape, place: Place) -> ([f64; 3], f64) {
    let share = place.share.clamp(-1.2, 1.2);
    let light = shape.light(share);
    ([1.0 + light, share, share * share - 1.0 / 3.0], light)
}

impl Row {
    fn push(&mut self, index: usize, value: f64) {
        self.index[self.count] = index;
        self.value[self.count] = value;
        self.count += 1;
    }

    /// What the model says of the pixel.
    pub(super) fn says(&self, levels: &[f64]) -> f64 {
        let sum: f64 = (0..self.count).map(|a| self.value[a] * levels[self.index[a]]).sum();
        self.fixed + sum
    }
}
