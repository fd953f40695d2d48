//! The obstacle.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::mark::Mark;

/// A fence: what it is and where its base was marked.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Fence {
    /// A name of its own within the file.
    pub id: String,
    /// What people call it.
    #[serde(default)]
    pub name: String,
    /// Its build.
    #[serde(default)]
    pub kind: FenceKind,
    /// Height of the highest rail, metres.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_m: Option<f64>,
    /// Front base to back base, metres; nothing for a vertical.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spread_m: Option<f64>,
    /// What lies behind it.
    #[serde(default)]
    pub behind: String,
    /// What lies around it.
    #[serde(default)]
    pub around: String,
    /// Marks of the ground line on the take-off side.
    #[serde(default)]
    pub take_off_base: BaseMarks,
    /// Marks of the far base; leave empty for a vertical, whose far base is the same line.
    #[serde(default)]
    pub landing_base: BaseMarks,
    /// Keys of other versions, kept as they are.
    #[serde(flatten)]
    pub other: Map<String, Value>,
}

/// The two ends of one base line, on the ground.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
pub struct BaseMarks {
    /// Left of the way the horse goes.
    #[serde(default)]
    pub left: Vec<Mark>,
    /// Right of it.
    #[serde(default)]
    pub right: Vec<Mark>,
    /// Keys of other versions, kept as they are.
    #[serde(flatten)]
    pub other: Map<String, Value>,
}

/// Which base point of a fence.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum BaseCorner {
    /// Take-off side, left.
    TakeOffLeft,
    /// Take-off side, right.
    TakeOffRight,
    /// Landing side, left.
    LandingLeft,
    /// Landing side, right.
    LandingRight,
}

/// Builds of fence, in the words of the course builder.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FenceKind {
    /// All parts in one upright plane.
    #[default]
    Vertical,
    /// Two planes: a spread.
    Oxer,
    /// Two crossed rails.
    CrossRail,
    /// Three rising planes.
    TripleBar,
    /// A pole on the ground.
    GroundPole,
    /// Anything else; say what under `name`.
    OtherKind,
}

impl Fence {
    /// A vertical of that id, not marked yet, of which nothing else is known.
    pub fn new(id: impl Into<String>) -> Self {
        Self {
            id: id.into(),
            name: String::new(),
            kind: FenceKind::default(),
            height_m: None,
            spread_m: None,
            behind: String::new(),
            around: String::new(),
            take_off_base: BaseMarks::default(),
            landing_base: BaseMarks::default(),
            other: Map::new(),
        }
    }

    /// The marks of one base point.
    pub fn base(&self, corner: BaseCorner) -> &[Mark] {
        match corner {
            BaseCorner::TakeOffLeft => &self.take_off_base.left,
            BaseCorner::TakeOffRight => &self.take_off_base.right,
            BaseCorner::LandingLeft => &self.landing_base.left,
            BaseCorner::LandingRight => &self.landing_base.right,
        }
    }

    pub(super) fn base_mut(&mut self, corner: BaseCorner) -> &mut Vec<Mark> {
        match corner {
            BaseCorner::TakeOffLeft => &mut self.take_off_base.left,
            BaseCorner::TakeOffRight => &mut self.take_off_base.right,
            BaseCorner::LandingLeft => &mut self.landing_base.left,
            BaseCorner::LandingRight => &mut self.landing_base.right,
        }
    }
}

impl BaseCorner {
    /// All four.
    pub const ALL: [Self; 4] =
        [Self::TakeOffLeft, Self::TakeOffRight, Self::LandingLeft, Self::LandingRight];
}

impl FenceKind {
    /// Its name in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Vertical => "vertical",
            Self::Oxer => "oxer",
            Self::CrossRail => "cross rail",
            Self::TripleBar => "triple bar",
            Self::GroundPole => "ground pole",
            Self::OtherKind => "fence",
        }
    }
}
