//! When, who, where.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// The round, as the coach would head a page of her notebook. All may be empty.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
pub struct Round {
    /// Day of the lesson, `YYYY-MM-DD`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<String>,
    /// Who rode.
    #[serde(default)]
    pub rider: String,
    /// Which horse.
    #[serde(default)]
    pub horse: String,
    /// Where.
    #[serde(default)]
    pub place: String,
    /// The going.
    #[serde(default)]
    pub surface: String,
    /// Rise towards the fence, per cent of the way; downhill is negative.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slope_percent: Option<f64>,
    /// A note on the round.
    #[serde(default)]
    pub note: String,
    /// Keys of other versions, kept as they are.
    #[serde(flatten)]
    pub other: Map<String, Value>,
}
