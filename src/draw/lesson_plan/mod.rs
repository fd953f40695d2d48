//! The exercises of the next lesson from above, all at one scale: poles and fences, walked paces
//! beneath, the horse's strides between fences.
//!
//! Along the way everything is to scale; poles are drawn shorter than they are where a page would
//! not hold them, and hoof prints larger than life. Both is said at the foot.

mod block;
mod foot;
mod laid;
mod rows;

#[cfg(test)]
mod tests;

use self::block::{Sizes, draw_block};
use self::foot::{draw_foot, foot_height};
use self::laid::laid_exercises;
use self::rows::{Placed, rows};
use super::area::{Area, Spot};
use super::svg::{Drawing, Svg};
use super::theme::Theme;
use crate::poles::Plan;
use crate::quantity::LengthUnits;

/// What the drawing of a lesson needs to know.
#[derive(Clone, Copy, Debug)]
pub struct LessonPlanInput<'a> {
    /// The plan; of one line its shorter and its longer version are drawn, too.
    pub plan: &'a Plan,
    /// What stands first and large: metres or feet.
    pub units: LengthUnits,
    /// Colours.
    pub theme: Theme,
    /// Width of the drawing, in its own units.
    pub width: f64,
    /// Size of the type, in the same units.
    pub text: f64,
}

/// The drawing with the places of its parts, so that tests can see that nothing collides.
#[derive(Clone, Debug)]
pub struct LessonPlanParts {
    /// The drawing.
    pub drawing: Drawing,
    /// Units of the drawing to a metre, along the way.
    pub per_metre: f64,
    /// The place of each exercise with its words.
    pub blocks: Vec<Area>,
    /// The ends of each exercise's first distance.
    pub distances: Vec<[Spot; 2]>,
}

/// The exercises, row by row.
pub fn lesson_plan(input: &LessonPlanInput) -> Drawing {
    lesson_plan_parts(input).drawing
}

/// The same with the places of its parts.
pub fn lesson_plan_parts(input: &LessonPlanInput) -> LessonPlanParts {
    let laid = laid_exercises(input);
    let sizes = Sizes::of(input, &laid);
    let rows = rows(input, &laid, &sizes);
    let height = rows.iter().map(|row| row.height).sum::<f64>() + foot_height(input);
    let mut svg = Svg::new(input.width, height, "Poles and fences of the next lesson, to scale");
    let (mut blocks, mut distances) = (Vec::new(), Vec::new());
    let mut top = 0.0;
    for row in &rows {
        for Placed { laid, left, width } in &row.blocks {
            let room = Area::at(*left, top, *width, row.height - sizes.between);
            distances.push(draw_block(&mut svg, input, laid, room, &sizes));
            blocks.push(room);
        }
        top += row.height;
    }
    let has_strides = laid.iter().any(|one| !one.prints_m.is_empty());
    draw_foot(&mut svg, input, top, &sizes, has_strides);
    LessonPlanParts { drawing: svg.finish(), per_metre: sizes.per_metre, blocks, distances }
}
