//! The published distances: rows of `fixtures/distances.json`, each with its source.
//!
//! Rows are what others printed, never what this program found.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::provenance::{Provenance, Table};
use crate::quantity::Metres;

/// What a row is a distance of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RowKind {
    /// One canter stride.
    Stride,
    /// What landing takes, or take-off: one of the two.
    LandingOrTakeOff,
    /// Ground poles in walk.
    WalkPoles,
    /// Ground poles in trot.
    TrotPoles,
    /// Ground poles in canter.
    CanterPoles,
    /// A ground pole before a fence.
    PlacingPole,
    /// Two fences without a stride between.
    Bounce,
    /// Two fences with strides between.
    Line,
    /// What a trot approach takes off.
    TrotShortening,
    /// One walked pace of a person.
    WalkedPace,
    /// How far apart fences that are no combination stand.
    FencesApart,
    /// How far apart elements of a combination stand.
    Combination,
    /// The ground line before the base.
    GroundLine,
    /// Width of a fence.
    FenceWidth,
    /// Spread of an oxer.
    OxerSpread,
    /// Start line to first fence.
    StartLine,
    /// Last fence to finish line.
    FinishLine,
    /// Between verticals of a six-bar line.
    SixBar,
    /// Length of a course for each obstacle.
    CoursePerObstacle,
    /// Poles, planks and cups.
    Equipment,
}

/// Whom a row is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Population {
    /// The source does not say; taken as horses.
    NotStated,
    /// Horses.
    Horse,
    /// Ponies, no class stated.
    Pony,
    /// Ponies to about 1.30 m.
    PonySmall,
    /// Ponies to about 1.40 m.
    PonyMedium,
    /// Ponies to about 1.50 m.
    PonyLarge,
}

/// The approach a row is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RowGait {
    /// The source does not say; taken as canter, the gait of courses.
    NotStated,
    /// Walk.
    Walk,
    /// Trot.
    Trot,
    /// Canter.
    Canter,
}

/// One published distance.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PublishedRow {
    /// What it is a distance of.
    pub kind: RowKind,
    /// Strides between the two ends.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strides: Option<u32>,
    /// Whom it is for.
    pub population: Population,
    /// The same in the source's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub population_printed: Option<String>,
    /// The approach.
    pub gait: RowGait,
    /// Low end; `None` where only a most is printed. A single figure has both ends equal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub low_m: Option<Metres>,
    /// High end; `None` where only a least is printed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub high_m: Option<Metres>,
    /// The figure as printed, with its unit.
    pub printed: String,
    /// The source's own figure in a second unit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub printed_also: Option<String>,
    /// Lowest fence it holds for, metres.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fence_from_m: Option<f64>,
    /// Highest fence it holds for, metres; 0 for poles on the ground.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fence_to_m: Option<f64>,
    /// Why it is shown but not compared with.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub aside: Option<String>,
    /// Where it was printed.
    #[serde(flatten)]
    pub provenance: Provenance,
}

/// All published distances.
pub type Published = Table<PublishedRow>;

impl Published {
    /// The tables that come with the program. An error is a fault of the program, not of its user.
    pub fn built_in() -> Result<Self, serde_json::Error> {
        serde_json::from_str(include_str!("../../fixtures/distances.json"))
    }
}
