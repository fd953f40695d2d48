//! The marks a coach would place on the expected clip: exact places, her usual errors.

use std::collections::BTreeMap;

use serde_json::Map;

use super::aiming::camera;
use super::lesson::Lesson;
use super::phone::{Handling, Phone};
use super::seen::{Unseen, UnseenThing};
use crate::marks::{
    Approach, CameraPrior, ClipNote, Event, Fence, Footfall, HOOF_SD_PX, Limb, Mark, MarkedFrame,
    MarksFile, Motion, POINT_SD_PX, PoleEndMarks, Reference, ReferenceKind,
};
use crate::quantity::{FrameNumber, Given};
use crate::scene::{Camera, FramePoint, GroundPoint, ScenePoint};

/// The only fence and the only approach.
const EXPECTED: &str = "expected";
/// The jump lasts about as long as a stride (common practice, no source); nothing rests on it.
const LANDING_AFTER_STRIDES: f64 = 1.0;
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
    /// Of each contact: its frame and its camera. The landing comes last.
    contacts: Vec<(FrameNumber, Camera)>,
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

fn seen(phone: &Phone, camera: &Camera, point: ScenePoint) -> Option<FramePoint> {
    camera.project(point).ok().filter(|at| phone.picture.holds(*at))
}

/// Marks of `lesson` filmed by `phone`.
pub fn expected_marks(lesson: &Lesson, phone: &Phone) -> ExpectedMarks {
    let duration_s = lesson.strides.duration_s();
    let contacts: Vec<GroundPoint> = lesson.strides.contacts().collect();
    let landing = lesson.strides.landing();
    let mut times: Vec<f64> = (0..contacts.len()).map(|at| at as f64 * duration_s).collect();
    times.push((contacts.len() as f64 - 1.0 + LANDING_AFTER_STRIDES) * duration_s);
    // The first frame is 1, so that its gap lies within the clip.
    let number = |time_s: f64| FrameNumber((time_s * phone.frames_per_s).round() as u32 + 1);
    let places = contacts.iter().copied().chain([landing]);
    let of_contacts: Vec<(FrameNumber, Camera)> = places
        .zip(&times)
        .map(|(place, time_s)| (number(*time_s), camera(lesson, phone, place)))
        .collect();
    let fixed = if phone.turns() { of_contacts.clone() } else { of_contacts[..1].to_vec() };
    let frames = Frames { phone, contacts: of_contacts, fixed };
    let mut unseen = Unseen::default();
    let mut file = MarksFile::new(clip_note(phone, &frames, &times), belief(phone));
    file.references.push(poles(lesson, &frames, &mut unseen));
    file.fences.push(fence(lesson, &frames, &mut unseen));
    file.approaches.push(approach(&contacts, landing, &frames, &mut unseen));
    ExpectedMarks { file, unseen }
}

fn belief(phone: &Phone) -> CameraPrior {
    let motion = match phone.handling {
        Handling::Fixed => Motion::Fixed,
        Handling::Turning { sway_sd_m } => Motion::Turning { sway_sd_m },
    };
    CameraPrior {
        height_m: Given::new(phone.height_m, HEIGHT_SD_M),
        ..CameraPrior::usual(motion)
    }
}

/// Exact times: the frame's number is only a name here, its gap is what an error comes from.
fn clip_note(phone: &Phone, frames: &Frames, times: &[f64]) -> ClipNote {
    let gap_s = 1.0 / phone.frames_per_s;
    let marked: BTreeMap<FrameNumber, f64> =
        frames.contacts.iter().map(|(frame, _)| *frame).zip(times.iter().copied()).collect();
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
            .map(|(frame, time_s)| MarkedFrame::new(frame, time_s + gap_s, gap_s))
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

/// One hind limb's contacts and the landing: the least that measures. Other limbs, marked too,
/// make the track a little firmer.
fn approach(
    contacts: &[GroundPoint],
    landing: GroundPoint,
    frames: &Frames,
    unseen: &mut Unseen,
) -> Approach {
    let mut approach = Approach::new(EXPECTED, EXPECTED);
    approach.reference_limb = Some(Limb::LeadingHind);
    let last = contacts.len() - 1;
    for (at, place) in contacts.iter().chain([&landing]).enumerate() {
        let (frame, camera) = &frames.contacts[at];
        let (limb, event) = match at {
            at if at < last => (Limb::LeadingHind, Event::Stride),
            at if at == last => (Limb::LeadingHind, Event::TakeOff),
            _ => (Limb::TrailingFore, Event::Landing),
        };
        let spot = seen(frames.phone, camera, place.at_height(0.0));
        if spot.is_none() {
            unseen.0.push(match event {
                Event::Landing => UnseenThing::Landing,
                _ => UnseenThing::Contact { stride: at as i32 - last as i32 },
            });
        }
        let mark = Mark::new(*frame, spot.unwrap_or(FramePoint::new(0.0, 0.0)), HOOF_SD_PX);
        let mut footfall = Footfall::new(at.to_string(), limb, event, mark);
        // Keeps its turn in the count of strides.
        footfall.hidden = spot.is_none();
        approach.footfalls.push(footfall);
    }
    approach
}
