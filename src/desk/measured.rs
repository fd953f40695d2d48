//! A revision of a round, measured.

use std::time::Instant;

use crate::marks::{MarksDoubt, MarksFile};
use crate::stride::{Draws, ExpectedStride, Measurement, expected_strides, measure};
use crate::survey::Survey;

/// The numbers of one revision, or why there are none.
pub(super) struct Measured {
    pub revision: String,
    pub file: MarksFile,
    /// `None` while there is too little to measure or where it was refused.
    pub numbers: Option<(Survey, Measurement)>,
    /// Why there are no numbers, and a hint.
    pub refused: Option<(String, Option<String>)>,
    /// Reasons to trust the marks less.
    pub doubts: Vec<MarksDoubt>,
    /// How well strides would be known; empty once one is measured.
    pub expected: Vec<ExpectedStride>,
    pub took_ms: f64,
}

impl Measured {
    /// Surveys and measures; takes tens of milliseconds.
    pub fn of(revision: String, file: MarksFile) -> Self {
        let begun = Instant::now();
        let (numbers, refused) = match measure(&file, Draws::default()) {
            Ok(numbers) => (Some(numbers), None),
            Err(error) => {
                let hint = error.hint();
                (None, Some((error.to_string(), hint)))
            }
        };
        let doubts = file.doubts();
        let has_strides = numbers.as_ref().is_some_and(|(_, measurement)| {
            measurement.approaches.iter().any(|approach| !approach.strides.is_empty())
        });
        let expected = match has_strides {
            true => Vec::new(),
            false => expected_strides(&file, Draws::default()),
        };
        let took_ms = 1e3 * begun.elapsed().as_secs_f64();
        Self { revision, file, numbers, refused, doubts, expected, took_ms }
    }
}
