//! From the click to the end: sides, then ends; the best is judged.

use image::GrayImage;
use nalgebra::Vector2;
use rayon::prelude::*;

use super::ends::{Trial, ends, keep_clear};
use super::sides::sides;
use super::spread::{Spread, spread};
use super::{NotSnapped, Snapped};
use crate::scene::FramePoint;

/// Ends that are fitted to the last.
const FINALISTS: usize = 4;
/// As many pixels of streaky sand count as one that errs alone.
const ALIKE_PIXELS: f64 = 8.0;
/// A pole that differs less from the ground, in levels, may be sand with a pattern of its own.
const LEAST_CONTRAST: f64 = 20.0;
/// What is left over on the pole, in levels, is more than this where something lies over it.
const STRANGE: f64 = 12.0;
/// How far the outline of the model departs from that of a real pole and its shadow, in half
/// thicknesses: ends of known truth err by this much beyond what the left-overs say.
const MISFIT_ALONG: f64 = 0.07;
const MISFIT_ACROSS: f64 = 0.035;
/// An end known no better is no gain over a click.
const WORST_SD_PX: f64 = 0.8;

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
    let sides = sides(luma, click, hint, reach);
    if sides.is_empty() {
        return Err(NotSnapped::AtTheBorder);
    }
    let mut rough = ends(luma, &sides, reach);
    if rough.is_empty() {
        return Err(NotSnapped::NoEdges);
    }
    rough.truncate(FINALISTS);
    let mut fine: Vec<Trial> = rough.par_iter().filter_map(Trial::finer).collect();
    if fine.is_empty() {
        return Err(NotSnapped::NoEdges);
    }
    if let Some(faint) = fine.iter().find(|trial| !trial.stands_out())
        && fine.iter().all(|trial| !trial.stands_out())
    {
        let (step, needed) = (faint.fitted.end_step, faint.needed_step());
        return Err(NotSnapped::LowContrast { step, needed });
    }
    keep_clear(&mut fine);
    judged(&fine, click, reach)
}

/// What one fit says of the end.
struct Say {
    point: Vector2<f64>,
    spread: Spread,
    weight: f64,
}

/// The mean of all fits that explain the picture about equally well; where they differ, that is
/// a part of the doubt.
fn judged(trials: &[Trial], click: FramePoint, reach: f64) -> Result<Snapped, NotSnapped> {
    let Some(best) = trials.first() else { return Err(NotSnapped::NoEdges) };
    let (step, needed) = (best.contrast(), LEAST_CONTRAST.max(2.0 * best.fitted.noise));
    if step < needed {
        return Err(NotSnapped::LowContrast { step, needed });
    }
    let on_pole = best.left_on_pole();
    if on_pole > STRANGE || best.fitted.shape.is_at_a_limit() {
        return Err(NotSnapped::NotLikeAPole { left_over: on_pole });
    }
    let mut says: Vec<Say> = Vec::new();
    for trial in trials {
        let point = trial.end().vector();
        if says.iter().any(|say| (say.point - point).norm() < 0.1) {
            continue;
        }
        let Some(spread) = spread(&trial.patch, trial.surface, &trial.fitted, &trial.beliefs)
        else {
            continue;
        };
        let pixels = trial.patch.pixels.len() as f64;
        let worse = pixels * (trial.cost() / best.cost() - 1.0) / ALIKE_PIXELS;
        says.push(Say { point, spread, weight: (-0.5 * worse).exp() });
    }
    let sum: f64 = says.iter().map(|say| say.weight).sum();
    if says.is_empty() {
        return Err(NotSnapped::NoEdges);
    }
    let point = says.iter().map(|say| say.point * say.weight).sum::<Vector2<f64>>() / sum;
    let direction = best.patch.axes.direction() + best.fitted.shape.turn;
    let towards = Vector2::new(direction.cos(), direction.sin());
    let sd = |own: fn(&Spread) -> f64, way: Vector2<f64>| {
        let variances = says.iter().map(|say| {
            say.weight * (own(&say.spread).powi(2) + (say.point - point).dot(&way).powi(2))
        });
        (variances.sum::<f64>() / sum).sqrt()
    };
    let half = best.fitted.shape.half_at_end();
    let aside = Vector2::new(-towards.y, towards.x);
    let along_sd_px = sd(|spread| spread.along, towards).hypot(MISFIT_ALONG * half);
    let across_sd_px = sd(|spread| spread.across, aside).hypot(MISFIT_ACROSS * half);
    let point = FramePoint::new(point.x, point.y);
    let moved_px = point.distance(click);
    if moved_px > reach {
        return Err(NotSnapped::BeyondReach { away_px: moved_px, reach_px: reach });
    }
    let apart = says.iter().map(|say| (say.point - says[0].point).norm()).fold(0.0, f64::max);
    let sd_px = along_sd_px.max(across_sd_px);
    if sd_px > WORST_SD_PX && apart > sd_px {
        return Err(NotSnapped::Ambiguous { apart_px: apart });
    }
    if sd_px > WORST_SD_PX {
        return Err(NotSnapped::Uncertain { sd_px });
    }
    Ok(Snapped {
        point,
        along_sd_px,
        across_sd_px,
        towards_x: towards.x,
        towards_y: towards.y,
        thickness_px: 2.0 * best.fitted.shape.half_at_end(),
        moved_px,
    })
}
