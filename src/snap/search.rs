//! From the click to the end: sides, then ends; the best is judged.

use image::GrayImage;
use rayon::prelude::*;

use super::ends::{Trial, ends};
use super::sides::sides;
use super::spread::{Spread, spread};
use super::{NotSnapped, Snapped};
use crate::scene::FramePoint;

/// Ends that are fitted to the last.
const FINALISTS: usize = 3;

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
    fine.sort_by(|a, b| a.cost().total_cmp(&b.cost()));
    show("fine", fine.iter().map(Trial::told));
    let Some(best) = fine.iter().find(|trial| trial.stands_out()) else {
        let Some(best) = fine.first() else { return Err(NotSnapped::NoEdges) };
        let (step, needed) = (best.fitted.end_step, best.needed_step());
        return Err(NotSnapped::LowContrast { step, needed });
    };
    judged(best, click, reach)
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
        format!("{:.1} {} at {:.1} {:.1} step {:.0} noise {:.1} {:.2?}", self.cost(), self.surface.face, p.x, p.y, self.fitted.end_step, self.fitted.noise, self.fitted.shape.values())
    }
}

fn judged(trial: &Trial, click: FramePoint, reach: f64) -> Result<Snapped, NotSnapped> {
    let shape = trial.fitted.shape;
    let point = trial.end();
    let moved_px = point.distance(click);
    if moved_px > reach {
        return Err(NotSnapped::BeyondReach { away_px: moved_px, reach_px: reach });
    }
    let Spread { along, across } =
        spread(&trial.patch, trial.surface, &trial.fitted, &trial.beliefs)
            .ok_or(NotSnapped::NoEdges)?;
    let direction = trial.patch.axes.direction() + shape.turn;
    Ok(Snapped {
        point,
        along_sd_px: along,
        across_sd_px: across,
        towards_x: direction.cos(),
        towards_y: direction.sin(),
        thickness_px: 2.0 * shape.half_at_end(),
        moved_px,
    })
}
