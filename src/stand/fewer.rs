//! Where not all strides that are wanted can be measured within the bounds: how many can, and what
//! would have to give for all.

use schemars::JsonSchema;
use serde::Serialize;

use super::bounds::{Bounds, Within};
use super::expectation::expect;
use super::expected_marks::expected_marks;
use super::lesson::{Lesson, LevelStrides};
use super::phone::{Handling, Phone, Start};
use super::search::{NoPlace, best_place, can_be_measured};
use crate::stride::Draws;

/// Fewer strides than were wanted.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Fewer {
    /// How many were wanted.
    pub wanted: u32,
    /// What would have to give for all of them; the easiest first.
    pub all: Vec<ForAll>,
}

/// Something that would have to give for all strides.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "by", rename_all = "snake_case")]
pub enum ForAll {
    /// They can be measured from where she stands, out of the bounds.
    Here,
    /// The phone turned with the horse, within the bounds.
    Turning,
    /// Stand farther away than the bounds allow.
    Farther {
        /// From the track, metres.
        distance_m: f64,
        /// Before the fence, metres.
        before_fence_m: f64,
    },
}

/// Places farther away are half metres apart, up to the farthest that is planned.
const STEP_M: f64 = 0.5;
const FARTHEST_M: f64 = 60.0;
/// Draws that tell whether something can be measured.
const TRIAL_DRAWS: usize = 50;

/// `lesson` with the most strides that can be measured within `bounds`, and from where best.
pub(super) fn most_strides(
    lesson: &Lesson,
    start: &Start,
    bounds: &Bounds,
    draws: Draws,
) -> Option<(Lesson, Phone)> {
    (1..lesson.strides.count).rev().find_map(|count| {
        let lesson = with_strides(lesson, count);
        let here = start.here().map(|here| expect(&lesson, here, draws));
        let known = here.as_ref().and_then(super::sureness::Wanted::of);
        let found = best_place(&lesson, start, bounds, known.as_ref(), draws.seed);
        found.ok().map(|phone| (lesson, phone))
    })
}

fn with_strides(lesson: &Lesson, count: u32) -> Lesson {
    Lesson { strides: LevelStrides { count, ..lesson.strides }, ..*lesson }
}

/// What would have to give for all of `lesson`; `reason` is why no place within `bounds` does.
pub(super) fn for_all(
    lesson: &Lesson,
    start: &Start,
    bounds: &Bounds,
    here_is_enough: bool,
    reason: NoPlace,
    seed: u64,
) -> Vec<ForAll> {
    let mut all = Vec::new();
    all.extend(here_is_enough.then_some(ForAll::Here));
    // Where places show all and none measures, the poles lack; nobody walks that away.
    if reason == NoPlace::Measures {
        return all;
    }
    let phone = start.phone();
    let turning = Phone { handling: Handling::STEADY_HANDS, ..*phone };
    if !phone.turns() && can_be_measured(lesson, &turning, bounds, seed) {
        all.push(ForAll::Turning);
    }
    all.extend(farther(lesson, phone, bounds, seed));
    all
}

/// The least distance beyond the bounds from which all is seen and can be measured.
fn farther(lesson: &Lesson, phone: &Phone, bounds: &Bounds, seed: u64) -> Option<ForAll> {
    let strides = &lesson.strides;
    let middle_m = (strides.take_off_m + f64::from(strides.count) * strides.length_m) / 2.0;
    let height_m = bounds.height.nearest(phone.height_m);
    let place = |distance_m, before_fence_m| Phone {
        distance_m,
        before_fence_m,
        height_m,
        aim_before_fence_m: None,
        ..*phone
    };
    let shows = |phone: &Phone| expected_marks(lesson, phone).unseen.holds_the_strides();
    let Within { low_m, high_m } = bounds.before_fence;
    // From square to their middle most is seen; where she cannot go there, from as near to it.
    let along_m = (middle_m.clamp(low_m, high_m) / STEP_M).round() * STEP_M;
    let steps = (bounds.distance.high_m / STEP_M).floor() as i32 + 1;
    let mut distances = (steps..=(FARTHEST_M / STEP_M) as i32).map(|step| f64::from(step) * STEP_M);
    let found = distances.find(|distance_m| shows(&place(*distance_m, along_m)))?;
    let draws = Draws { count: TRIAL_DRAWS, seed };
    let is_measured = expect(lesson, &place(found, along_m), draws).sureness.is_some();
    is_measured.then_some(ForAll::Farther { distance_m: found, before_fence_m: along_m })
}
