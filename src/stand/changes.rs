//! One thing done differently, and what it brings: so that the coach may choose.

use rayon::prelude::*;
use schemars::JsonSchema;
use serde::Serialize;

use super::bounds::Bounds;
use super::expectation::expect;
use super::lesson::{Lesson, PolesLaid, SNAPPED_SD_PX, TAPED_SD_M};
use super::phone::Phone;
use super::sureness::Sureness;
use crate::quantity::Unit;
use crate::stride::Draws;

/// One thing done differently.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "change", rename_all = "snake_case")]
pub enum Change {
    /// Nearer to the track.
    Nearer {
        /// By so much, metres.
        by_m: f64,
    },
    /// Farther from it.
    Farther {
        /// By so much, metres.
        by_m: f64,
    },
    /// Along it, the way the horse goes.
    Onward {
        /// By so much, metres.
        by_m: f64,
    },
    /// Along it, against the way the horse goes.
    Back {
        /// By so much, metres.
        by_m: f64,
    },
    /// The phone held higher.
    Higher {
        /// To this height, metres.
        to_m: f64,
    },
    /// To the other side of the track.
    OtherSide,
    /// Pointed so that what is wanted lies in the middle.
    PointAnew,
    /// One more pole, before the first.
    OnePoleMore,
    /// The poles laid by the tape instead of by walking.
    TapeThePoles,
    /// The poles' ends drawn to the poles' own edges on the desk.
    SnapTheEnds,
}

/// A change with what it brings.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Changed {
    /// What is done.
    #[serde(flatten)]
    pub change: Change,
    /// What is known then; `None` where not all can be measured.
    pub sureness: Option<Sureness>,
}

/// A step worth telling, metres.
const STEP_M: f64 = 2.0;
/// How much higher a phone is held.
const LIFT_M: f64 = 0.4;

impl Change {
    /// Lesson and phone after it; `None` where it cannot be done or is already so.
    fn done(self, lesson: &Lesson, phone: &Phone, bounds: &Bounds) -> Option<(Lesson, Phone)> {
        let (mut lesson, mut phone) = (*lesson, *phone);
        match self {
            Self::Nearer { by_m } => phone.distance_m -= by_m,
            Self::Farther { by_m } => phone.distance_m += by_m,
            Self::Onward { by_m } => phone.before_fence_m -= by_m,
            Self::Back { by_m } => phone.before_fence_m += by_m,
            Self::Higher { to_m } => phone.height_m = to_m,
            Self::OtherSide => phone.side = phone.side.other(),
            Self::PointAnew => {
                phone.aim_before_fence_m?;
                phone.aim_before_fence_m = None;
            }
            Self::OnePoleMore => lesson.poles.count += 1,
            Self::TapeThePoles => {
                if lesson.poles.spacing_m.sd <= 2.0 * TAPED_SD_M {
                    return None;
                }
                lesson.poles = PolesLaid::taped(lesson.poles);
            }
            Self::SnapTheEnds => {
                if lesson.poles.end_sd_px <= 1.5 * SNAPPED_SD_PX {
                    return None;
                }
                lesson.poles = PolesLaid::snapped(lesson.poles);
            }
        }
        let moved = matches!(
            self,
            Self::Nearer { .. } | Self::Farther { .. } | Self::Onward { .. } | Self::Back { .. }
        );
        if moved {
            // Who moves points the phone anew.
            phone.aim_before_fence_m = None;
        }
        let possible = !moved
            || bounds.distance.holds(phone.distance_m)
                && bounds.before_fence.holds(phone.before_fence_m);
        possible.then_some((lesson, phone))
    }
}

/// Every change that can be made, the one that helps most first; those without an answer last.
pub(super) fn changes(
    lesson: &Lesson,
    phone: &Phone,
    bounds: &Bounds,
    draws: Draws,
) -> Vec<Changed> {
    let lifted = bounds.height.nearest(phone.height_m + LIFT_M);
    let mut all = vec![
        Change::Nearer { by_m: STEP_M },
        Change::Farther { by_m: STEP_M },
        Change::Onward { by_m: STEP_M },
        Change::Back { by_m: STEP_M },
        Change::OtherSide,
        Change::PointAnew,
        Change::OnePoleMore,
        Change::TapeThePoles,
        Change::SnapTheEnds,
    ];
    if lifted > phone.height_m + 0.05 {
        all.push(Change::Higher { to_m: lifted });
    }
    let mut changed: Vec<Changed> = all
        .into_par_iter()
        .filter_map(|change| {
            let (lesson, phone) = change.done(lesson, phone, bounds)?;
            let sureness = expect(&lesson, &phone, draws).sureness;
            Some(Changed { change, sureness })
        })
        .collect();
    let rank = |changed: &Changed| {
        changed.sureness.map_or(f64::INFINITY, |known| known.judged.plus_minus_m.get())
    };
    changed.sort_by(|a, b| rank(a).total_cmp(&rank(b)));
    changed
}
