//! The whole answer: from here, from the best place, and what single changes bring.

use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, Schema};
use serde::Serialize;

use super::advice::{Advice, advice};
use super::aiming::aimed_before_fence_m;
use super::bounds::{Bounds, checked_lesson, checked_phone};
use super::changes::{Changed, changes};
use super::doubt::StandDoubt;
use super::error::StandError;
use super::expectation::{Expectation, expect};
use super::fewer::{Fewer, for_all, most_strides};
use super::lesson::Lesson;
use super::phone::{Phone, Start};
use super::search::{NoPlace, best_place};
use super::sureness::Wanted;
use crate::poles::CAUTIONS;
use crate::quantity::{LengthUnits, Metres, Unit};
use crate::stride::Draws;

/// Where to stand for one lesson.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct StandPlan {
    /// What lies on the ground and how the horse goes; with fewer strides than were asked for where
    /// `fewer` says so.
    pub lesson: Lesson,
    /// From where she stands; `None` where she stands nowhere yet.
    pub here: Option<Expectation>,
    /// Where she can stand.
    pub bounds: Bounds,
    /// From the best place within the bounds; `None` where nothing can be measured there.
    pub best: Option<Expectation>,
    /// What to do.
    pub advice: Advice,
    /// That not all strides which were asked for can be measured within the bounds.
    pub fewer: Option<Fewer>,
    /// Single changes from here, or from the best place where she stands nowhere yet; the one that
    /// helps most first.
    pub changes: Vec<Changed>,
    /// Reasons to trust the whole less.
    pub doubts: Vec<StandDoubt>,
    /// What stands on every plan.
    pub cautions: &'static [&'static str],
}

/// A plan for other programs: metres, units in the keys, and what is said of it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(rename = "Stand")]
pub struct StandTold<'a> {
    #[serde(flatten)]
    plan: &'a StandPlan,
    /// The advice in a sentence.
    sentence: String,
    /// What is out of the picture from where she stands; `None` when nothing is.
    unseen_sentence: Option<String>,
    /// Where the middle of the advised place's picture crosses the track; `None` for a phone that is
    /// turned, or without such a place.
    advised_aim_before_fence_m: Option<Metres>,
    /// What is out of the picture from the advised place; `None` when nothing is.
    advised_unseen_sentence: Option<String>,
    /// Doubts about the whole and about where she stands, as sentences.
    doubt_sentences: Vec<String>,
    /// Where to be careful.
    safety: String,
}

impl StandPlan {
    /// The plan with its sentences.
    pub fn told(&self) -> StandTold<'_> {
        let units = LengthUnits::Metres;
        StandTold {
            plan: self,
            sentence: self.sentence(units),
            unseen_sentence: self.unseen_sentence(),
            advised_aim_before_fence_m: self.aim_before_fence_m(),
            advised_unseen_sentence: self.advised_unseen_sentence(),
            doubt_sentences: self.doubt_sentences(units),
            safety: self.safety(units),
        }
    }

    /// The better place, where there is one worth the walk.
    pub fn better(&self) -> Option<&Expectation> {
        self.best.as_ref().filter(|_| matches!(self.advice, Advice::Go { .. }))
    }

    /// The place that is advised: the better one, or the best for who stands nowhere yet.
    pub fn advised(&self) -> Option<&Expectation> {
        self.best
            .as_ref()
            .filter(|_| matches!(self.advice, Advice::Go { .. } | Advice::Stand { .. }))
    }

    /// The place that single changes are made from.
    pub fn changed_from(&self) -> Option<&Expectation> {
        self.here.as_ref().or(self.best.as_ref())
    }

    /// What is out of the picture from where she stands; `None` when nothing is.
    pub fn unseen_sentence(&self) -> Option<String> {
        self.here.as_ref()?.unseen.sentence()
    }

    /// The same from the place that is advised.
    pub fn advised_unseen_sentence(&self) -> Option<String> {
        self.advised()?.unseen.sentence()
    }

    /// Where the track is crossed by the middle of the advised place's picture, metres before the
    /// ground line; `None` for a phone that is turned.
    pub fn aim_before_fence_m(&self) -> Option<Metres> {
        let phone = &self.advised()?.phone;
        (!phone.turns()).then(|| Metres::new(aimed_before_fence_m(&self.lesson, phone)))
    }

    /// Doubts about the whole and about the place that changes are made from, each once.
    pub fn doubt_sentences(&self, units: LengthUnits) -> Vec<String> {
        let of_place = self.changed_from().into_iter().flat_map(|from| &from.doubts);
        self.doubts.iter().chain(of_place).map(|doubt| doubt.sentence(units)).collect()
    }
}

/// The JSON Schema (draft 2020-12) of what [`StandTold`] is written as.
pub fn stand_schema() -> Schema {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    settings.into_generator().into_root_schema_for::<StandTold>()
}

/// Where to stand to film `lesson`, asked from `start`.
///
/// Errors: numbers that make no sense, a phone nearer to the track than is safe.
pub fn stand(
    lesson: &Lesson,
    start: &Start,
    bounds: &Bounds,
    draws: Draws,
) -> Result<StandPlan, StandError> {
    checked_lesson(lesson)?;
    checked_phone(start.phone())?;
    bounds.checked()?;
    let here = start.here().map(|here| expect(lesson, here, draws));
    let known = here.as_ref().and_then(Wanted::of);
    match best_place(lesson, start, bounds, known.as_ref(), draws.seed) {
        Ok(best) => Ok(plan(lesson, bounds, here, Some(best), draws)),
        Err(reason) => {
            let enough = known.is_some();
            let stands_inside = start.here().is_some_and(|here| bounds.hold(here));
            if enough && stands_inside {
                return Ok(plan(lesson, bounds, here, None, draws));
            }
            Ok(not_for_all(lesson, start, bounds, here, reason, draws))
        }
    }
}

/// For as many strides as can be measured within the bounds.
fn not_for_all(
    lesson: &Lesson,
    start: &Start,
    bounds: &Bounds,
    here: Option<Expectation>,
    reason: NoPlace,
    draws: Draws,
) -> StandPlan {
    let enough = here.as_ref().is_some_and(|here| here.sureness.is_some());
    let all = for_all(lesson, start, bounds, enough, reason, draws.seed);
    match most_strides(lesson, start, bounds, draws) {
        Some((fewer, best)) => {
            let here = start.here().map(|here| expect(&fewer, here, draws));
            let plan = plan(&fewer, bounds, here, Some(best), draws);
            StandPlan { fewer: Some(Fewer { wanted: lesson.strides.count, all }), ..plan }
        }
        None => {
            let poles_lack = reason == NoPlace::Measures;
            let plan = plan(lesson, bounds, here, None, draws);
            StandPlan { advice: Advice::Nowhere { all, poles_lack }, ..plan }
        }
    }
}

fn plan(
    lesson: &Lesson,
    bounds: &Bounds,
    here: Option<Expectation>,
    best: Option<Phone>,
    draws: Draws,
) -> StandPlan {
    let best = best.map(|best| expect(lesson, &best, draws));
    let from = here.as_ref().or(best.as_ref()).map(|from| from.phone);
    StandPlan {
        lesson: *lesson,
        changes: from.map_or_else(Vec::new, |from| changes(lesson, &from, bounds, draws)),
        advice: advice(here.as_ref(), best.as_ref()),
        here,
        bounds: *bounds,
        best,
        fewer: None,
        doubts: Vec::new(),
        cautions: &CAUTIONS,
    }
}
