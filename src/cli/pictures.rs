//! Frames of the clip with their overlays, for `stills` and `sheet`.

use std::path::Path;

use image::RgbImage;

use super::Failure;
use super::file_kind::FileKind;
use super::measured_args::MeasuredArgs;
use super::measured_round::MeasuredRound;
use crate::draw::{
    Crop, Detail, Framing, Moment, Names, RawMark, StillInput, Theme, footfalls_to_show, lay,
    still_overlay,
};
use crate::footage::{Clip, Reader};
use crate::marks::{Event, MarksFile};
use crate::quantity::{FrameNumber, LengthUnits};
use crate::scene::Camera;
use crate::sheet::SheetStill;
use crate::store::{clip_path, open_marked};
use crate::stride::{ApproachMeasurement, PlacedFootfall, StrideRow};

/// The clip of a marks file, checked to be the one that was marked.
pub(super) fn clip_of(marks: &Path, file: &MarksFile) -> Result<Clip, Failure> {
    Ok(open_marked(&clip_path(marks, &file.clip), &file.clip)?)
}

/// How pictures are drawn.
#[derive(Clone, Copy)]
pub(super) struct Style {
    pub units: LengthUnits,
    pub names: Names,
    pub framing: Framing,
}

impl Style {
    /// As asked for.
    pub(super) fn of(args: &MeasuredArgs, no_names: bool) -> Self {
        let names = if no_names { Names::LeftOff } else { Names::Shown };
        Self { units: args.units, names, framing: Framing::default() }
    }
}

/// The frame of one footfall with everything on it: the part with horse and strides, or the whole
/// with the marks as they were placed. `None` where the survey has no camera for the frame.
pub(super) fn full_still(
    round: &MeasuredRound,
    approach: &ApproachMeasurement,
    footfall: &PlacedFootfall,
    reader: &mut Reader,
    style: Style,
) -> Result<Option<RgbImage>, Failure> {
    let Some(camera) = round.survey.cameras.get(&footfall.frame) else { return Ok(None) };
    let mut picture = reader.frame(footfall.frame)?.picture;
    let mut marks = raw_marks(&round.file, footfall.frame);
    let size = round.file.clip.picture;
    let crop = match style.framing {
        Framing::Whole => None,
        Framing::Track => Crop::of_track(size, camera, approach, footfall),
    };
    let mut shown = (size, *camera);
    if let Some(crop) = &crop {
        picture = crop.picture(&picture);
        shown = (crop.shown(), crop.camera(camera));
    }
    if style.framing == Framing::Track {
        // To show a rider; of the marks only those that do not fit need a second look.
        let suspects = &round.survey.suspects;
        marks.retain(|raw| suspects.iter().any(|suspect| suspect.mark == raw.mark));
    }
    if let Some(crop) = &crop {
        marks.iter_mut().for_each(|raw| raw.at = crop.point(raw.at));
    }
    let input = StillInput {
        picture: shown.0,
        camera: &shown.1,
        raw_marks: &marks,
        ..whole_frame(round, approach, footfall, camera, style)
    };
    let svg = still_overlay(&input).map_err(Failure::new)?;
    lay(&mut picture, &svg).map_err(Failure::new)?;
    Ok(Some(picture))
}

/// What an overlay of the whole frame says, without the marks as they were placed.
fn whole_frame<'a>(
    round: &'a MeasuredRound,
    approach: &'a ApproachMeasurement,
    footfall: &'a PlacedFootfall,
    camera: &'a Camera,
    style: Style,
) -> StillInput<'a> {
    StillInput {
        picture: round.file.clip.picture,
        camera,
        approach,
        moment: Moment::Footfall(&footfall.footfall),
        round: &round.file.round,
        names: style.names,
        poles: &round.survey.poles,
        suspects: &round.survey.suspects,
        raw_marks: &[],
        bodies: &[],
        units: style.units,
        theme: Theme::LIGHT,
        detail: Detail::Full,
    }
}

fn raw_marks(file: &MarksFile, frame: FrameNumber) -> Vec<RawMark> {
    let places = file.places();
    places
        .iter()
        .flat_map(|(address, marks)| {
            let here = marks.iter().filter(|mark| mark.frame == frame);
            here.map(|mark| RawMark { mark: address.clone(), at: mark.point() })
        })
        .collect()
}

/// Footfalls worth a small picture on the sheet: contacts of the reference limb towards the
/// fence, the take-off, the landing; at most six.
fn strip(approach: &ApproachMeasurement) -> Vec<&PlacedFootfall> {
    let mut chosen = footfalls_to_show(approach);
    let surplus = chosen.len().saturating_sub(6);
    chosen.drain(..surplus);
    chosen
}

/// The strip of pictures for the sheet.
pub(super) fn strip_stills(
    round: &MeasuredRound,
    approach: &ApproachMeasurement,
    reader: &mut Reader,
    style: Style,
) -> Result<Vec<SheetStill>, Failure> {
    let mut stills = Vec::new();
    for footfall in strip(approach) {
        let (Some(camera), Some(place)) =
            (round.survey.cameras.get(&footfall.frame), footfall.place)
        else {
            continue;
        };
        let size = round.file.clip.picture;
        let Some(crop) = Crop::around_hoof(size, camera, approach, place) else { continue };
        let mut picture = crop.picture(&reader.frame(footfall.frame)?.picture);
        let input = StillInput {
            picture: crop.shown(),
            camera: &crop.camera(camera),
            detail: Detail::Strip,
            ..whole_frame(round, approach, footfall, camera, style)
        };
        let svg = still_overlay(&input).map_err(Failure::new)?;
        lay(&mut picture, &svg).map_err(Failure::new)?;
        let caption = caption(approach, footfall);
        let image = jpeg(&picture)?;
        stills.push(SheetStill { image, alt: format!("Frame of {caption}"), caption });
    }
    Ok(stills)
}

/// "stride −3", the one whose length the picture shows; at the first contact "start of stride −7".
fn caption(approach: &ApproachMeasurement, footfall: &PlacedFootfall) -> String {
    let id = &footfall.footfall;
    let number = |stride: &StrideRow| format!("stride \u{2212}{}", stride.number.unsigned_abs());
    match footfall.event {
        // The take-off often ends the last stride too.
        Event::TakeOff => match approach.strides.iter().find(|row| row.to_footfall == *id) {
            Some(row) => format!("{} and take-off", number(row)),
            None => "take-off".into(),
        },
        Event::Landing => "landing".into(),
        Event::Stride | Event::Away => {
            let ended = approach.strides.iter().find(|row| row.to_footfall == *id).map(number);
            let begun = || {
                let row = approach.strides.iter().find(|row| row.from_footfall == *id)?;
                Some(format!("start of {}", number(row)))
            };
            ended.or_else(begun).unwrap_or_else(|| footfall.limb.words().to_owned())
        }
    }
}

/// A picture as the bytes of a file of that kind, without any tag.
pub(super) fn encoded(picture: &RgbImage, kind: FileKind) -> Result<Vec<u8>, Failure> {
    if kind == FileKind::Jpeg {
        return jpeg(picture);
    }
    let mut png = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut png, image::ImageFormat::Png).map_err(Failure::new)?;
    Ok(png.into_inner())
}

/// Quality of our JPEG files, of 100; colours are not thinned out, or red type would fray.
const JPEG_QUALITY: u8 = 92;

/// A JPEG of good quality without any tag.
pub(super) fn jpeg(picture: &RgbImage) -> Result<Vec<u8>, Failure> {
    // The format has no more; `image` refuses the same.
    let side = |side: u32| {
        u16::try_from(side).map_err(|_| {
            Failure::new(format!("cannot write a JPEG {side} pixels long (65,535 at most)"))
                .hint("ask for a smaller picture, or a name ending in .png")
        })
    };
    let (width, height) = (side(picture.width())?, side(picture.height())?);
    let mut bytes = Vec::new();
    let mut encoder = jpeg_encoder::Encoder::new(&mut bytes, JPEG_QUALITY);
    encoder.set_sampling_factor(jpeg_encoder::SamplingFactor::F_1_1);
    encoder
        .encode(picture.as_raw(), width, height, jpeg_encoder::ColorType::Rgb)
        .map_err(Failure::new)?;
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, SEVEN};

    #[test]
    fn a_caption_names_the_stride_whose_length_the_picture_shows() {
        let approach = sample::approach(SEVEN);
        let of = |id: &str| {
            let footfall = approach.footfalls.iter().find(|f| f.footfall == id).unwrap();
            caption(&approach, footfall)
        };
        assert_eq!(of("h0"), "start of stride −7");
        assert_eq!(of("h1"), "stride −7");
        assert_eq!(of("h6"), "stride −2");
        assert_eq!(of("h7"), "stride −1 and take-off");
        assert_eq!(of("l1"), "landing");
        assert_eq!(of("f1"), "trailing fore");
    }
}
