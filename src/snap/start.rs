//! The first search: where about the click a pole's end may lie.

use image::GrayImage;

use super::appearance::{Appearance, Surface};
use super::patch::{Axes, Patch, Window};
use super::shape::Shape;
use crate::scene::FramePoint;

/// A place worth fitting.
#[derive(Clone, Copy, Debug)]
pub(super) struct Start {
    pub(super) axes: Axes,
    pub(super) shape: Shape,
    /// How far into the pole the fit may look.
    pub(super) length: f64,
    /// How well the direction is known, as a slope.
    pub(super) turn_sd: f64,
    pub(super) cost: f64,
}

/// An end that differs less from the ground, in levels, is none.
pub(super) const LEAST_STEP: f64 = 12.0;
/// Half thicknesses that are tried; the fit finds what lies between.
const HALVES: [f64; 6] = [1.8, 2.4, 3.2, 4.2, 5.4, 6.8];
/// How far beyond the widest half thickness the search looks to the side.
const BESIDE_PX: f64 = 4.0;
/// Levels by which sand and noise differ from the coarse model.
const COARSE_NOISE: f64 = 8.0;
/// As far into the pole as the fit looks: farther off, a pole that sags or a lens that bends
/// lines counts.
const LONGEST_PX: f64 = 28.0;
/// Without a second point on the pole its length is not known; poles are longer than this.
const BLIND_PX: f64 = 12.0;
/// Directions tried all round without a second point.
const DIRECTIONS: u32 = 24;
/// Standard deviation that a click is given here, pixels: both ends of the direction's hint.
const CLICK_SD_PX: f64 = 2.0;

/// The most promising places, best first; nothing when the picture has no room for them.
pub(super) fn starts(
    luma: &GrayImage,
    click: FramePoint,
    hint: Option<FramePoint>,
    reach: f64,
) -> Vec<Start> {
    let mut found = Vec::new();
    if let Some(hint) = hint {
        let away = click.distance(hint);
        let direction = (hint.y - click.y).atan2(hint.x - click.x);
        let length = (0.85 * away - 1.0).min(LONGEST_PX);
        let turn_sd = (CLICK_SD_PX * std::f64::consts::SQRT_2 / away).min(0.35);
        let turns = [-1.6, -0.8, 0.0, 0.8, 1.6].map(|share| share * turn_sd);
        found.extend(along(luma, Axes::new(click, direction), &turns, reach, length, turn_sd));
    } else {
        let wedge = std::f64::consts::TAU / f64::from(DIRECTIONS);
        for i in 0..DIRECTIONS {
            let axes = Axes::new(click, wedge * f64::from(i));
            found.extend(along(luma, axes, &[0.0], reach, BLIND_PX, wedge));
        }
    }
    found.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    let mut kept: Vec<Start> = Vec::new();
    for start in found {
        if kept.len() < 4 && !kept.iter().any(|other| start.is_near(other)) {
            kept.push(start);
        }
    }
    kept
}

impl Start {
    fn is_near(&self, other: &Self) -> bool {
        let end = |start: &Self| {
            let shape = start.shape;
            start.axes.picture(shape.end, shape.middle + shape.turn * shape.end)
        };
        let apart = end(self).distance(end(other));
        let ratio = self.shape.half / other.shape.half;
        let cosine = self.axes.along.dot(&other.axes.along);
        apart < 1.5 && (0.7..1.4).contains(&ratio) && cosine > 0.8
    }
}

/// Sides first, with what lies farther in than the end may be; then the end.
fn along(
    luma: &GrayImage,
    axes: Axes,
    turns: &[f64],
    reach: f64,
    length: f64,
    turn_sd: f64,
) -> Vec<Start> {
    let aside = reach.min(5.0);
    let wide = aside + HALVES[HALVES.len() - 1] + BESIDE_PX;
    let sure = reach.min(length / 3.0);
    let inner = Patch::cut(luma, axes, Window { t: (sure, length), u: (-wide, wide) });
    let whole = Window { t: (-reach - 5.0, length), u: (-wide, wide) };
    let whole = Patch::cut(luma, axes, whole);
    if whole.covered < 0.75 || inner.covered < 0.75 {
        return Vec::new();
    }
    let plain = Shape {
        middle: 0.0,
        turn: 0.0,
        half: 1.0,
        taper: 0.0,
        end: -100.0,
        bulge: 0.3,
        shadow_t: 0.0,
        shadow_u: 0.0,
        blur: 0.6,
    };
    let mut sides = Vec::new();
    for &turn in turns {
        for half in HALVES {
            for middle in steps(aside, 0.8) {
                let shape = Shape { middle, turn, half, ..plain };
                if let Some(cost) = cost(&inner, &shape) {
                    sides.push((cost, shape));
                }
            }
        }
    }
    sides.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut starts = Vec::new();
    let mut kept: Vec<Shape> = Vec::new();
    for (_, shape) in sides {
        let middle = |shape: &Shape| shape.middle + shape.turn * sure;
        let is_new = kept.iter().all(|other| {
            (middle(other) - middle(&shape)).abs() > 1.0 || (other.half / shape.half - 1.0).abs() > 0.2
        });
        if kept.len() >= 5 || !is_new {
            continue;
        }
        kept.push(shape);
        for end in steps(reach, 1.0) {
            let shape = Shape { end, ..shape };
            if let Some(cost) = cost(&whole, &shape) {
                let cost = cost / whole.pixels.len() as f64;
                starts.push(Start { axes, shape, length, turn_sd, cost });
            }
        }
    }
    starts.sort_by(|a, b| a.cost.total_cmp(&b.cost));
    starts.truncate(12);
    starts
}

/// From −`most` to `most`.
fn steps(most: f64, step: f64) -> impl Iterator<Item = f64> {
    let count = (most / step).ceil() as i32;
    (-count..=count).map(move |i| f64::from(i) * most / f64::from(count.max(1)))
}

/// Sum of squares, of which no pixel may have more than a fair share.
fn cost(patch: &Patch, shape: &Shape) -> Option<f64> {
    let appearance = Appearance::of(patch, Surface::Bands);
    let solved =
        appearance.solve(shape, patch, &vec![1.0; patch.pixels.len()], COARSE_NOISE)?;
    // Of an outline that ends in the ground's own colour nothing can be said.
    if shape.end > patch.window.t.0 && appearance.end_step(shape, &solved.levels) < LEAST_STEP {
        return None;
    }
    let z = |value: &f64| (value / COARSE_NOISE).abs();
    Some(solved.left_over.iter().map(z).map(|z| if z < 2.5 { z * z } else { 5.0 * z - 6.25 }).sum())
}
