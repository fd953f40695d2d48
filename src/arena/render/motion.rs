//! How body and hooves move between the contacts that the plan knows.
//!
//! Invariant: while a hoof stands, its sole point is exactly the contact's ground point. The
//! rest (swing, bob, pitch, tuck over the fence) is drawn to look right; figures without a
//! source here are common practice and no measurement.

use super::swing::Swing;
use crate::arena::curve::{Keys, ease};
use crate::arena::gait;
use crate::arena::plan::{Beat, JumpTimes, Plan};
use crate::arena::scene::Scene;
use crate::arena::track::Track;
use crate::arena::truth::Contact;
use crate::marks::Limb;
use crate::scene::{GroundPoint, ScenePoint};

/// Height of the centre of mass of a standing horse of 1.65 m at the withers, metres.
pub(super) const CENTRE_M: f64 = 1.25;

/// The trunk at a moment.
#[derive(Clone, Copy, Debug)]
pub(super) struct Body {
    /// Below the centre of mass.
    pub(super) place: GroundPoint,
    /// Radians to the left of x.
    pub(super) heading: f64,
    /// Of the centre of mass, metres.
    pub(super) height: f64,
    /// Radians, nose up positive.
    pub(super) pitch: f64,
    /// Metres a second along the track.
    pub(super) speed: f64,
    /// Phase of the canter, 0 when the leading hind meets the ground.
    pub(super) phase: f64,
    /// 0 in the canter, 1 in the jump.
    pub(super) jumping: f64,
    /// Through the flight: below 0 before lift-off, above 1 after landing.
    pub(super) flight: f64,
}

/// A hoof at a moment, relative to the body.
#[derive(Clone, Copy, Debug)]
pub(super) struct Hoof {
    /// Its sole point in the scene.
    pub(super) sole: ScenePoint,
    /// How far the heel is raised, radians.
    pub(super) tilt: f64,
    /// Angle of the pastern to the ground with the hoof flat, radians.
    pub(super) pastern: f64,
}

/// Everything that moves.
pub(super) struct Motion {
    plan: Plan,
    track: Track,
    scale: f64,
    height: Keys,
    pitch: Keys,
    begins_s: f64,
    ends_s: f64,
}

impl Motion {
    pub(super) fn of(scene: &Scene) -> Self {
        let plan = Plan::of(scene);
        let scale = scene.horse.size.scale();
        let (height, pitch) = jump_keys(scene, &plan, scale);
        let begins_s = last_fore(&plan, Limb::TrailingFore);
        let ends_s = first_away(&plan).at_s;
        Self { plan, track: scene.track, scale, height, pitch, begins_s, ends_s }
    }

    pub(super) fn scale(&self) -> f64 {
        self.scale
    }

    pub(super) fn body(&self, time: f64) -> Body {
        let along = self.plan.along.at(time);
        let (place, heading) = self.track.at(along);
        let phase = self.phase(time);
        let jump = self.plan.jump;
        let jumping = ease(time, self.begins_s - 0.12, self.begins_s + 0.12)
            * (1.0 - ease(time, self.ends_s - 0.05, self.ends_s + 0.25));
        let turn = std::f64::consts::TAU;
        let bob = self.scale * (1.20 + 0.042 * (turn * (phase - 0.68)).cos());
        let rock = 4.6_f64.to_radians() * (turn * (phase + 0.10)).cos();
        let flown = time - jump.lift_s;
        let flight = flown / (jump.land_s - jump.lift_s);
        let arc = if (0.0..=1.0).contains(&flight) {
            let end = jump.land_s - jump.lift_s;
            self.height.at(jump.lift_s) + gait::GRAVITY * flown * (end - flown) / 2.0
        } else {
            self.height.at(time)
        };
        Body {
            place,
            heading,
            height: bob + (arc - bob) * jumping,
            pitch: rock + (self.pitch.at(time) - rock) * jumping,
            speed: self.plan.along.rate(time),
            phase,
            jumping,
            flight,
        }
    }

    fn phase(&self, time: f64) -> f64 {
        let beats = &self.plan.beats;
        let i = beats.partition_point(|beat| beat.at_s <= time).max(1) - 1;
        (time - beats[i].at_s) / beats[i].lasts_s
    }

    pub(super) fn jump(&self) -> JumpTimes {
        self.plan.jump
    }

    /// The hoof of `limb` at `time`.
    pub(super) fn hoof(&self, limb: Limb, time: f64) -> Hoof {
        let own: Vec<&Contact> = self.plan.contacts.iter().filter(|c| c.limb == limb).collect();
        let i = own.partition_point(|c| c.contact_s <= time).max(1) - 1;
        let from = own[i];
        match own.get(i + 1) {
            Some(to) if time > from.lift_s => Swing::between(self, from, to).hoof(time),
            _ => stance(from, time),
        }
    }

    /// Contacts whose hoof has left the ground by `time`.
    pub(super) fn prints(&self, time: f64) -> impl Iterator<Item = &Contact> {
        self.plan.contacts.iter().filter(move |c| c.lift_s < time)
    }
}

/// A standing hoof: flat, the fetlock sinking under load, the heel leaving last.
fn stance(contact: &Contact, time: f64) -> Hoof {
    let share = ((time - contact.contact_s) / (contact.lift_s - contact.contact_s)).clamp(0.0, 1.0);
    let load = (std::f64::consts::PI * share).sin();
    Hoof {
        sole: contact.place.at_height(0.0),
        tilt: 52_f64.to_radians() * ease(share, 0.66, 1.05),
        pastern: (62.0 - 20.0 * load).to_radians(),
    }
}

impl Body {
    /// How far ahead of the centre of mass a ground point lies.
    pub(super) fn ahead_of(&self, place: GroundPoint) -> f64 {
        let (sin, cos) = self.heading.sin_cos();
        (place.x - self.place.x) * cos + (place.y - self.place.y) * sin
    }

    /// The scene point `ahead` of the centre of mass, `left` of the track, `height` over ground.
    pub(super) fn point(&self, ahead: f64, left: f64, height: f64) -> ScenePoint {
        let (sin, cos) = self.heading.sin_cos();
        ScenePoint::new(
            self.place.x + ahead * cos - left * sin,
            self.place.y + ahead * sin + left * cos,
            height,
        )
    }

    /// From the trunk's leaning frame (ahead of and above the centre of mass) to (ahead, height
    /// over ground).
    pub(super) fn leaning(&self, ahead: f64, above: f64) -> (f64, f64) {
        let (sin, cos) = self.pitch.sin_cos();
        (ahead * cos - above * sin, self.height + ahead * sin + above * cos)
    }
}

fn last_fore(plan: &Plan, limb: Limb) -> f64 {
    let last = plan.contacts.iter().find(|c| c.limb == limb && c.stride == -1);
    last.map_or(plan.jump.take_off_s - 0.4, |c| c.contact_s)
}

fn first_away(plan: &Plan) -> Beat {
    let first = plan.beats.iter().find(|beat| beat.stride == 1);
    first.copied().unwrap_or(plan.beats[plan.beats.len() - 1])
}

/// Height and pitch of the trunk from the last canter stride to the first one after landing.
fn jump_keys(scene: &Scene, plan: &Plan, scale: f64) -> (Keys, Keys) {
    let JumpTimes { take_off_s, lift_s, land_s } = plan.jump;
    let fore = last_fore(plan, Limb::LeadingFore);
    let away = first_away(plan).at_s;
    let climb = gait::GRAVITY * (land_s - lift_s) / 2.0;
    let lift_m = gait::LIFT_OFF_CENTRE_M;
    let heights = [
        (fore - 0.08, 1.18, None),
        (fore + 0.09, 1.145, None),
        (take_off_s - 0.04, 1.20, None),
        (take_off_s + 0.06, 1.25, None),
        (lift_s, lift_m, Some(climb / scale)),
        (land_s, lift_m, Some(-climb / scale)),
        (land_s + 0.14, 1.26, None),
        (land_s + 0.25, 1.19, None),
        (away + 0.12, 1.18, None),
        (away + 0.3, 1.20, None),
    ];
    let heights = heights.map(|(at, height, slope): (f64, f64, Option<f64>)| {
        (at, scale * height, slope.map(|slope| scale * slope))
    });
    let steep = 0.72 + 0.28 * scene.fence.height_m / scale;
    let pitches = [
        (fore - 0.12, 0.5, None),
        (fore + 0.06, 7.0, None),
        (take_off_s - 0.05, 21.0, None),
        (take_off_s + 0.08, 29.0, None),
        (lift_s, 29.0, None),
        (f64::midpoint(lift_s, land_s), 1.0, None),
        (land_s, -25.0, None),
        (land_s + 0.10, -21.0, None),
        (land_s + 0.24, -6.0, None),
        (away + 0.1, 2.0, None),
    ];
    let pitches = pitches.map(|(at, degrees, slope): (f64, f64, Option<f64>)| {
        (at, steep * degrees.to_radians(), slope)
    });
    (Keys::through(&heights), Keys::through(&pitches))
}
