//! The measured numbers as JSON, and its schema.

use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, Schema};
use serde::Serialize;

use super::input::TablesInput;
use super::wording::ground_frame;
use crate::marks::MarksDoubt;
use crate::quantity::LengthUnits;
use crate::stride::{ApproachMeasurement, LineDoubt, LineMeasurement, StrideDoubt};
use crate::survey::{MarkResidual, SurveyDoubt, Suspect};

/// Everything measured from one marks file at full precision. Units are in the keys; each estimate
/// has its standard deviation and 95 % interval; each doubt has its sentence.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(rename = "Measurement")]
pub struct MeasuredJson<'a> {
    /// Marks that do not fit and were left out.
    suspects: &'a [Suspect],
    /// Every mark's residual.
    residuals: &'a [MarkResidual],
    /// Reasons to trust the survey less.
    doubts: &'a [SurveyDoubt],
    /// One entry an approach, in file order.
    approaches: Vec<ApproachJson<'a>>,
    /// Lines of two fences ridden one after the other.
    lines: Vec<LineJson<'a>>,
    /// How the axes of places on the ground lie, in words.
    ground_frame: String,
    /// Reasons to trust the marks less.
    marks_doubts: &'a [MarksDoubt],
    /// `marks_doubts`, then `doubts`, as sentences.
    doubt_sentences: Vec<String>,
}

/// What was measured of one approach, with its doubts as sentences.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(rename = "Approach")]
struct ApproachJson<'a> {
    #[serde(flatten)]
    measured: &'a ApproachMeasurement,
    /// `doubts` as sentences.
    doubt_sentences: Vec<String>,
}

/// A line, with its doubts as sentences.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(rename = "Line")]
struct LineJson<'a> {
    #[serde(flatten)]
    measured: &'a LineMeasurement,
    /// `doubts` as sentences.
    doubt_sentences: Vec<String>,
}

impl<'a> MeasuredJson<'a> {
    /// Of a measured round; always in metres.
    pub fn of(input: &TablesInput<'a>) -> Self {
        let measurement = input.measurement;
        let of_marks = input.marks_doubts.iter().map(MarksDoubt::sentence);
        let of_survey = measurement.doubts.iter().map(SurveyDoubt::sentence);
        let of_approach = |measured: &'a ApproachMeasurement| ApproachJson {
            measured,
            doubt_sentences: measured.doubts.iter().map(StrideDoubt::sentence).collect(),
        };
        let of_line = |measured: &'a LineMeasurement| LineJson {
            measured,
            doubt_sentences: measured.doubts.iter().map(LineDoubt::sentence).collect(),
        };
        let ground = ground_frame(LengthUnits::Metres);
        Self {
            suspects: &measurement.suspects,
            residuals: &measurement.residuals,
            doubts: &measurement.doubts,
            approaches: measurement.approaches.iter().map(of_approach).collect(),
            lines: measurement.lines.iter().map(of_line).collect(),
            ground_frame: format!("{ground}; turn_rad turns from x towards y."),
            marks_doubts: input.marks_doubts,
            doubt_sentences: of_marks.chain(of_survey).collect(),
        }
    }
}

/// The JSON Schema (draft 2020-12) of what [`MeasuredJson`] is written as. What is always written
/// is required, be it null.
pub fn measured_schema() -> Schema {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    settings.into_generator().into_root_schema_for::<MeasuredJson>()
}
