//! Readings as JSON, and their schema.

use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, Schema};
use serde::Serialize;

use crate::reading::{Audience, LineReading, Reading, Sentence};

/// What the numbers of a round support, at full precision. Units are in the keys.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(rename = "Readings")]
pub struct ReadingsJson<'a> {
    /// One entry an approach, in file order.
    pub approaches: Vec<ReadingJson<'a>>,
    /// Lines of two fences ridden one after the other.
    pub lines: &'a [LineReading],
    /// Who the sentences are for.
    pub audience: Audience,
}

/// One approach read.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(rename = "ApproachRead")]
pub struct ReadingJson<'a> {
    /// What its numbers support.
    pub reading: &'a Reading,
    /// The same in sentences, what matters first, each with the strides and footfalls that show it.
    pub sentences: Vec<Sentence>,
}

/// The JSON Schema of [`ReadingsJson`] as it is written.
pub fn readings_schema() -> Schema {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    settings.into_generator().into_root_schema_for::<ReadingsJson>()
}
