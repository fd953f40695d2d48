//! `groundline approach-picture`: the whole approach in one wide picture.

use std::io::Write;

use image::RgbImage;
use image::imageops::FilterType;

use super::Failure;
use super::chosen_approach::{Unnamed, chosen_approach};
use super::file_kind::FileKind;
use super::measured_round::MeasuredRound;
use super::picture_args::ApproachPictureArgs;
use super::pictures::{clip_of, encoded};
use crate::draw::{
    ApproachPictureInput, ApproachPictureText, JoinedFrame, NoApproachPicture, PictureFonts, Theme,
    dressed, join_frames,
};
use crate::footage::Reader;
use crate::quantity::LengthUnits;
use crate::scene::Camera;
use crate::store::{StoreError, write_whole};
use crate::stride::ApproachMeasurement;

/// Frames are joined at most this high: beyond it the join takes long and shows no more.
const MOST_LINES: u32 = 1200;

pub(super) fn run(args: ApproachPictureArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let kind = FileKind::of(&args.output, &[FileKind::Png, FileKind::Jpeg])?;
    let round = MeasuredRound::of(&args.measured)?;
    let approach =
        chosen_approach(&round.measurement.approaches, args.approach.as_deref(), Unnamed::First)?;
    let clip = clip_of(&args.measured.marks, &round.file)?;
    let units = args.measured.units;
    let joined = approach_picture(
        &round,
        approach,
        &mut clip.reader()?,
        units,
        (args.width, ApproachPictureText::Screen),
    )??;
    let bytes = encoded(&joined.picture, kind)?;
    write_whole(&args.output, &bytes)
        .map_err(|source| StoreError::Unwritable { path: args.output.clone(), source })?;
    joined.tell(out)?;
    let (width, height) = joined.picture.dimensions();
    writeln!(out, "joined {width} × {height} pixels → `{}`", args.output.display())?;
    Ok(())
}

/// The approach picture, and how many horses the next one would hide and so are left out.
pub(super) struct Joined {
    pub picture: RgbImage,
    left_out: usize,
}

impl Joined {
    /// Says that horses are left out, if they are.
    pub(super) fn tell(&self, out: &mut dyn Write) -> Result<(), Failure> {
        let (count, verb) = match self.left_out {
            0 => return Ok(()),
            1 => ("one horse".to_owned(), "is"),
            more => (format!("{more} horses"), "are"),
        };
        writeln!(out, "note: {count} {verb} left out of the picture: the next would hide it")?;
        Ok(())
    }
}

/// The approach picture with prints and band, at most `width` pixels wide, or why there is none.
pub(super) fn approach_picture(
    round: &MeasuredRound,
    approach: &ApproachMeasurement,
    reader: &mut Reader,
    units: LengthUnits,
    (width, text): (u32, ApproachPictureText),
) -> Result<Result<Joined, NoApproachPicture>, Failure> {
    let frames = frames(round, approach, reader)?;
    let joined = match join_frames(approach, &frames, width) {
        Ok(joined) => joined,
        Err(refused) => return Ok(Err(refused)),
    };
    let input = ApproachPictureInput {
        approach,
        poles: &round.survey.poles,
        suspects: &round.survey.suspects,
        round: &round.file.round,
        units,
        theme: Theme::LIGHT,
        text,
    };
    let picture = dressed(&joined, &input, &PictureFonts::embedded()).map_err(Failure::new)?;
    Ok(Ok(Joined { picture, left_out: joined.left_out.len() }))
}

/// The frames of all footfalls that have a camera.
fn frames(
    round: &MeasuredRound,
    approach: &ApproachMeasurement,
    reader: &mut Reader,
) -> Result<Vec<JoinedFrame>, Failure> {
    let mut frames = Vec::new();
    for footfall in &approach.footfalls {
        let Some(camera) = round.survey.cameras.get(&footfall.frame) else { continue };
        let (picture, camera) = no_larger(reader.frame(footfall.frame)?.picture, camera);
        frames.push(JoinedFrame { picture, camera, footfall: footfall.footfall.clone() });
    }
    Ok(frames)
}

/// A frame of at most [`MOST_LINES`] lines, and its camera.
fn no_larger(picture: RgbImage, camera: &Camera) -> (RgbImage, Camera) {
    let (width, height) = picture.dimensions();
    if height <= MOST_LINES {
        return (picture, *camera);
    }
    let scale = f64::from(MOST_LINES) / f64::from(height);
    let across = (f64::from(width) * scale).round();
    let mut smaller = *camera;
    smaller.lens.focal_px *= scale;
    smaller.lens.centre.x *= across / f64::from(width);
    smaller.lens.centre.y *= scale;
    let picture =
        image::imageops::resize(&picture, across as u32, MOST_LINES, FilterType::Triangle);
    (picture, smaller)
}

impl From<NoApproachPicture> for Failure {
    fn from(error: NoApproachPicture) -> Self {
        let hint = error.hint();
        Self::new(error).hint(hint)
    }
}
