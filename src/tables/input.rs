//! What the tables are made of.

use crate::marks::{MarksDoubt, Round};
use crate::quantity::LengthUnits;
use crate::stride::Measurement;

/// A measured round, and how its lengths are to be written.
#[derive(Clone, Copy, Debug)]
pub struct TablesInput<'a> {
    /// The numbers.
    pub measurement: &'a Measurement,
    /// Reasons to trust the marks less.
    pub marks_doubts: &'a [MarksDoubt],
    /// When, who, where; what is empty is left out.
    pub round: &'a Round,
    /// The clip's file name; empty where it is left off.
    pub clip: &'a str,
    /// Metres or feet. JSON is always in metres.
    pub units: LengthUnits,
}
