//! Things of known size on the ground.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::mark::Mark;
use crate::quantity::Given;

/// A reference: what it is, how large, and where it was marked.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Reference {
    /// A name of its own within the file.
    pub id: String,
    /// What it is.
    #[serde(flatten)]
    pub kind: ReferenceKind,
}

/// The kinds of reference the survey knows.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum ReferenceKind {
    /// Equal poles laid parallel at equal spacing, square to the way the horse goes.
    Poles {
        /// How many.
        count: u32,
        /// Centre to centre of neighbours, metres; the sd is that of one gap.
        spacing_m: Given,
        /// Length of each pole, metres; the sd is common to all.
        length_m: Given,
        /// Diameter, metres: an end is marked at the middle of its end face, half this high.
        #[serde(default = "default_diameter")]
        diameter_m: f64,
        /// The marked ends.
        #[serde(default)]
        ends: Vec<PoleEndMarks>,
        /// Keys of other versions, kept as they are.
        #[serde(flatten)]
        other: Map<String, Value>,
    },
    /// A measured distance between two points.
    Distance {
        /// Metres, along the ground.
        length_m: Given,
        /// Height of both points above the ground, metres.
        #[serde(default)]
        at_height_m: f64,
        /// Marks of the first point.
        #[serde(default)]
        from: Vec<Mark>,
        /// Marks of the second point.
        #[serde(default)]
        to: Vec<Mark>,
        /// Keys of other versions, kept as they are.
        #[serde(flatten)]
        other: Map<String, Value>,
    },
    /// A fence whose width is known: the distance between the left and right base points, on
    /// each side where both are marked on the fence.
    FenceWidth {
        /// The fence's id.
        fence: String,
        /// Metres between the two base points.
        length_m: Given,
        /// Keys of other versions, kept as they are.
        #[serde(flatten)]
        other: Map<String, Value>,
    },
    /// Something upright of known height that stands on the ground: fixes roll and focal length.
    Vertical {
        /// Metres from foot to top.
        height_m: Given,
        /// How far the top may lean sideways, standard deviation in metres.
        #[serde(default = "default_lean")]
        lean_sd_m: f64,
        /// Marks of the foot, on the ground.
        #[serde(default)]
        foot: Vec<Mark>,
        /// Marks of the top, straight above.
        #[serde(default)]
        top: Vec<Mark>,
        /// Keys of other versions, kept as they are.
        #[serde(flatten)]
        other: Map<String, Value>,
    },
    /// Rails of a fence at known heights over the line of its take-off base.
    FenceRails {
        /// The fence's id.
        fence: String,
        /// The rails.
        #[serde(default)]
        rails: Vec<RailMarks>,
        /// Keys of other versions, kept as they are.
        #[serde(flatten)]
        other: Map<String, Value>,
    },
}

impl ReferenceKind {
    /// What it is in plain words, as it stands before its id.
    pub fn words(&self) -> &'static str {
        match self {
            Self::Poles { .. } => "poles",
            Self::Distance { .. } => "distance",
            Self::FenceWidth { .. } => "width",
            Self::Vertical { .. } => "vertical",
            Self::FenceRails { .. } => "rails",
        }
    }
}

/// Diameter of a pole by rule, metres, where nobody measured it.
pub const USUAL_DIAMETER_M: f64 = 0.10;

/// How far the top of an upright thing may lean, metres, where nobody said.
pub const USUAL_LEAN_M: f64 = 0.02;

fn default_diameter() -> f64 {
    USUAL_DIAMETER_M
}

fn default_lean() -> f64 {
    USUAL_LEAN_M
}

/// Which end of a pole.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum PoleEnd {
    /// Left of the way the horse goes.
    Left,
    /// Right of the way the horse goes.
    Right,
}

/// One end of one pole and its marks.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PoleEndMarks {
    /// Which pole: 1 is the one the horse meets first.
    pub pole: u32,
    /// Which end.
    pub end: PoleEnd,
    /// The marks, at most one a frame.
    #[serde(default)]
    pub marks: Vec<Mark>,
    /// Keys of other versions, kept as they are.
    #[serde(flatten)]
    pub other: Map<String, Value>,
}

impl PoleEndMarks {
    /// The marks of one end of one pole.
    pub fn new(pole: u32, end: PoleEnd, marks: Vec<Mark>) -> Self {
        Self { pole, end, marks, other: Map::new() }
    }
}

/// One rail of a fence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct RailMarks {
    /// Height of the rail's centre line above the ground, metres.
    pub height_m: Given,
    /// Marks of points on the rail, one near each end; two marks of one frame are two ends.
    #[serde(default)]
    pub left: Vec<Mark>,
    /// Marks near the right end.
    #[serde(default)]
    pub right: Vec<Mark>,
    /// Keys of other versions, kept as they are.
    #[serde(flatten)]
    pub other: Map<String, Value>,
}

impl RailMarks {
    /// A rail at `height_m`, not marked yet.
    pub fn new(height_m: Given) -> Self {
        Self { height_m, left: Vec::new(), right: Vec::new(), other: Map::new() }
    }
}
