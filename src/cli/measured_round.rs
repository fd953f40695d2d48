//! What `measure`, `stills` and `sheet` share: the marks file loaded, surveyed and measured.

use super::Failure;
use super::args::MeasuredArgs;
use crate::marks::MarksFile;
use crate::store::load;
use crate::stride::{Draws, MeasureError, Measurement, measure};
use crate::survey::Survey;

/// A marks file with its survey and its numbers.
pub(super) struct MeasuredRound {
    pub file: MarksFile,
    pub survey: Survey,
    pub measurement: Measurement,
}

impl MeasuredRound {
    /// Loads and measures.
    pub(super) fn of(args: &MeasuredArgs) -> Result<Self, Failure> {
        let mut file = load(&args.marks)?;
        if let Some(rate) = args.capture_rate {
            file.clip.capture_seconds_per_second = capture_scale(&file, rate)?;
        }
        let (survey, measurement) = measure(&file, Draws::default())?;
        Ok(Self { file, survey, measurement })
    }
}

/// Playing rate, from the usual gap of the marked frames, over the true rate.
fn capture_scale(file: &MarksFile, rate: f64) -> Result<f64, Failure> {
    let mut gaps: Vec<f64> = file.clip.frames.iter().map(|frame| frame.gap_s).collect();
    gaps.sort_by(f64::total_cmp);
    let usual = gaps.get(gaps.len() / 2).copied().filter(|gap| *gap > 0.0);
    let usual = usual.ok_or_else(|| {
        Failure::new("cannot use --capture-rate: the marks file knows no frame's time")
    })?;
    Ok(1.0 / (rate * usual))
}

impl From<MeasureError> for Failure {
    fn from(error: MeasureError) -> Self {
        let hint = error.hint();
        let failure = Self::new(error);
        match hint {
            Some(hint) => failure.hint(hint),
            None => failure,
        }
    }
}
