//! Stating the round, the camera, slow motion and notes.

use super::ids;
use super::round_args::{CameraArgs, RoundArgs};
use crate::cli::Failure;
use crate::marks::{ApproachFact, Edit, MarksFile, Motion, StrideNote};
use crate::quantity::Given;
use crate::store::usual_motion;

/// How far a stated camera height may be off, metres, when nobody said.
const HEIGHT_SD_M: f64 = 0.1;
/// How far a stated lean of the horizon may be off, degrees, when nobody said.
const ROLL_SD_DEG: f64 = 1.0;
/// The part of a stated focal length by which it may be off, when nobody said.
const FOCAL_SD_PART: f64 = 0.05;

pub(super) fn round(args: RoundArgs, file: &MarksFile) -> Edit {
    let mut round = file.round.clone();
    if let Some(date) = args.date {
        round.date = (!date.is_empty()).then_some(date);
    }
    round.rider = args.rider.unwrap_or(round.rider);
    round.horse = args.horse.unwrap_or(round.horse);
    round.place = args.place.unwrap_or(round.place);
    round.surface = args.surface.unwrap_or(round.surface);
    round.slope_percent = args.slope.or(round.slope_percent);
    round.note = args.note.unwrap_or(round.note);
    Edit::SetRound { round }
}

pub(super) fn camera(args: CameraArgs, file: &MarksFile) -> Result<Edit, Failure> {
    let mut camera = file.camera.clone();
    camera.motion = match (args.fixed, args.turning, args.sway, camera.motion) {
        (true, ..) => Motion::Fixed,
        (_, _, Some(sway_sd_m), Motion::Turning { .. }) | (_, true, Some(sway_sd_m), _) => {
            Motion::Turning { sway_sd_m }
        }
        (_, true, None, Motion::Fixed) => usual_motion(true),
        (_, _, Some(_), Motion::Fixed) => {
            return Err(Failure::usage("cannot state the sway of a fixed camera")
                .hint("add --turning if it was turned"));
        }
        (_, _, None, motion) => motion,
    };
    restate(&mut camera.height_m, args.height, args.height_sd, HEIGHT_SD_M);
    restate(&mut camera.roll_deg, args.roll, args.roll_sd, ROLL_SD_DEG);
    if let Some(focal) = args.focal {
        let sd = args.focal_sd.unwrap_or(focal * FOCAL_SD_PART);
        camera.focal_px = Some(Given::new(focal, sd));
    }
    Ok(Edit::SetCamera { camera })
}

/// A newly stated value gets the usual sd, unless one was typed.
fn restate(given: &mut Given, value: Option<f64>, sd: Option<f64>, usual_sd: f64) {
    if let Some(value) = value {
        *given = Given::new(value, usual_sd);
    }
    given.sd = sd.unwrap_or(given.sd);
}

pub(super) fn slow_motion(times: f64) -> Edit {
    Edit::SetCapture { capture_seconds_per_second: 1.0 / times }
}

pub(super) fn note(
    text: String,
    approach: Option<String>,
    stride: Option<i32>,
    file: &MarksFile,
) -> Result<Edit, Failure> {
    let approach = ids::approach(approach, &file.approaches)?;
    let Some(stride) = stride else {
        return Ok(Edit::SetApproach { approach, fact: ApproachFact::Note(text) });
    };
    let known = file.approach(&approach).map(|approach| approach.stride_notes.clone());
    let mut notes = known.unwrap_or_default();
    match notes.iter_mut().find(|note| note.stride == stride) {
        _ if text.is_empty() => notes.retain(|note| note.stride != stride),
        Some(note) => note.text = text,
        None => notes.push(StrideNote::new(stride, text)),
    }
    Ok(Edit::SetApproach { approach, fact: ApproachFact::StrideNotes(notes) })
}
