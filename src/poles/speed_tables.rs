//! The published speeds by level: rows of `fixtures/speeds.json`, each with its source.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::provenance::{Provenance, Table};

/// Which part of a competition.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Phase {
    /// Show jumping.
    ShowJumping,
    /// Cross-country.
    CrossCountry,
}

/// One published speed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SpeedRow {
    /// Country or body.
    pub place: String,
    /// Which part of a competition.
    pub phase: Phase,
    /// The level, or the kind of class.
    pub level: String,
    /// Low end, metres a minute; a single figure has both ends equal.
    pub low_m_per_min: f64,
    /// High end, metres a minute.
    pub high_m_per_min: f64,
    /// The figure as printed, with its unit.
    pub printed: String,
    /// Shortest course at that level, metres.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub course_from_m: Option<f64>,
    /// Longest course at that level, metres.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub course_to_m: Option<f64>,
    /// Where it was printed.
    #[serde(flatten)]
    pub provenance: Provenance,
}

/// All published speeds.
pub type SpeedTables = Table<SpeedRow>;

impl SpeedTables {
    /// The tables that come with the program. An error is a fault of the program, not of its user.
    pub fn built_in() -> Result<Self, serde_json::Error> {
        serde_json::from_str(include_str!("../../fixtures/speeds.json"))
    }
}
