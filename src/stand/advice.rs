//! Where to stand instead, as data.

use schemars::JsonSchema;
use serde::Serialize;

use super::expectation::Expectation;
use super::lesson::Lesson;
use super::phone::{Phone, Side};
use crate::quantity::{Metres, Unit};

/// What is told to the coach.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "advice", rename_all = "snake_case")]
pub enum Advice {
    /// No place within the bounds is much better.
    Stay {
        /// The largest ± of strides and take-off.
        worst_plus_minus_m: Metres,
    },
    /// There is a better one.
    Go {
        /// How to get there.
        #[serde(flatten)]
        go: Move,
        /// The largest ± of strides and take-off from where she stands; `None` where not all of
        /// them can be measured.
        here_plus_minus_m: Option<Metres>,
        /// From there.
        there_plus_minus_m: Metres,
        /// What gets worse by it.
        worse: Vec<Worse>,
    },
    /// Nowhere within the bounds can all be measured.
    Nowhere {
        /// From this distance on, square to the middle of the strides, a phone of this field that
        /// stands still sees all of them and the fence, metres.
        seen_from_m: f64,
        /// Whether a phone that turns with the horse was tried.
        turns: bool,
        /// Whether all would be seen and only the poles are too few.
        poles_lack: bool,
    },
}

/// A stride, or the take-off, that would be known less well from the better place.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Worse {
    /// Which stride; `None` for the take-off.
    pub stride: Option<i32>,
    /// Its ± from where she stands.
    pub here_plus_minus_m: Metres,
    /// From there.
    pub there_plus_minus_m: Metres,
}

/// The way from one place to another.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Move {
    /// Along the track the way the horse goes, metres; negative, against it.
    pub onward_m: f64,
    /// Towards the track, metres; negative, away from it.
    pub nearer_m: f64,
    /// The phone up, metres; negative, down.
    pub higher_m: f64,
    /// The side stood on, by which onward is left or right.
    pub side: Side,
    /// Before the fence at the end, metres.
    pub before_fence_m: f64,
    /// From the track at the end, metres.
    pub distance_m: f64,
    /// The phone's height at the end, metres.
    pub height_m: f64,
    /// Whether neither place lies beyond the fence.
    pub stays_before_fence: bool,
    /// Whether the phone is in the hand.
    pub in_hand: bool,
}

/// A place must be better by this share to be worth a walk.
const WORTH_IT: f64 = 0.10;
/// Less is not told as a cost, metres: it is written as one centimetre at most.
const WORTH_TELLING_M: f64 = 0.015;

impl Move {
    /// From `here` to `there`.
    pub fn between(here: &Phone, there: &Phone) -> Self {
        Self {
            onward_m: here.before_fence_m - there.before_fence_m,
            nearer_m: here.distance_m - there.distance_m,
            higher_m: there.height_m - here.height_m,
            side: there.side,
            before_fence_m: there.before_fence_m,
            distance_m: there.distance_m,
            height_m: there.height_m,
            stays_before_fence: here.before_fence_m >= 0.0 && there.before_fence_m >= 0.0,
            in_hand: there.turns(),
        }
    }
}

/// What to tell of `here`, given the best place.
pub(super) fn advice(lesson: &Lesson, here: &Expectation, best: Option<&Expectation>) -> Advice {
    let there = best.and_then(|best| Some((best, best.worst_plus_minus_m?)));
    match (here.worst_plus_minus_m, there) {
        (Some(now), Some((_, then))) if then.get() > (1.0 - WORTH_IT) * now.get() => {
            Advice::Stay { worst_plus_minus_m: now }
        }
        (now, Some((best, then))) => Advice::Go {
            go: Move::between(&here.phone, &best.phone),
            here_plus_minus_m: now,
            there_plus_minus_m: then,
            worse: worse(here, best),
        },
        // Where she stands may lie outside of the bounds.
        (Some(now), None) => Advice::Stay { worst_plus_minus_m: now },
        (None, None) => Advice::Nowhere {
            seen_from_m: seen_from_m(lesson, &here.phone),
            turns: here.phone.turns(),
            poles_lack: here.unseen.holds_the_strides(),
        },
    }
}

/// What gets worse by as much as makes a place worth a walk; the last strides first.
fn worse(here: &Expectation, there: &Expectation) -> Vec<Worse> {
    let strides = here.strides.iter().zip(&there.strides).rev().map(|(here, there)| {
        (Some(here.number), here.length_plus_minus_m, there.length_plus_minus_m)
    });
    let take_off = [(None, here.take_off_plus_minus_m, there.take_off_plus_minus_m)];
    take_off
        .into_iter()
        .chain(strides)
        .filter_map(|(stride, here, there)| {
            let (here_plus_minus_m, there_plus_minus_m) = (here?, there?);
            let by_m = there_plus_minus_m.get() - here_plus_minus_m.get();
            let is_worse = by_m > (WORTH_IT * here_plus_minus_m.get()).max(WORTH_TELLING_M);
            is_worse.then_some(Worse { stride, here_plus_minus_m, there_plus_minus_m })
        })
        .collect()
}

/// From where the strides and the fence fill the field, square to their middle. The near end of
/// the ground line is seen under the widest angle.
fn seen_from_m(lesson: &Lesson, phone: &Phone) -> f64 {
    let strides = &lesson.strides;
    let length_m = strides.take_off_m + f64::from(strides.count) * strides.length_m;
    let half = (phone.field_deg.to_radians() / 2.0 * 0.94).tan();
    let away = (length_m / 2.0) / half + lesson.fence_width_m / 4.0;
    (away * 2.0).ceil() / 2.0
}
