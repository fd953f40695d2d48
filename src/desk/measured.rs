//! A revision of a round, measured.

use std::sync::Arc;
use std::time::Instant;

use crate::marks::{MarksDoubt, MarksFile};
use crate::pan::CameraMotion;
use crate::stride::{
    ApproachDraws, Drawn, Draws, ExpectedStride, MeasureError, Measurement, expected_strides,
    measure_drawn,
};
use crate::survey::{Survey, SurveyError};

/// The numbers of one revision, or why there are none.
pub(super) struct Measured {
    pub revision: String,
    pub file: MarksFile,
    /// `None` while there is too little to measure or where it was refused.
    pub numbers: Option<(Survey, Measurement)>,
    /// The draws behind its approaches, in the same order.
    pub draws: Vec<ApproachDraws>,
    /// Why there are no numbers.
    pub refused: Option<NoNumbers>,
    /// Reasons to trust the marks less.
    pub doubts: Vec<MarksDoubt>,
    /// How the camera moved, as far as it was known.
    pub motion: Option<Arc<CameraMotion>>,
    /// How well strides would be known; empty once one is measured.
    pub expected: Vec<ExpectedStride>,
    pub took_ms: f64,
}

/// Why there are no numbers.
pub(super) struct NoNumbers {
    pub why: String,
    pub hint: Option<String>,
    /// The survey went through, and its lengths mean nothing.
    pub too_uncertain: bool,
}

impl Measured {
    /// Surveys and measures; takes tens of milliseconds.
    pub fn of(revision: String, file: MarksFile, motion: Option<Arc<CameraMotion>>) -> Self {
        let begun = Instant::now();
        let (numbers, draws, refused) =
            match measure_drawn(&file, motion.as_deref(), Draws::default()) {
                Ok(Drawn { survey, measurement, draws }) => {
                    (Some((survey, measurement)), draws, None)
                }
                Err(error) => {
                    let too_uncertain =
                        matches!(error, MeasureError::Survey(SurveyError::TooUncertain { .. }));
                    let (why, hint) = (error.to_string(), error.hint());
                    (None, Vec::new(), Some(NoNumbers { why, hint, too_uncertain }))
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
        Self { revision, file, numbers, draws, refused, doubts, motion, expected, took_ms }
    }

    /// Whether it was measured with this motion.
    pub fn has_motion(&self, motion: &Option<Arc<CameraMotion>>) -> bool {
        match (&self.motion, motion) {
            (Some(known), Some(motion)) => Arc::ptr_eq(known, motion),
            (known, motion) => known.is_none() && motion.is_none(),
        }
    }
}
