//! From the click to the end: every promising place is fitted, the best is judged.

use image::GrayImage;

use super::fit::{Beliefs, Fitted, fit};
use super::patch::{Axes, Patch, Window};
use super::shape::Shape;
use super::spread::{Spread, spread};
use super::start::{LEAST_STEP, Start, starts};
use super::{NotSnapped, Snapped};
use crate::scene::FramePoint;

/// Grey levels supposed to be left over until the first fit says it.
const FIRST_NOISE: f64 = 6.0;

pub(super) fn snap(
    luma: &GrayImage,
    click: FramePoint,
    hint: Option<FramePoint>,
    reach: f64,
) -> Result<Snapped, NotSnapped> {
    let finite = |point: FramePoint| point.x.is_finite() && point.y.is_finite();
    let usable = finite(click)
        && reach.is_finite()
        && reach > 0.0
        && hint.is_none_or(|hint| finite(hint) && hint.distance(click) > 6.0);
    if !usable {
        return Err(NotSnapped::NotUsable);
    }
    let starts = starts(luma, click, hint, reach);
    if starts.is_empty() {
        return Err(NotSnapped::AtTheBorder);
    }
    let mut rough: Vec<Trial> =
        starts.iter().flat_map(|start| trials(luma, start)).collect();
    let clear = |trial: &Trial| trial.fitted.end_step >= trial.needed();
    if rough.iter().any(clear) {
        rough.retain(clear);
    }
    rough.sort_by(|a, b| a.cost().total_cmp(&b.cost()));
    rough.truncate(3);
    let mut fine: Vec<Trial> = rough.iter().filter_map(|trial| trial.again(luma, 12)).collect();
    fine.sort_by(|a, b| a.cost().total_cmp(&b.cost()));
    let clear = fine.iter().find(|trial| trial.fitted.end_step >= trial.needed());
    let Some(best) = clear else {
        let Some(best) = fine.first() else { return Err(NotSnapped::NoEdges) };
        let (step, needed) = (best.fitted.end_step, best.needed());
        return Err(NotSnapped::LowContrast { step, needed });
    };
    best.judged(click, reach)
}

/// A fit of one place.
struct Trial {
    patch: Patch,
    beliefs: Beliefs,
    fitted: Fitted,
    start: Start,
}

fn trials(luma: &GrayImage, start: &Start) -> Vec<Trial> {
    let mut trials = Vec::new();
    for shadow in [-0.8, 0.8] {
        for bulge in [0.15, 0.85] {
            let half = start.shape.half;
            let shape = Shape { shadow_u: shadow * half, bulge, ..start.shape };
            let start = Start { shape, ..*start };
            trials.extend(Trial::of(luma, start, 4));
        }
    }
    trials
}

impl Trial {
    /// Fits `start` in a window of its own, whose axes lie along the shape.
    fn of(luma: &GrayImage, start: Start, rounds: u32) -> Option<Self> {
        let shape = start.shape;
        let origin = start.axes.picture(shape.end, shape.middle + shape.turn * shape.end);
        let direction = start.axes.direction() + shape.turn.atan();
        let axes = Axes::new(origin, direction);
        let half = (shape.half + shape.taper * shape.end).max(1.0);
        let shape = Shape { middle: 0.0, turn: 0.0, half, end: 0.0, ..shape };
        let (before, beside) = (half + 6.0, 2.2 * half + 4.0);
        let window = Window { t: (-before, start.length), u: (-beside, beside) };
        let patch = Patch::cut(luma, axes, window);
        if patch.covered < 0.75 {
            return None;
        }
        let beliefs = Beliefs::about(&shape, start.turn_sd);
        let fitted = fit(&patch, shape, &beliefs, FIRST_NOISE, rounds)?;
        Some(Self { patch, beliefs, fitted, start: Start { axes, shape, ..start } })
    }

    /// Fits anew from where this fit ended.
    fn again(&self, luma: &GrayImage, rounds: u32) -> Option<Self> {
        Self::of(luma, Start { shape: self.fitted.shape, ..self.start }, rounds)
    }

    /// What is left over a pixel, in levels: comparable between windows.
    fn cost(&self) -> f64 {
        let squares: f64 =
            self.fitted.left_over.iter().map(|r| r.abs().min(40.0).powi(2)).sum();
        squares / self.patch.pixels.len() as f64
    }

    /// The least step at the end that stands out.
    fn needed(&self) -> f64 {
        LEAST_STEP.max(1.5 * self.fitted.noise)
    }

    fn end(&self) -> FramePoint {
        let shape = self.fitted.shape;
        self.patch.axes.picture(shape.end, shape.middle + shape.turn * shape.end)
    }

    fn judged(&self, click: FramePoint, reach: f64) -> Result<Snapped, NotSnapped> {
        let shape = self.fitted.shape;
        let point = self.end();
        let moved_px = point.distance(click);
        if moved_px > reach {
            return Err(NotSnapped::BeyondReach { away_px: moved_px, reach_px: reach });
        }
        let Spread { along, across } =
            spread(&self.patch, &self.fitted, &self.beliefs).ok_or(NotSnapped::NoEdges)?;
        let direction = self.patch.axes.direction() + shape.turn.atan();
        Ok(Snapped {
            point,
            along_sd_px: along,
            across_sd_px: across,
            towards_x: direction.cos(),
            towards_y: direction.sin(),
            thickness_px: 2.0 * (shape.half + shape.taper * shape.end),
            moved_px,
        })
    }
}
