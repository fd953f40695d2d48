//! What is true in a scene: every contact, stride, distance, camera and reference point.
//!
//! Distances follow the program's own definitions: stride length is the distance on the ground
//! between successive contacts of the same limb, the take-off hind closes stride −1; take-off
//! distance runs from the ground line to the hind hoof nearest to the fence at its last contact,
//! landing distance from the far base to the first fore hoof, both square to the fence.

use serde::{Deserialize, Serialize};

use super::check::SceneError;
use super::filming::CameraPath;
use super::plan::Plan;
use super::references::{TruePole, fence_base, poles};
use super::scene::Scene;
use crate::marks::{BaseCorner, Event, Lead, Limb};
use crate::quantity::FrameNumber;
use crate::scene::{Camera, GroundPoint};

/// The truth of a scene.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Truth {
    /// Every contact with the ground while the clip runs, in the order of time; some before the
    /// first listed stride.
    pub contacts: Vec<Contact>,
    /// The take-off hind nearest to the fence: its contacts delimit the strides.
    pub reference_limb: Limb,
    /// Strides of the reference limb in the order ridden, −n first.
    pub strides: Vec<TrueStride>,
    /// Ground line to the take-off hind nearest to the fence, metres.
    pub take_off_m: f64,
    /// Far base to the first fore hoof, metres.
    pub landing_m: f64,
    /// Where the track crosses the ground line, to the left of its middle, metres.
    pub track_offset_m: f64,
    /// How it crosses it, to the left of square, degrees.
    pub track_angle_deg: f64,
    /// The horse leaves the turn at this time, when there is one.
    pub left_turn_s: Option<f64>,
    /// Every frame.
    pub frames: Vec<TrueFrame>,
    /// The poles where they really lie.
    pub poles: Vec<TruePole>,
    /// Base points of the fence on the ground.
    pub fence_base: Vec<(BaseCorner, GroundPoint)>,
}

/// One contact of one limb.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Contact {
    /// Which limb.
    pub limb: Limb,
    /// Left or right limb.
    pub side: Lead,
    /// What it belongs to.
    pub event: Event,
    /// The stride it begins: −1 is the last before the fence, 0 take-off and landing, 1 the
    /// first after landing.
    pub stride: i32,
    /// Where the hoof meets the ground.
    pub place: GroundPoint,
    /// When it meets the ground, seconds from the first frame.
    pub contact_s: f64,
    /// When it leaves the ground.
    pub lift_s: f64,
}

/// One stride.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct TrueStride {
    /// Counted back from the fence.
    pub number: i32,
    /// Metres.
    pub length_m: f64,
    /// Seconds.
    pub duration_s: f64,
    /// Strides a minute.
    pub tempo_strides_per_min: f64,
    /// Metres a second.
    pub speed_m_per_s: f64,
}

/// One frame.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct TrueFrame {
    /// Its number.
    pub frame: FrameNumber,
    /// Capture time in seconds from the first frame: the middle of the exposure.
    pub time_s: f64,
    /// The camera.
    pub camera: Camera,
}

impl Truth {
    /// The truth of `scene`, or why there is none.
    pub fn of(scene: &Scene) -> Result<Self, SceneError> {
        scene.check()?;
        let plan = Plan::of(scene);
        let frames = frames(scene, &plan);
        let take_off = nearest_take_off(&plan.contacts);
        let reference_limb = take_off.map_or(Limb::LeadingHind, |contact| contact.limb);
        let far_x = scene.fence.far_x();
        let truth = Self {
            reference_limb,
            strides: strides_of(reference_limb, &plan.contacts, scene.ride.strides_m.len()),
            take_off_m: take_off.map_or(f64::NAN, |contact| -contact.place.x),
            landing_m: first_landing(&plan.contacts).map_or(f64::NAN, |c| c.place.x - far_x),
            track_offset_m: scene.track.offset_m,
            track_angle_deg: scene.track.angle_deg,
            left_turn_s: left_turn_s(scene, &plan),
            contacts: plan.contacts,
            frames,
            poles: poles(scene),
            fence_base: fence_base(&scene.fence),
        };
        truth.check_view(scene)?;
        Ok(truth)
    }

    /// Strides of any limb, in the order ridden.
    pub fn strides_of(&self, limb: Limb) -> Vec<TrueStride> {
        strides_of(limb, &self.contacts, self.strides.len())
    }

    /// First frame at or after `time_s`, if the clip still runs.
    pub fn frame_at(&self, time_s: f64) -> Option<&TrueFrame> {
        let i = self.frames.partition_point(|frame| frame.time_s < time_s - 1e-9);
        self.frames.get(i)
    }

    /// The contacts a coach marks: from the first listed stride to the landing.
    pub fn approach_contacts(&self) -> impl Iterator<Item = &Contact> {
        let first = -(self.strides.len() as i32);
        self.contacts.iter().filter(move |c| (first..=0).contains(&c.stride))
    }
}

fn frames(scene: &Scene, plan: &Plan) -> Vec<TrueFrame> {
    let path = CameraPath::of(scene, plan);
    let rate = scene.filming.frames_per_s;
    let count = (plan.end_s * rate).ceil() as u32;
    (0..count)
        .map(|number| {
            let time_s = f64::from(number) / rate;
            TrueFrame { frame: FrameNumber(number), time_s, camera: path.at(time_s) }
        })
        .collect()
}

fn nearest_take_off(contacts: &[Contact]) -> Option<&Contact> {
    let hinds = contacts.iter().filter(|c| c.event == Event::TakeOff && c.limb.is_hind());
    hinds.max_by(|a, b| a.place.x.total_cmp(&b.place.x))
}

fn first_landing(contacts: &[Contact]) -> Option<&Contact> {
    contacts.iter().find(|c| c.event == Event::Landing)
}

/// Distances between successive contacts of `limb`; the last stride of a hind limb ends at
/// take-off, that of a fore limb at landing and is left out.
fn strides_of(limb: Limb, contacts: &[Contact], count: usize) -> Vec<TrueStride> {
    let first = -(count as i32);
    let ends_at = if limb.is_hind() { 0 } else { -1 };
    let own: Vec<&Contact> = contacts
        .iter()
        .filter(|c| c.limb == limb && (first..=ends_at).contains(&c.stride))
        .collect();
    own.windows(2)
        .map(|pair| {
            let length_m = pair[0].place.distance(pair[1].place);
            let duration_s = pair[1].contact_s - pair[0].contact_s;
            TrueStride {
                number: pair[0].stride,
                length_m,
                duration_s,
                tempo_strides_per_min: 60.0 / duration_s,
                speed_m_per_s: length_m / duration_s,
            }
        })
        .collect()
}

fn left_turn_s(scene: &Scene, plan: &Plan) -> Option<f64> {
    let leaves = scene.track.leaves_turn_at()?;
    let steps = (plan.end_s * 1000.0) as u32;
    (0..steps).map(|ms| f64::from(ms) / 1000.0).find(|&time| plan.along.at(time) >= leaves)
}
