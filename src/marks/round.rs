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

impl Round {
    /// What is stated, on one line.
    pub fn words(&self) -> String {
        let date = self.date.as_deref().unwrap_or_default();
        let slope = self.slope_percent.map(|slope| {
            let way = if slope < 0.0 { "downhill" } else { "uphill" };
            format!("{} % {way}", slope.abs())
        });
        let slope = slope.as_deref().unwrap_or_default();
        let parts = [&self.rider, &self.horse, date, &self.place, &self.surface, slope, &self.note];
        let said: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
        said.join(", ")
    }
}
