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
    show("sides", sides.iter().map(|s| format!("{:.1} {:.2?}", s.cost, s.shape.values())));
    show("rough", rough.iter().map(Trial::told));
    rough.truncate(FINALISTS);
    let mut fine: Vec<Trial> = rough.par_iter().filter_map(Trial::finer).collect();
    show("fine", fine.iter().map(Trial::told));
    if fine.is_empty() {
        return Err(NotSnapped::NoEdges);
    }
    keep_clear(&mut fine);
    judged(&fine, click, reach)
}

fn show(what: &str, lines: impl Iterator<Item = String>) {
    if std::env::var("DEBUG").is_ok() {
        for line in lines {
            println!("  {what} {line}");
        }
    }
}

impl Trial {
    fn told(&self) -> String {
        let p = self.end();
        format!("on {:.1} {:.1} {} at {:.1} {:.1} step {:.0} noise {:.1} {:.2?}", self.left_on_pole(), self.cost(), self.surface.face, p.x, p.y, self.fitted.end_step, self.fitted.noise, self.fitted.shape.values())
    }
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
    let along_sd_px = sd(|spread| spread.along, towards);
    let across_sd_px = sd(|spread| spread.across, Vector2::new(-towards.y, towards.x));
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
