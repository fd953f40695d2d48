//! The marks a coach would place on the expected clip: exact places, her usual errors.

use std::collections::BTreeMap;

use serde_json::Map;

use super::aiming::camera;
use super::lesson::{LaidFootfall, Lesson};
use super::phone::{Handling, Phone};
use super::seen::{Unseen, UnseenThing};
use crate::marks::{
    Approach, CameraPrior, ClipNote, Event, Fence, Footfall, HOOF_SD_PX, Limb, Mark, MarkedFrame,
    MarksFile, Motion, POINT_SD_PX, PoleEndMarks, Reference, ReferenceKind,
};
use crate::quantity::{FrameNumber, Given};
use crate::scene::{Camera, FramePoint, ScenePoint};

/// The only fence and the only approach.
const EXPECTED: &str = "expected";
/// How well the coach knows the height at which she put the phone, metres: as the marks file
/// believes without being told.
const HEIGHT_SD_M: f64 = 0.3;

/// Marks, and what could not be marked.
pub struct ExpectedMarks {
    pub file: MarksFile,
    pub unseen: Unseen,
}

/// The frames in which something is marked.
struct Frames<'a> {
    phone: &'a Phone,
    /// One a footfall, in the order of the footfalls.
    footfalls: Vec<(FrameNumber, Camera)>,
    /// Those in which fixed things are marked.
    fixed: Vec<(FrameNumber, Camera)>,
}

impl Frames<'_> {
    /// Marks of a fixed thing, one in every frame that holds it.
    fn marks(&self, point: ScenePoint, sd_px: f64) -> Vec<Mark> {
        let seen = self.fixed.iter().filter_map(|(frame, camera)| {
            Some(Mark::new(*frame, seen(self.phone, camera, point)?, sd_px))
        });
        seen.collect()
    }
}

/// Nothing is counted on that lies nearer to the picture's edge than this share of its width: a phone
/// is not set down to the pixel.
const EDGE: f64 = 0.01;

fn seen(phone: &Phone, camera: &Camera, point: ScenePoint) -> Option<FramePoint> {
    let at = camera.project(point).ok()?;
    let (width, height) = (f64::from(phone.picture.width), f64::from(phone.picture.height));
    let edge = EDGE * width;
    let inside = (edge..=width - edge).contains(&at.x) && (edge..=height - edge).contains(&at.y);
    inside.then_some(at)
}

/// Marks of `lesson` filmed by `phone`; a footfall's id is its turn in [`LevelStrides::footfalls`].
///
/// [`LevelStrides::footfalls`]: super::lesson::LevelStrides::footfalls
pub fn expected_marks(lesson: &Lesson, phone: &Phone) -> ExpectedMarks {
    let footfalls = lesson.strides.footfalls();
    let of_footfalls: Vec<(FrameNumber, Camera)> = footfalls
        .iter()
        .map(|laid| (frame_of(laid, phone), camera(lesson, phone, laid.place)))
        .collect();
    let fixed = if phone.turns() { of_footfalls.clone() } else { of_footfalls[..1].to_vec() };
    let frames = Frames { phone, footfalls: of_footfalls, fixed };
    let mut unseen = Unseen::default();
    let mut file = MarksFile::new(clip_note(phone, &footfalls), belief(phone));
    file.references.push(poles(lesson, &frames, &mut unseen));
    file.fences.push(fence(lesson, &frames, &mut unseen));
    file.approaches.push(approach(&footfalls, &frames, &mut unseen));
    ExpectedMarks { file, unseen }
}

/// The first footfall lies in frame 1, so that its gap lies within the clip.
fn frame_of(laid: &LaidFootfall, phone: &Phone) -> FrameNumber {
    FrameNumber((laid.after_s * phone.frames_per_s).round() as u32 + 1)
}

fn belief(phone: &Phone) -> CameraPrior {
    let motion = match phone.handling {
        Handling::Fixed => Motion::Fixed,
        Handling::Turning { sway_sd_m } => Motion::Turning { sway_sd_m },
    };
    CameraPrior { height_m: Given::new(phone.height_m, HEIGHT_SD_M), ..CameraPrior::usual(motion) }
}

/// Exact times: the frame's number is only a name here, its gap is what an error comes from.
fn clip_note(phone: &Phone, footfalls: &[LaidFootfall]) -> ClipNote {
    let gap_s = 1.0 / phone.frames_per_s;
    let marked: BTreeMap<FrameNumber, f64> =
        footfalls.iter().map(|laid| (frame_of(laid, phone), laid.after_s)).collect();
    let last = marked.keys().last().map_or(0, |frame| frame.0);
    ClipNote {
        file: EXPECTED.to_owned(),
        size_bytes: 0,
        blake3: String::new(),
        picture: phone.picture,
        frame_count: last + 2,
        stream: None,
        capture_seconds_per_second: 1.0,
        frames: marked
            .into_iter()
            .map(|(frame, after_s)| MarkedFrame::new(frame, after_s + gap_s, gap_s))
            .collect(),
        other: Map::new(),
    }
}

fn poles(lesson: &Lesson, frames: &Frames, unseen: &mut Unseen) -> Reference {
    let laid = &lesson.poles;
    let mut ends = Vec::new();
    for (pole, end, place) in laid.ends() {
        let marks = frames.marks(place, laid.end_sd_px);
        if marks.is_empty() {
            unseen.0.push(UnseenThing::PoleEnd { pole, end });
        } else {
            ends.push(PoleEndMarks::new(pole, end, marks));
        }
    }
    let kind = ReferenceKind::Poles {
        count: laid.count,
        spacing_m: laid.spacing_m,
        length_m: laid.length_m,
        diameter_m: laid.diameter_m,
        ends,
        other: Map::new(),
    };
    Reference { id: "poles".to_owned(), kind }
}

fn fence(lesson: &Lesson, frames: &Frames, unseen: &mut Unseen) -> Fence {
    let mut fence = Fence::new(EXPECTED);
    let [left, right] = lesson.base().map(|end| frames.marks(end.at_height(0.0), POINT_SD_PX));
    for (marks, is_left) in [(&left, true), (&right, false)] {
        if marks.is_empty() {
            unseen.0.push(UnseenThing::Base { left: is_left });
        }
    }
    (fence.take_off_base.left, fence.take_off_base.right) = (left, right);
    fence
}

fn approach(footfalls: &[LaidFootfall], frames: &Frames, unseen: &mut Unseen) -> Approach {
    let mut approach = Approach::new(EXPECTED, EXPECTED);
    approach.reference_limb = Some(Limb::LeadingHind);
    for (at, (laid, (frame, camera))) in footfalls.iter().zip(&frames.footfalls).enumerate() {
        let spot = seen(frames.phone, camera, laid.place.at_height(0.0));
        if spot.is_none() {
            match (laid.limb, laid.event) {
                (Limb::LeadingHind, _) => unseen.add_contact(laid.stride, footfalls[0].stride),
                (Limb::TrailingFore, Event::Landing) => unseen.0.push(UnseenThing::Landing),
                // The second of a pair lacks nobody a number.
                _ => {}
            }
        }
        let mark = Mark::new(*frame, spot.unwrap_or(FramePoint::new(0.0, 0.0)), HOOF_SD_PX);
        let mut footfall = Footfall::new(at.to_string(), laid.limb, laid.event, mark);
        // Keeps its turn in the count of strides.
        footfall.hidden = spot.is_none();
        approach.footfalls.push(footfall);
    }
    approach
}
