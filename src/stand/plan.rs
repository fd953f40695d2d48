//! The whole answer: from here, from the best place, and what single changes bring.

use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, Schema};
use serde::Serialize;

use super::advice::{Advice, advice};
use super::bounds::{Bounds, checked};
use super::changes::{Changed, changes};
use super::doubt::StandDoubt;
use super::error::StandError;
use super::expectation::{Expectation, expect};
use super::lesson::Lesson;
use super::phone::Phone;
use super::search::best_place;
use crate::poles::CAUTIONS;
use crate::quantity::LengthUnits;
use crate::stride::Draws;

/// Where the coach herself stands (common practice, no source); stands before the other cautions.
pub const SAFETY: &str = "Stand where a horse that runs out or on does not reach you: 4 m from the \
     track at least, never in its line, not where it lands. The person on the ground decides.";

/// Where to stand for one lesson.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct StandPlan {
    /// What lies on the ground and how the horse goes.
    pub lesson: Lesson,
    /// From where she stands.
    pub here: Expectation,
    /// Where she can stand.
    pub bounds: Bounds,
    /// From the best place within the bounds; `None` where nothing can be measured there.
    pub best: Option<Expectation>,
    /// What to do.
    pub advice: Advice,
    /// Single changes, the one that helps most first.
    pub changes: Vec<Changed>,
    /// Reasons to trust the whole less.
    pub doubts: Vec<StandDoubt>,
    /// Where to be careful.
    pub safety: &'static str,
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
    /// Doubts about the whole and about where she stands, as sentences.
    doubt_sentences: Vec<String>,
}

impl StandPlan {
    /// The plan with its sentences.
    pub fn told(&self) -> StandTold<'_> {
        StandTold {
            plan: self,
            sentence: self.advice.sentence(LengthUnits::Metres),
            unseen_sentence: self.here.unseen.sentence(),
            doubt_sentences: self.doubt_sentences(),
        }
    }

    /// Doubts about the whole and about where she stands, each once.
    pub fn doubt_sentences(&self) -> Vec<String> {
        let all = self.doubts.iter().chain(&self.here.doubts);
        all.map(StandDoubt::sentence).collect()
    }
}

/// The JSON Schema (draft 2020-12) of what [`StandTold`] is written as.
pub fn stand_schema() -> Schema {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    settings.into_generator().into_root_schema_for::<StandTold>()
}

/// Where to stand to film `lesson` with a phone that now is `here`.
///
/// Errors: numbers that make no sense, a phone nearer to the track than is safe.
pub fn stand(
    lesson: &Lesson,
    here: &Phone,
    bounds: &Bounds,
    draws: Draws,
) -> Result<StandPlan, StandError> {
    checked(lesson, here)?;
    bounds.checked()?;
    let from_here = expect(lesson, here, draws);
    let best =
        best_place(lesson, here, bounds, draws.seed).map(|best| expect(lesson, &best, draws));
    let told = advice(lesson, &from_here, best.as_ref());
    Ok(StandPlan {
        lesson: *lesson,
        changes: changes(lesson, here, bounds, draws),
        advice: told,
        here: from_here,
        bounds: *bounds,
        best,
        doubts: Vec::new(),
        safety: SAFETY,
        cautions: &CAUTIONS,
    })
}
