//! The second step: where along the sides the pole may end.

use image::GrayImage;
use rayon::prelude::*;

use super::appearance::{Appearance, Surface};
use super::fit::{Beliefs, Fitted, fit};
use super::patch::{Patch, Window};
use super::shape::Shape;
use super::sides::{COARSE_NOISE, Sides, left_over_a_pixel, steps};
use crate::scene::FramePoint;

/// A fit of one place and kind of end.
pub(super) struct Trial {
    pub(super) patch: Patch,
    pub(super) surface: Surface,
    pub(super) beliefs: Beliefs,
    pub(super) fitted: Fitted,
}

/// An end that differs less from the ground, in levels, is none.
const LEAST_STEP: f64 = 12.0;
/// Costs within this factor are about equal: sand is streaky, and what it leaves over is by far
/// not as independent as its pixels are many.
const EQUALLY_WELL: f64 = 1.12;
/// Kinds of end that are tried: how far it bulges, and whether its face is seen.
const AWAY: [(f64, bool); 2] = [(0.1, false), (0.85, false)];
const FACING: [(f64, bool); 2] = [(0.35, true), (0.85, true)];
const EITHER: [(f64, bool); 4] = [(0.1, false), (0.85, false), (0.35, true), (0.85, true)];
/// Poles that rise or fall less than this on the picture may show either kind of end.
const LEVEL: f64 = 0.12;

/// How far the window goes: the shadow beyond the end belongs to it.
#[derive(Clone, Copy)]
struct Around {
    before: f64,
    beside: f64,
}

/// Fits of the most promising ends, best first.
pub(super) fn ends(luma: &GrayImage, sides: &[Sides], reach: f64) -> Vec<Trial> {
    let widest = sides.iter().map(|sides| sides.shape.half).fold(1.0, f64::max);
    let around =
        Around { before: reach + 2.0 * widest + 2.0, beside: reach.min(5.0) + 2.0 * widest + 3.0 };
    let mut found: Vec<(Start, f64)> =
        sides.par_iter().flat_map_iter(|sides| Start::all(luma, sides, reach, around)).collect();
    found.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut starts: Vec<Start> = Vec::new();
    for (start, _) in found {
        if starts.len() < 6 && !starts.iter().any(|other| start.is_like(other)) {
            starts.push(start);
        }
    }
    let mut trials: Vec<Trial> = starts.par_iter().filter_map(Start::fitted).collect();
    keep_clear(&mut trials);
    trials
}

/// Sorts, best first. Of ends that explain the picture about equally well those stay that stand
/// out from the ground: the shadow that goes on beyond a pole can always be called a last, faint
/// band of it.
pub(super) fn keep_clear(trials: &mut Vec<Trial>) {
    trials.retain(Trial::stands_out);
    trials.sort_by(|a, b| a.cost().total_cmp(&b.cost()));
    let Some(best) = trials.first().map(Trial::cost) else { return };
    trials.retain(|trial| trial.cost() < EQUALLY_WELL * best);
    let away = trials.iter().filter(|trial| !trial.surface.face);
    let clearest = away.map(|trial| trial.fitted.end_step).fold(0.0, f64::max);
    trials.retain(|trial| trial.surface.face || trial.fitted.end_step > 0.6 * clearest);
}

/// Whoever films stands above the ground and holds the picture upright, so of a pole on the
/// ground the lower end is the near one, and its face looks towards the camera.
fn kinds(sides: &Sides) -> &'static [(f64, bool)] {
    let down = (sides.axes.direction() + sides.shape.turn).sin();
    if down > LEVEL {
        &AWAY
    } else if down < -LEVEL {
        &FACING
    } else {
        &EITHER
    }
}

struct Start {
    patch: Patch,
    surface: Surface,
    shape: Shape,
    beliefs: Beliefs,
}

impl Start {
    fn all(luma: &GrayImage, sides: &Sides, reach: f64, around: Around) -> Vec<(Self, f64)> {
        let Around { before, beside } = around;
        let window = Window { t: (-before, sides.length), u: (-beside, beside) };
        let patch = Patch::cut(luma, sides.axes, window);
        if patch.covered < 0.75 {
            return Vec::new();
        }
        let even = vec![1.0; patch.pixels.len()];
        let mut all = Vec::new();
        for (bulge, face) in kinds(sides) {
            let surface = Surface { fine: false, shadow: true, face: *face };
            let appearance = Appearance::of(&patch, surface);
            for end in steps(reach, 1.0) {
                let shape = Shape { end, bulge: *bulge, shadow_s: 0.0, ..sides.shape };
                let Some(solved) = appearance.solve(&shape, &patch, &even, COARSE_NOISE) else {
                    continue;
                };
                if appearance.end_step(&shape, &solved.levels) < LEAST_STEP {
                    continue;
                }
                let cost: f64 =
                    solved.left_over.iter().map(|value| value.abs().min(40.0).powi(2)).sum();
                let start = Self { patch: patch.clone(), surface, shape, beliefs: sides.beliefs };
                all.push((start, cost / patch.pixels.len() as f64));
            }
        }
        all.sort_by(|a, b| a.1.total_cmp(&b.1));
        all.truncate(8);
        all
    }

    fn is_like(&self, other: &Self) -> bool {
        let place = |start: &Self| {
            let (t, u) = start.shape.end_in_window();
            start.patch.axes.picture(t, u)
        };
        self.surface.face == other.surface.face
            && (self.shape.bulge - other.shape.bulge).abs() < 0.1
            && place(self).distance(place(other)) < 1.4
    }

    fn fitted(&self) -> Option<Trial> {
        let Self { patch, surface, shape, beliefs } = self;
        let fitted = fit(patch, *surface, *shape, beliefs, COARSE_NOISE, 7)?;
        let patch = patch.clone();
        Some(Trial { patch, surface: *surface, beliefs: *beliefs, fitted })
    }
}

impl Trial {
    /// Fits anew from where this fit ended, each band with a light of its own.
    pub(super) fn finer(&self) -> Option<Self> {
        let surface = Surface { fine: true, ..self.surface };
        let Fitted { shape, noise, .. } = self.fitted;
        let fitted = fit(&self.patch, surface, shape, &self.beliefs, noise, 12)?;
        Some(Self { patch: self.patch.clone(), surface, beliefs: self.beliefs, fitted })
    }

    /// What is left over a pixel, in squared levels.
    pub(super) fn cost(&self) -> f64 {
        left_over_a_pixel(&self.fitted)
    }

    /// The least step at the end that stands out.
    pub(super) fn needed_step(&self) -> f64 {
        LEAST_STEP.max(1.5 * self.fitted.noise)
    }

    pub(super) fn stands_out(&self) -> bool {
        self.fitted.end_step >= self.needed_step()
    }

    /// How much the pole differs from the ground beside it, levels: root mean square.
    pub(super) fn contrast(&self) -> f64 {
        let appearance = Appearance::of(&self.patch, self.surface);
        let Fitted { shape, levels, .. } = &self.fitted;
        let (mut sum, mut share) = (0.0, 0.0);
        for pixel in &self.patch.pixels {
            let pole = shape.pole(shape.place(pixel.t, pixel.u));
            let step = pixel.level - appearance.ground_at(pixel.t, pixel.u, levels);
            sum += pole * step * step;
            share += pole;
        }
        (sum / f64::max(share, 1.0)).sqrt()
    }

    /// Root mean square of what is left over on the pole itself, levels.
    pub(super) fn left_on_pole(&self) -> f64 {
        let shape = self.fitted.shape;
        let (mut sum, mut share) = (0.0, 0.0);
        for (pixel, left) in self.patch.pixels.iter().zip(&self.fitted.left_over) {
            let pole = shape.pole(shape.place(pixel.t, pixel.u));
            sum += pole * left * left;
            share += pole;
        }
        (sum / f64::max(share, 1.0)).sqrt()
    }

    pub(super) fn end(&self) -> FramePoint {
        let (t, u) = self.fitted.shape.end_in_window();
        self.patch.axes.picture(t, u)
    }
}
