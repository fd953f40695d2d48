//! Fixed points of the scene seen in several frames.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::mark::Mark;

/// A fixed point that joins frames.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Tie {
    /// A name of its own within the file.
    pub id: String,
    /// Where it is, as far as is known.
    #[serde(default)]
    pub place: TiePlace,
    /// Its marks, at most one a frame.
    #[serde(default)]
    pub marks: Vec<Mark>,
    /// Keys of other versions, kept as they are.
    #[serde(flatten)]
    pub other: Map<String, Value>,
}

impl Tie {
    /// A tie of that id, not marked yet.
    pub fn new(id: impl Into<String>, place: TiePlace) -> Self {
        Self { id: id.into(), place, marks: Vec::new(), other: Map::new() }
    }
}

/// What is known of a tie's place.
#[derive(Clone, Copy, Debug, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum TiePlace {
    /// Nothing: it may be near or far, high or low.
    #[default]
    Anywhere,
    /// It lies on the ground.
    Ground,
}
