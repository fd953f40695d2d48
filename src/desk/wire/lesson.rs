//! The next lesson: what the page asks a plan for, and the plan as it shows it.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What a plan is wanted for; what is left out is taken from the round.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize, TS)]
#[serde(default)]
pub struct LessonWish {
    /// Of which approach the strides are; the last where none is named.
    pub approach: Option<String>,
    /// The canter stride, metres, where it is not the measured one.
    pub stride_m: Option<f64>,
    /// Height of the fences, metres.
    pub height_m: Option<f64>,
    /// The gait of the approach.
    pub gait: LessonGait,
    /// For whom.
    pub size: LessonSize,
    /// The ground.
    pub going: Option<LessonGoing>,
    /// The horse's state.
    pub readiness: LessonReadiness,
    /// Rise the way the horse goes, per cent.
    pub slope_percent: Option<f64>,
    /// Only a line of so many strides.
    pub strides: Option<u32>,
}

/// The gait of an approach.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum LessonGait {
    /// In canter.
    #[default]
    Canter,
    /// In trot.
    Trot,
}

/// Horse or pony.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum LessonSize {
    /// A horse.
    #[default]
    Horse,
    /// A pony of no stated height.
    Pony,
    /// To about 1.30 m.
    SmallPony,
    /// To about 1.40 m.
    MediumPony,
    /// To about 1.50 m.
    LargePony,
}

/// The ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum LessonGoing {
    /// Nothing to allow for.
    Good,
    /// Deep or heavy.
    Deep,
    /// Slippery or hard.
    Slippery,
}

/// The state of the horse.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum LessonReadiness {
    /// Fresh and used to it.
    #[default]
    Ready,
    /// Tired.
    Tired,
    /// New to it.
    Green,
}

/// A plan, written.
#[derive(Clone, Debug, PartialEq, Default, Serialize, TS)]
pub struct LessonView {
    /// Why there is none.
    pub cannot: Option<String>,
    /// The stride it rests on, in words.
    pub stride: String,
    /// What was taken from the round or assumed, a line each.
    pub taken: Vec<String>,
    /// Other rounds of the horse are still being measured: the page asks again.
    pub unsettled: bool,
    /// What is used where a field is empty.
    pub used: LessonUsed,
    /// What to beware of, a sentence each.
    pub notes: Vec<String>,
    /// The distances, poles first.
    pub distances: Vec<LessonDistance>,
    /// The pace beside course speeds; empty where none was measured.
    pub pace: Vec<String>,
    /// What stands on every plan.
    pub cautions: Vec<String>,
    /// What the tags stand for.
    pub sources: Vec<String>,
    /// The exercises to scale, SVG; empty where there is no plan.
    pub drawing: String,
}

/// What a plan used, as fields show it.
#[derive(Clone, Debug, PartialEq, Default, Serialize, TS)]
pub struct LessonUsed {
    /// In the unit set, without it.
    pub stride: String,
    /// In the unit set, without it.
    pub height: String,
    /// The same in metres, to hand back.
    pub height_m: f64,
    /// Per cent, written.
    pub slope: String,
    /// The going in a word.
    pub going: String,
}

/// A distance, written.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct LessonDistance {
    /// What is built.
    pub name: String,
    /// The distance in the unit set.
    pub first: String,
    /// In the other unit.
    pub second: String,
    /// In walked paces.
    pub walked: String,
    /// The room around it.
    pub room: String,
    /// Lines only: the shorter and the longer version to train adjusting.
    pub versions: Vec<String>,
    /// What to beware of, a sentence each.
    pub warnings: Vec<String>,
    /// The range of the published tables with their tags.
    pub published: String,
    /// Every published row, with source and grade.
    pub rows: Vec<String>,
}
