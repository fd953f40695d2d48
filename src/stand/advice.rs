//! Where to stand instead, as data.

use schemars::JsonSchema;
use serde::Serialize;

use super::expectation::Expectation;
use super::fewer::ForAll;
use super::phone::{Phone, Side};
use super::sureness::{Sureness, Wanted};
use crate::quantity::{Metres, Unit};

/// What is told to the coach.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "advice", rename_all = "snake_case")]
pub enum Advice {
    /// No place within the bounds is much better.
    Stay {
        /// What is known from where she stands.
        here: Sureness,
    },
    /// There is a better one.
    Go {
        /// How to get there.
        #[serde(flatten)]
        go: Move,
        /// What is known from where she stands; `None` where not all can be measured.
        here: Option<Sureness>,
        /// From there.
        there: Sureness,
        /// What gets worse by it.
        worse: Vec<Worse>,
    },
    /// She stands nowhere yet: the best place.
    Stand {
        /// The phone there.
        phone: Phone,
        /// What is known from there.
        there: Sureness,
    },
    /// Nowhere within the bounds can even one stride and the take-off be measured.
    Nowhere {
        /// What would have to give for all strides that are wanted.
        all: Vec<ForAll>,
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

/// What to tell, given what is known from where she stands and from the best place.
pub(super) fn advice(here: Option<&Expectation>, best: Option<&Expectation>) -> Advice {
    let there = best.and_then(|best| Some((best, best.sureness?)));
    let known = here.and_then(|here| here.sureness);
    match (here, known, there) {
        (Some(from), Some(now), Some((best, _))) if !is_worth_it(from, best) => {
            Advice::Stay { here: now }
        }
        (Some(from), now, Some((best, there))) => Advice::Go {
            go: Move::between(&from.phone, &best.phone),
            here: now,
            there,
            worse: worse(from, best),
        },
        (None, _, Some((best, there))) => Advice::Stand { phone: best.phone, there },
        (_, Some(now), None) => Advice::Stay { here: now },
        (_, None, None) => Advice::Nowhere { all: Vec::new(), poles_lack: false },
    }
}

/// Whether `there` is better by enough, and nothing near the fence is lost for it that is worth more.
fn is_worth_it(here: &Expectation, there: &Expectation) -> bool {
    match (Wanted::of(here), Wanted::of(there)) {
        (Some(here), Some(there)) => {
            let is_better = there.price_m() <= (1.0 - WORTH_IT) * here.price_m();
            is_better && here.is_worth_leaving_for(&there)
        }
        (None, there) => there.is_some(),
        (Some(_), None) => false,
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
