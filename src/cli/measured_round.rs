//! What `measure`, `stills` and `sheet` share: the marks file loaded, surveyed and measured.

use std::path::Path;

use super::Failure;
use super::measured_args::MeasuredArgs;
use crate::footage::{Clip, OpenOptions};
use crate::marks::{MarkedFrame, MarksDoubt, MarksFile};
use crate::pan::CameraMotion;
use crate::reading::{RoundReading, Settings};
use crate::store::{ClipChanged, clip_matches, clip_path, kept_motion, load};
use crate::stride::{
    ApproachDraws, Drawn, Draws, MeasureError, Measurement, ShownStrides, measure_drawn,
};
use crate::survey::Survey;
use crate::tables::{TablesError, without_names};

/// A marks file with its survey and its numbers.
pub(super) struct MeasuredRound {
    pub file: MarksFile,
    pub survey: Survey,
    pub measurement: Measurement,
    /// The draws behind its approaches, in the same order.
    pub draws: Vec<ApproachDraws>,
    /// How the camera moved, where it was followed.
    pub motion: Option<CameraMotion>,
    /// Reasons to trust the marks less.
    pub doubts: Vec<MarksDoubt>,
}

impl MeasuredRound {
    /// Loads and measures.
    pub(super) fn of(args: &MeasuredArgs) -> Result<Self, Failure> {
        let mut file = load(&args.marks)?;
        if file.approaches.is_empty() {
            let why = "cannot measure: the marks file holds no approach, so there is no stride";
            return Err(Failure::new(why)
                .hint("`groundline mark MARKS footfall --help` says how to mark contacts"));
        }
        let mut doubts = file.doubts();
        let other_clip = clip_doubt(&args.marks, &file);
        if let Some(rate) = args.capture_rate {
            let clip = other_clip.is_none().then(|| clip_path(&args.marks, &file.clip));
            let clip = clip.filter(|clip| clip.exists());
            file.clip.capture_seconds_per_second = capture_scale(clip.as_deref(), &file, rate)?;
            refuse_absurd(&file, rate)?;
        }
        doubts.extend(other_clip);
        let motion = kept_motion(&args.marks, &file.clip);
        let drawn = measure_drawn(&file, motion.as_ref(), Draws::default())?;
        let Drawn { survey, measurement, draws } = drawn;
        // Now the strides are numbered, and need not be guessed from the marks.
        doubts.retain(|doubt| !matches!(doubt, MarksDoubt::NoteOnNoStride { .. }));
        doubts.extend(note_doubts(&file, &measurement));
        Ok(Self { file, survey, measurement, draws, motion, doubts })
    }

    /// What its numbers support of a horse that has shown such strides.
    pub(super) fn reading(
        &self,
        shown: Option<&ShownStrides>,
        settings: &Settings,
    ) -> RoundReading {
        RoundReading::of(&self.file, &self.measurement, &self.draws, shown, settings)
    }

    /// Takes rider, horse, place and file names out of what is to be handed on.
    pub(super) fn leave_names_off(&mut self) -> Result<(), Failure> {
        let round = &mut self.file.round;
        (self.measurement, self.doubts) =
            without_names(&self.measurement, &self.doubts, round).map_err(Failure::new)?;
        for name in [&mut round.rider, &mut round.horse, &mut round.place, &mut self.file.clip.file]
        {
            name.clear();
        }
        Ok(())
    }
}

/// Notes on strides that were not measured, so that no table shows them.
fn note_doubts(file: &MarksFile, measurement: &Measurement) -> Vec<MarksDoubt> {
    let mut doubts = Vec::new();
    for (approach, measured) in file.approaches.iter().zip(&measurement.approaches) {
        let is_shown = |stride| measured.strides.iter().any(|row| row.number == stride);
        let hidden = approach.stride_notes.iter().filter(|note| !is_shown(note.stride));
        doubts.extend(hidden.map(|note| MarksDoubt::NoteOnNoStride {
            approach: approach.id.clone(),
            stride: note.stride,
            strides: measured.strides.len(),
        }));
    }
    doubts
}

/// The clip beside the marks file is none, or the one that was marked, or to be doubted. Numbers
/// need no clip, so that this is no error here.
pub(super) fn clip_doubt(marks: &Path, file: &MarksFile) -> Option<MarksDoubt> {
    match clip_matches(&clip_path(marks, &file.clip), &file.clip) {
        Err(ClipChanged::OtherSize { .. } | ClipChanged::OtherContent { .. }) => {
            Some(MarksDoubt::OtherClip { clip: file.clip.file.clone() })
        }
        _ => None,
    }
}

/// Playing rate over the true rate: as opening the clip finds it, or else from the marked frames.
fn capture_scale(clip: Option<&Path>, file: &MarksFile, rate: f64) -> Result<f64, Failure> {
    if let Some(clip) = clip {
        let options =
            OpenOptions { stream: file.clip.stream, capture_rate: Some(rate), without_hash: true };
        return Ok(Clip::open(clip, &options)?.facts().capture.time_scale);
    }
    let period_s = usual_period_s(&file.clip.frames).ok_or_else(|| {
        Failure::new("cannot use --capture-rate: the marks file knows no frame's time")
            .hint("put the clip beside the marks file")
    })?;
    Ok(1.0 / (rate * period_s))
}

/// The usual time from frame to frame. One gap may be a tick of a coarse clock too long or too
/// short, so the means between neighbouring marked frames are weighed by the frames they span; a
/// jump of time spoils only one of them.
fn usual_period_s(frames: &[MarkedFrame]) -> Option<f64> {
    let mut known: Vec<&MarkedFrame> = frames.iter().collect();
    known.sort_by_key(|frame| frame.frame);
    let between = known.windows(2).filter_map(|pair| {
        let [earlier, later] = pair else { return None };
        let steps = f64::from(later.frame.0 - earlier.frame.0);
        Some(((later.time_s - earlier.time_s) / steps, steps))
    });
    let mut periods: Vec<(f64, f64)> = between.collect();
    periods.extend(known.iter().map(|frame| (frame.gap_s, 1.0)));
    periods.retain(|(period_s, _)| *period_s > 0.0);
    periods.sort_by(|(a, _), (b, _)| a.total_cmp(b));
    let half = periods.iter().map(|(_, weight)| weight).sum::<f64>() / 2.0;
    let mut reached = 0.0;
    let middle = periods.iter().find(|(_, weight)| {
        reached += weight;
        reached >= half
    });
    middle.map(|(period_s, _)| *period_s)
}

/// Refuses a capture rate with which the file would break a rule.
pub(super) fn refuse_absurd(file: &MarksFile, rate: f64) -> Result<(), Failure> {
    match file.check().first() {
        None => Ok(()),
        Some(breach) => Err(Failure::new(format!(
            "cannot use a capture rate of {rate} frames per second: {}",
            breach.rule
        ))
        .hint("give the rate the camera recorded at, such as 240")),
    }
}

impl From<TablesError> for Failure {
    fn from(error: TablesError) -> Self {
        let hint = error.hint();
        let failure = Self::new(error);
        match hint {
            Some(hint) => failure.hint(hint),
            None => failure,
        }
    }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::FrameNumber;

    #[test]
    fn the_usual_period_is_not_that_of_a_rounded_gap_or_a_jump() {
        // 30 frames a second on a clock of 600 ticks of which each second gap is 21 long, and a
        // jump of 0.3 s before frame 60.
        let time = |frame: u32| {
            let ticks = 20 * frame + frame / 2;
            f64::from(ticks) / 600.0 + if frame >= 60 { 0.3 } else { 0.0 }
        };
        let frames: Vec<MarkedFrame> = [0, 20, 40, 60, 80, 100]
            .map(|frame| MarkedFrame::new(FrameNumber(frame), time(frame), 20.0 / 600.0))
            .into();
        let period_s = usual_period_s(&frames).unwrap();
        assert!((period_s - 20.5 / 600.0).abs() < 1e-12, "{period_s}");
        assert_eq!(usual_period_s(&[]), None);
    }
}
