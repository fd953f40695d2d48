//! The first step: where the two sides of the pole may lie, from the part of it that is well
//! away from the end.

use image::GrayImage;
use rayon::prelude::*;

use super::appearance::{Appearance, Surface};
use super::fit::{Beliefs, Fitted, fit};
use super::patch::{Axes, Patch, Window};
use super::shape::Shape;
use crate::scene::FramePoint;

/// Two sides, and in which window they were found.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sides {
    pub(super) axes: Axes,
    pub(super) shape: Shape,
    /// How far into the pole the fit may look.
    pub(super) length: f64,
    pub(super) beliefs: Beliefs,
    /// What is left over a pixel, in squared levels.
    pub(super) cost: f64,
}

/// Half thicknesses that are tried; the fit finds what lies between.
const HALVES: [f64; 6] = [1.8, 2.4, 3.2, 4.2, 5.4, 6.8];
/// The first search knows neither shadow nor end face.
const PLAIN: Surface = Surface { fine: false, shadow: false, face: false };
const WITH_SHADOW: Surface = Surface { fine: false, shadow: true, face: false };
/// How far beyond the widest pole the window reaches.
const BESIDE_PX: f64 = 4.0;
/// Levels by which sand and noise differ from the coarse model.
pub(super) const COARSE_NOISE: f64 = 8.0;
/// As far into the pole as the fit looks: farther off, a pole that sags or a lens that bends
/// lines counts.
const LONGEST_PX: f64 = 28.0;
/// So far inside the end its face may still be seen.
const FACE_PX: f64 = 4.0;
/// Without a second point on the pole its length is not known; poles are longer than this.
const BLIND_PX: f64 = 16.0;
/// The other point is then supposed to lie this far off.
const BLIND_HINT_PX: f64 = 22.0;
/// Directions tried all round without a second point.
const DIRECTIONS: u32 = 24;
/// Standard deviation that a click is given here, pixels: both ends of the direction's hint.
const CLICK_SD_PX: f64 = 2.0;
/// A pole so far aside that only ground is seen.
const FAR_OFF: f64 = 1000.0;
/// An end so far out that only sides are seen.
const NO_END: f64 = -1000.0;

/// The most promising pairs of sides, best first; nothing when the picture has no room.
pub(super) fn sides(
    luma: &GrayImage,
    click: FramePoint,
    hint: Option<FramePoint>,
    reach: f64,
) -> Vec<Sides> {
    let coarse: Vec<Coarse> = if let Some(hint) = hint {
        let away = click.distance(hint);
        let direction = (hint.y - click.y).atan2(hint.x - click.x);
        towards(luma, click, direction, away, reach)
    } else {
        direction(luma, click, reach)
            .map(|way| towards(luma, click, way, BLIND_HINT_PX, reach))
            .unwrap_or_default()
    };
    let mut fitted: Vec<Sides> =
        coarse.par_iter().flat_map_iter(|coarse| coarse.fitted(luma, reach)).collect();
    fitted.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    let mut kept: Vec<Sides> = Vec::new();
    for sides in fitted {
        if kept.len() < 3 && !kept.iter().any(|other| sides.is_like(other)) {
            kept.push(sides);
        }
    }
    kept
}

/// Pairs of sides along a direction that another point, `away` pixels off, gives.
fn towards(
    luma: &GrayImage,
    click: FramePoint,
    direction: f64,
    away: f64,
    reach: f64,
) -> Vec<Coarse> {
    let length = (0.85 * away - 1.0).min(LONGEST_PX);
    let turn_sd = (CLICK_SD_PX * std::f64::consts::SQRT_2 / away).min(0.35);
    let turns = [-1.6, -0.8, 0.0, 0.8, 1.6].map(|share| share * turn_sd);
    Coarse::search(luma, Axes::new(click, direction), &turns, reach, (length, turn_sd))
}

/// The direction in which a pole explains most of what ground alone does not, from the picture
/// alone.
fn direction(luma: &GrayImage, click: FramePoint, reach: f64) -> Option<f64> {
    let wedge = std::f64::consts::TAU / f64::from(DIRECTIONS);
    let gains: Vec<(f64, f64)> = (0..DIRECTIONS)
        .into_par_iter()
        .filter_map(|i| {
            let axes = Axes::new(click, wedge * f64::from(i));
            let ground = Shape { middle: FAR_OFF, ..PLAIN_SHAPE };
            let alone = cost(&inner(luma, axes, reach, BLIND_PX), PLAIN, &ground)?;
            let found = Coarse::search(luma, axes, &[0.0], reach, (BLIND_PX, wedge));
            found.first().map(|coarse| (alone - coarse.cost, axes.direction()))
        })
        .collect();
    gains.into_iter().max_by(|a, b| a.0.total_cmp(&b.0)).map(|best| best.1)
}

impl Sides {
    fn is_like(&self, other: &Self) -> bool {
        let at = |sides: &Self, side: f64| {
            let shape = sides.shape;
            let (sin, cos) = shape.turn.sin_cos();
            let w = shape.middle + side * shape.half;
            sides.axes.picture(5.0 * cos - w * sin, 5.0 * sin + w * cos)
        };
        [-1.0, 1.0].iter().all(|side| at(self, *side).distance(at(other, *side)) < 0.4)
    }
}

/// A pair of sides on the grid of the first search.
struct Coarse {
    axes: Axes,
    shape: Shape,
    length: f64,
    turn_sd: f64,
    cost: f64,
}

/// The window in which sides are looked for: beyond where the end may be.
fn inner(luma: &GrayImage, axes: Axes, reach: f64, length: f64) -> Patch {
    let wide = reach.min(5.0) + HALVES[HALVES.len() - 1] + BESIDE_PX;
    let sure = (reach + FACE_PX).min(0.42 * length);
    Patch::cut(luma, axes, Window { t: (sure, length), u: (-wide, wide) })
}

impl Coarse {
    fn search(
        luma: &GrayImage,
        axes: Axes,
        turns: &[f64],
        reach: f64,
        (length, turn_sd): (f64, f64),
    ) -> Vec<Self> {
        let patch = inner(luma, axes, reach, length);
        if patch.covered < 0.75 {
            return Vec::new();
        }
        let mut all = Vec::new();
        for &turn in turns {
            for half in HALVES {
                for middle in steps(reach.min(5.0), 0.8) {
                    let shape = Shape { middle, turn, half, ..PLAIN_SHAPE };
                    let Some(cost) = cost(&patch, PLAIN, &shape) else { continue };
                    all.push(Self { axes, shape, length, turn_sd, cost });
                }
            }
        }
        all.sort_by(|a, b| a.cost.total_cmp(&b.cost));
        let mut kept: Vec<Self> = Vec::new();
        for coarse in all {
            let is_new = kept.iter().all(|other| coarse.differs(other));
            if kept.len() < 4 && is_new {
                kept.push(coarse);
            }
        }
        kept
    }

    fn differs(&self, other: &Self) -> bool {
        let middle = |coarse: &Self| coarse.shape.middle + coarse.shape.turn * 5.0;
        (middle(self) - middle(other)).abs() > 1.0
            || (self.shape.half / other.shape.half - 1.0).abs() > 0.2
    }

    /// Fits with a shadow on either side. The first search knows no shadow and may have taken it
    /// for a part of the pole: so thinner poles beside their shadow are tried, too.
    fn fitted(&self, luma: &GrayImage, reach: f64) -> Vec<Sides> {
        let patch = inner(luma, self.axes, reach, self.length);
        let mut found = Vec::new();
        for (thinner, side) in [(1.0, -1.0), (1.0, 1.0), (0.75, -1.0), (0.75, 1.0)] {
            let half = thinner * self.shape.half;
            let middle = self.shape.middle - side * (self.shape.half - half);
            let shape = Shape { middle, half, shadow_w: 0.8 * side * half, ..self.shape };
            let beliefs = Beliefs::about(&shape, self.turn_sd);
            let Some(fitted) = fit(&patch, WITH_SHADOW, shape, &beliefs, COARSE_NOISE, 6) else {
                continue;
            };
            let cost = left_over_a_pixel(&fitted);
            let Fitted { shape, .. } = fitted;
            found.push(Sides { axes: self.axes, shape, length: self.length, beliefs, cost });
        }
        found
    }
}

const PLAIN_SHAPE: Shape = Shape {
    middle: 0.0,
    turn: 0.0,
    half: 1.0,
    taper: 0.0,
    end: NO_END,
    bulge: 0.5,
    shadow_s: 0.0,
    shadow_w: 0.0,
    blur: 0.6,
    tilt: 0.0,
    bend: -0.1,
};

/// From −`most` to `most`.
pub(super) fn steps(most: f64, step: f64) -> impl Iterator<Item = f64> {
    let count = (most / step).ceil() as i32;
    (-count..=count).map(move |i| f64::from(i) * most / f64::from(count.max(1)))
}

/// What a fit leaves over a pixel, in squared levels; no pixel has more than a fair share.
pub(super) fn left_over_a_pixel(fitted: &Fitted) -> f64 {
    mean_square(&fitted.left_over)
}

fn mean_square(left: &[f64]) -> f64 {
    let squares: f64 = left.iter().map(|value| value.abs().min(40.0).powi(2)).sum();
    squares / left.len().max(1) as f64
}

fn cost(patch: &Patch, surface: Surface, shape: &Shape) -> Option<f64> {
    let even = vec![1.0; patch.pixels.len()];
    let solved = Appearance::of(patch, surface).solve(shape, patch, &even, COARSE_NOISE)?;
    Some(mean_square(&solved.left_over))
}
