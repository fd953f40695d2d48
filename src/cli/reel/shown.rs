//! One approach of a reel: chosen from its marks file, then made ready to be drawn frame by frame.

use std::sync::Arc;

use image::RgbImage;
use rayon::prelude::*;

use super::making::ReelError;
use crate::cli::Failure;
use crate::cli::chosen_approach::{Unnamed, chosen_approach};
use crate::cli::measured_args::MeasuredArgs;
use crate::cli::measured_round::MeasuredRound;
use crate::cli::pictures::{Style, clip_of};
use crate::draw::{
    BandInput, BarsScale, CAMERA_GAP_S, Detail, Moment, Overlay, ReelClip, ReelFrame, ReelPart,
    ReelSlot, StillInput, Theme, band, camera_at, still_overlay,
};
use crate::footage::Clip;
use crate::marks::{Event, Motion};
use crate::quantity::FrameNumber;
use crate::scene::{Camera, PictureSize};
use crate::sheet::headline;
use crate::stride::{ApproachMeasurement, PlacedFootfall};

/// Time before the first footfall and after the landing that is shown, seconds at the fence.
const BEFORE_S: f64 = 0.5;
const AFTER_S: f64 = 0.5;

/// One approach with its clip.
pub(super) struct Chosen {
    pub round: MeasuredRound,
    /// Its place among the approaches of the round.
    index: usize,
    pub clip: Clip,
    /// The part of the clip that is shown.
    pub clip_part: ReelClip,
    take_off_s: f64,
    style: Style,
}

impl Chosen {
    pub(super) fn of(
        measured: MeasuredArgs,
        id: Option<&str>,
        style: Style,
    ) -> Result<Self, Failure> {
        let round = MeasuredRound::of(&measured)?;
        let approaches = &round.measurement.approaches;
        let approach = chosen_approach(approaches, id, Unnamed::First)?;
        let index = approaches.iter().position(|one| std::ptr::eq(one, approach)).unwrap_or(0);
        let clip = clip_of(&measured.marks, &round.file)?;
        let take_off = take_off(approach).ok_or_else(|| {
            Failure::new(format!(
                "cannot make a reel: approach `{}` holds no footfall",
                approach.approach
            ))
            .hint("`groundline mark MARKS footfall --help` says how to mark contacts")
        })?;
        let (take_off_s, at) = (take_off.time_s, take_off.frame);
        let clip_part = part_of(&clip, approach, at, round.file.clip.capture_seconds_per_second)?;
        Ok(Self { round, index, clip, clip_part, take_off_s, style })
    }

    pub(super) fn approach(&self) -> &ApproachMeasurement {
        &self.round.measurement.approaches[self.index]
    }

    pub(super) fn picture(&self) -> PictureSize {
        self.round.file.clip.picture
    }

    pub(super) fn part(&self) -> ReelPart<'_> {
        ReelPart {
            picture: self.picture(),
            approach: self.approach(),
            cameras: &self.round.survey.cameras,
            take_off_s: self.take_off_s,
        }
    }

    /// When a frame was, seconds at the fence.
    fn seconds(&self, frame: FrameNumber) -> Option<f64> {
        let time = self.clip.time(frame).ok()?;
        Some(time.seconds() * self.clip_part.capture_scale)
    }
}

/// The footfall at which the reel stands still: the one take-off is measured from, else the last
/// marked as take-off, else the last before the fence.
fn take_off(approach: &ApproachMeasurement) -> Option<&PlacedFootfall> {
    let measured = approach.take_off.as_ref().map(|edge| edge.footfall.as_str());
    let footfalls = &approach.footfalls;
    let before = |event: &Event| matches!(event, Event::Stride | Event::TakeOff);
    footfalls
        .iter()
        .find(|footfall| Some(footfall.footfall.as_str()) == measured)
        .or_else(|| footfalls.iter().rfind(|footfall| footfall.event == Event::TakeOff))
        .or_else(|| footfalls.iter().rfind(|footfall| before(&footfall.event)))
        .or(footfalls.last())
}

/// From a little before the first footfall to a little after the landing.
fn part_of(
    clip: &Clip,
    approach: &ApproachMeasurement,
    take_off: FrameNumber,
    capture_scale: f64,
) -> Result<ReelClip, Failure> {
    let footfalls = approach.footfalls.iter();
    let first = footfalls.clone().map(|footfall| footfall.frame).min().unwrap_or(take_off);
    let landed = footfalls.filter(|footfall| footfall.event != Event::Away);
    let last = landed.map(|footfall| footfall.frame).max().unwrap_or(take_off).max(take_off);
    let at = |frame: FrameNumber| clip.time(frame).map(|time| time.seconds());
    let (from, to) = (at(first)? - BEFORE_S / capture_scale, at(last)? + AFTER_S / capture_scale);
    let mut frames = Vec::new();
    for number in (0..clip.frame_count()).map(FrameNumber) {
        let time = clip.time(number)?;
        let inside = (from..=to).contains(&time.seconds());
        if inside || (first..=last).contains(&number) {
            frames.push(ReelFrame { number, ticks: time.ticks });
        }
    }
    let base = clip.time(take_off)?.base;
    let take_off = frames.iter().position(|frame| frame.number == take_off).unwrap_or(0);
    Ok(ReelClip { base, capture_scale, frames, take_off })
}

/// What lies on the ground of one frame.
enum Ground {
    /// Drawn before: the camera stood still.
    Kept(Arc<Overlay>),
    /// To be drawn through this camera.
    Through(Camera),
    /// Nothing honest can be drawn.
    Nothing,
}

/// One approach ready to be drawn.
pub(super) struct Shown<'a> {
    pub chosen: &'a Chosen,
    pub slot: ReelSlot,
    canvas: PictureSize,
    /// Of the bars of all approaches shown.
    scale: BarsScale,
    /// For each frame of the part, what lies on its ground.
    grounds: Vec<Ground>,
    /// For each frame, the band below it.
    bands: Vec<Arc<Overlay>>,
}

impl<'a> Shown<'a> {
    pub(super) fn of(
        chosen: &'a Chosen,
        slot: ReelSlot,
        canvas: PictureSize,
        scale: BarsScale,
    ) -> Result<Self, ReelError> {
        let mut shown =
            Self { chosen, slot, canvas, scale, grounds: Vec::new(), bands: Vec::new() };
        let approach = chosen.approach();
        let frames = chosen.clip_part.frames.iter();
        let untils: Vec<f64> = frames.map(|frame| until(approach, frame.number)).collect();
        shown.grounds = shown.all_grounds(&untils)?;
        shown.bands = shown.all_bands(&untils)?;
        Ok(shown)
    }

    /// Lays on `canvas` what belongs to the frame of that index: prints and lengths, and the band.
    pub(super) fn lay_on(&self, canvas: &mut RgbImage, index: usize) -> Result<(), ReelError> {
        match &self.grounds[index] {
            Ground::Kept(overlay) => overlay.lay_on(canvas, self.slot.at),
            Ground::Through(camera) => {
                let frame = self.chosen.clip_part.frames[index].number;
                let overlay = self.overlay(camera, until(self.chosen.approach(), frame))?;
                overlay.lay_on(canvas, self.slot.at);
            }
            Ground::Nothing => {}
        }
        self.bands[index].lay_on(canvas, self.slot.band.0);
        Ok(())
    }

    /// What a viewer may wonder about.
    pub(super) fn note(&self) -> Option<String> {
        let bare = self.grounds.iter().filter(|ground| matches!(ground, Ground::Nothing)).count();
        (bare > 0).then(|| {
            format!(
                "{bare} of {} frames of approach `{}` show no prints: the camera turned, and the \
                 marked frames around them are more than {CAMERA_GAP_S} s apart; `track` follows it through all frames",
                self.grounds.len(),
                self.chosen.approach().approach
            )
        })
    }

    fn all_grounds(&self, untils: &[f64]) -> Result<Vec<Ground>, ReelError> {
        let Chosen { round, clip_part, .. } = self.chosen;
        let cameras = &round.survey.cameras;
        let turning = matches!(round.file.camera.motion, Motion::Turning { .. });
        if turning {
            let seconds = |frame| self.chosen.seconds(frame);
            let through = |frame: &ReelFrame| {
                let motion = round.motion.as_ref();
                let camera = camera_at(cameras, turning, motion, frame.number, seconds);
                camera.map_or(Ground::Nothing, Ground::Through)
            };
            return Ok(clip_part.frames.iter().map(through).collect());
        }
        let Some(camera) = cameras.values().next() else {
            return Ok(untils.iter().map(|_| Ground::Nothing).collect());
        };
        let drawn = once_each(untils, |until| self.overlay(camera, *until))?;
        Ok(drawn.into_iter().map(Ground::Kept).collect())
    }

    fn overlay(&self, camera: &Camera, until: f64) -> Result<Overlay, ReelError> {
        let round = &self.chosen.round;
        let svg = still_overlay(&StillInput {
            picture: self.slot.part.shown(),
            camera: &self.slot.part.camera(camera),
            approach: self.chosen.approach(),
            moment: Moment::Time(until),
            round: &round.file.round,
            names: self.chosen.style.names,
            poles: &round.survey.poles,
            suspects: &round.survey.suspects,
            raw_marks: &[],
            bodies: &[],
            units: self.chosen.style.units,
            theme: Theme::LIGHT,
            detail: Detail::Reel(self.canvas),
        })?;
        Ok(Overlay::of(&svg, self.slot.size())?)
    }

    fn all_bands(&self, untils: &[f64]) -> Result<Vec<Arc<Overlay>>, ReelError> {
        let Chosen { round, style, clip_part, .. } = self.chosen;
        let approach = self.chosen.approach();
        let headline = headline(approach, style.units);
        let svg = |(index, until_s): (usize, &f64)| {
            let told = index >= clip_part.take_off;
            let input = BandInput {
                approach,
                suspects: &round.survey.suspects,
                round: &round.file.round,
                names: style.names,
                until_s: *until_s,
                headline: told.then_some(headline.as_str()),
                metre_px: self.slot.metre_px,
                scale: Some(self.scale),
                units: style.units,
                theme: Theme::LIGHT,
                size: self.slot.band.1,
                canvas: self.canvas,
            };
            band(&input).svg
        };
        let size = self.slot.band.1;
        let svgs: Vec<String> = untils.iter().enumerate().map(svg).collect();
        once_each(&svgs, |svg| Ok(Overlay::of(svg, (size.width, size.height))?))
    }
}

/// The latest footfall up to that frame: capture time, seconds; −∞ before the first. By frame
/// numbers, so that a hoof's print appears on the very frame it was marked on.
fn until(approach: &ApproachMeasurement, frame: FrameNumber) -> f64 {
    let landed = approach.footfalls.iter().filter(|footfall| footfall.frame <= frame);
    landed.map(|footfall| footfall.time_s).fold(f64::NEG_INFINITY, f64::max)
}

/// What `draw` makes of each of `things`, equal neighbours drawn once and side by side.
fn once_each<T: PartialEq + Sync>(
    things: &[T],
    draw: impl Fn(&T) -> Result<Overlay, ReelError> + Sync,
) -> Result<Vec<Arc<Overlay>>, ReelError> {
    let groups: Vec<&[T]> = things.chunk_by(|a, b| a == b).collect();
    let drawn: Vec<Arc<Overlay>> = groups
        .par_iter()
        .map(|group| draw(&group[0]).map(Arc::new))
        .collect::<Result<_, ReelError>>()?;
    let each = groups.iter().zip(drawn);
    Ok(each.flat_map(|(group, overlay)| vec![overlay; group.len()]).collect())
}
