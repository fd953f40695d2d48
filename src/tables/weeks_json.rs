//! Many rounds compared, as JSON, and its schema.

use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, Schema};
use serde::Serialize;

use crate::weeks::FenceWeeks;

/// Approaches compared, fence by fence, at full precision. Units are in the keys.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(rename = "Weeks")]
pub struct WeeksJson<'a> {
    /// One entry a fence, by name.
    pub fences: &'a [FenceWeeks],
    /// How many marks files could not be used.
    pub skipped_count: usize,
    /// Which and why; empty where names are left off.
    pub skipped: &'a [SkippedFile],
}

/// A marks file that could not be used.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SkippedFile {
    /// Its name, from the folder that was looked through.
    pub file: String,
    /// Why.
    pub why: String,
}

/// The JSON Schema of [`WeeksJson`] as it is written.
pub fn weeks_schema() -> Schema {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    settings.into_generator().into_root_schema_for::<WeeksJson>()
}
