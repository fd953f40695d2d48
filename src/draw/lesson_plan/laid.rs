//! What lies where in an exercise, metres along the way from its first pole or fence.

use super::LessonPlanInput;
use crate::poles::{Distance, Exercise, Version, laid_words, walked_words};
use crate::quantity::{Metres, Unit};

/// Poles drawn where one lies to each step or stride.
const POLES_IN_A_ROW: u32 = 4;

/// A thing that is built.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Thing {
    Pole,
    Fence,
}

/// An exercise laid out.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Laid {
    pub name: String,
    /// The distance in the unit that stands first.
    pub large: String,
    /// In the other unit and in walked paces.
    pub small: String,
    pub things: Vec<(f64, Thing)>,
    /// Landing, each stride, take-off; empty where no stride lies between.
    pub prints_m: Vec<f64>,
    /// The first distance.
    pub aim_m: f64,
}

impl Laid {
    /// From the first thing to the last, metres.
    pub fn extent_m(&self) -> f64 {
        self.things.last().map_or(0.0, |(at, _)| *at)
    }
}

/// Everything that is drawn, in the order of the plan.
pub(super) fn laid_exercises(input: &LessonPlanInput) -> Vec<Laid> {
    let distances = &input.plan.distances;
    if let [line] = &distances[..] {
        let version = |name: &str, version: &Option<Version>| {
            version.as_ref().map(|version| {
                let name = format!("{}, {name}", line.exercise.words());
                laid(input, line, name, version.length.aim_m)
            })
        };
        let as_asked = Some(laid(input, line, line.exercise.words(), line.length.aim_m));
        let all = [version("shorter", &line.shorter), as_asked, version("longer", &line.longer)];
        return all.into_iter().flatten().collect();
    }
    let one = |distance: &Distance| {
        laid(input, distance, distance.exercise.words(), distance.length.aim_m)
    };
    distances.iter().map(one).collect()
}

fn laid(input: &LessonPlanInput, distance: &Distance, name: String, aim: Metres) -> Laid {
    let aim_m = aim.get();
    let fence = if input.plan.asked.height_m > 0.0 { Thing::Fence } else { Thing::Pole };
    let things = match distance.exercise {
        Exercise::TrotPoles | Exercise::CanterPoles => {
            (0..POLES_IN_A_ROW).map(|k| (f64::from(k) * aim_m, Thing::Pole)).collect()
        }
        Exercise::PlacingPole { .. } => vec![(0.0, Thing::Pole), (aim_m, fence)],
        Exercise::Bounce | Exercise::Line { .. } => vec![(0.0, fence), (aim_m, fence)],
    };
    Laid {
        name,
        large: laid_words(aim, input.units),
        small: format!("{} · {}", laid_words(aim, input.units.other()), walked_words(aim)),
        things,
        prints_m: prints_m(distance, aim_m),
        aim_m,
    }
}

/// Landing, strides, take-off: each stride as long as the line needs it, what is left shared
/// evenly between landing and take-off.
fn prints_m(distance: &Distance, aim_m: f64) -> Vec<f64> {
    let Exercise::Line { strides } = distance.exercise else { return Vec::new() };
    let needed = distance.needed.iter().find(|needed| needed.strides == strides);
    let Some(needed) = needed else { return Vec::new() };
    // Of another version the strides are longer or shorter in proportion.
    let stride = needed.stride_m.get() * aim_m / distance.length.aim_m.get();
    let landing = (aim_m - f64::from(strides) * stride) / 2.0;
    (0..=strides).map(|k| landing + f64::from(k) * stride).collect()
}
