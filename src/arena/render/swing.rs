//! How a hoof travels from one contact to the next, through the air.
//!
//! Key places relative to the body, smooth between; the ends leave and meet the ground as fast
//! as the body passes over it. Shapes drawn to look right: common practice, no source.

use super::motion::{Body, Hoof, Motion};
use crate::arena::curve::{Keys, ease};
use crate::arena::plan::{HIP_ALONG_M, JumpTimes, SHOULDER_ALONG_M};
use crate::arena::truth::Contact;
use crate::marks::Event;
use crate::scene::ScenePoint;

/// (time, ahead of the centre of mass, height of the sole).
type Middle = Vec<(f64, f64, f64)>;
/// (time, how far the heel is raised, slope).
type Tilts = Vec<(f64, f64, Option<f64>)>;
/// A place in the trunk's leaning frame, ahead of and above the centre of mass, at a time.
type Tuck = (f64, (f64, f64));

/// One limb between two contacts.
pub(super) struct Swing<'a> {
    motion: &'a Motion,
    from: &'a Contact,
    to: &'a Contact,
    lasts: f64,
}

impl<'a> Swing<'a> {
    pub(super) fn between(motion: &'a Motion, from: &'a Contact, to: &'a Contact) -> Self {
        Self { motion, from, to, lasts: to.contact_s - from.lift_s }
    }

    /// The hoof at `time`, between lift-off and contact.
    pub(super) fn hoof(&self, time: f64) -> Hoof {
        let (from, to) = (self.from, self.to);
        let (leaves, meets) = (self.motion.body(from.lift_s), self.motion.body(to.contact_s));
        let over = to.event == Event::Landing || from.event == Event::TakeOff;
        let (middle, tilts) = if over { self.over_the_fence() } else { self.canter() };
        let mut along = vec![(from.lift_s, leaves.ahead_of(from.place), Some(-leaves.speed))];
        let mut rise = vec![(from.lift_s, 0.0, Some(0.4))];
        for (at, ahead, height) in middle {
            along.push((at, ahead, None));
            rise.push((at, height, None));
        }
        along.push((to.contact_s, meets.ahead_of(to.place), Some(-0.6 * meets.speed)));
        rise.push((to.contact_s, 0.0, Some(-0.7)));
        let share = ease((time - from.lift_s) / self.lasts, 0.0, 1.0);
        let stood = self.motion.body(from.contact_s);
        let lefts = (left_of(&stood, from), left_of(&meets, to));
        let left = lefts.0 + (lefts.1 - lefts.0) * share;
        let body = self.motion.body(time);
        let (along, rise) = (Keys::through(&along), Keys::through(&rise));
        let sole = body.point(along.at(time), left, rise.at(time));
        let sole = ScenePoint { z: sole.z.max(0.0), ..sole };
        Hoof { sole, tilt: Keys::through(&tilts).at(time), pastern: 62_f64.to_radians() }
    }

    fn at(&self, share: f64) -> f64 {
        self.from.lift_s + share * self.lasts
    }

    /// A swing of the canter: (time, ahead of the centre of mass, height of the sole).
    fn canter(&self) -> (Middle, Tilts) {
        let scale = self.motion.scale();
        let hind = self.from.limb.is_hind();
        let joint = scale * if hind { HIP_ALONG_M } else { SHOULDER_ALONG_M };
        let shape: [(f64, f64, f64); 4] = if hind {
            [(0.18, -0.66, 0.17), (0.42, -0.24, 0.24), (0.66, 0.28, 0.21), (0.87, 0.58, 0.09)]
        } else {
            [(0.18, -0.68, 0.24), (0.42, -0.28, 0.36), (0.66, 0.22, 0.30), (0.87, 0.54, 0.11)]
        };
        let middle = shape
            .map(|(share, ahead, height)| (self.at(share), joint + scale * ahead, scale * height));
        let tilts: [(f64, f64); 7] = if hind {
            [
                (0.0, 52.0),
                (0.15, 92.0),
                (0.4, 80.0),
                (0.66, 38.0),
                (0.85, 4.0),
                (0.94, -6.0),
                (1.0, 0.0),
            ]
        } else {
            [
                (0.0, 52.0),
                (0.15, 105.0),
                (0.4, 122.0),
                (0.66, 70.0),
                (0.85, 8.0),
                (0.94, -8.0),
                (1.0, 0.0),
            ]
        };
        (middle.to_vec(), self.tilts(&tilts))
    }

    fn tilts(&self, shape: &[(f64, f64)]) -> Tilts {
        shape.iter().map(|&(share, degrees)| (self.at(share), degrees.to_radians(), None)).collect()
    }

    /// The way over the fence.
    fn over_the_fence(&self) -> (Middle, Tilts) {
        let (tucks, tilts) =
            if self.from.limb.is_hind() { self.hind_tuck() } else { self.fore_tuck() };
        let scale = self.motion.scale();
        let middle = tucks
            .into_iter()
            .filter(|(at, _)| (self.from.lift_s + 0.02..self.to.contact_s - 0.02).contains(at))
            .map(|(at, (ahead, above))| {
                let body = self.motion.body(at);
                let (ahead, height) = body.leaning(scale * ahead, scale * above);
                (at, ahead, height.max(0.03))
            })
            .collect();
        (middle, tilts)
    }

    /// Hind limbs trail, then tuck, then reach.
    fn hind_tuck(&self) -> (Vec<Tuck>, Tilts) {
        let JumpTimes { lift_s, land_s, .. } = self.motion.jump();
        let flight = land_s - lift_s;
        let reach = self.to.contact_s - land_s;
        let tucks = vec![
            (lift_s + 0.16 * flight, (-1.02, -0.98)),
            (lift_s + 0.42 * flight, (-0.98, -0.66)),
            (lift_s + 0.66 * flight, (-0.86, -0.50)),
            (lift_s + 0.86 * flight, (-0.72, -0.52)),
            (land_s + 0.25 * reach, (-0.52, -0.72)),
            (land_s + 0.65 * reach, (-0.12, -0.98)),
        ];
        let tilts = [
            (0.0, 50.0),
            (0.12, 85.0),
            (0.35, 118.0),
            (0.62, 112.0),
            (0.80, 50.0),
            (0.93, 0.0),
            (1.0, 0.0),
        ];
        (tucks, self.tilts(&tilts))
    }

    /// Forelimbs fold under the chest, then reach for the landing.
    fn fore_tuck(&self) -> (Vec<Tuck>, Tilts) {
        let JumpTimes { take_off_s, lift_s, land_s } = self.motion.jump();
        let flight = land_s - lift_s;
        let late = if self.from.limb.is_leading() { 0.03 } else { 0.0 };
        let tucks = vec![
            (self.from.lift_s + 0.10, (0.02, -0.78)),
            (take_off_s + 0.02 + late, (0.50, -0.66)),
            (lift_s - 0.02 + late, (0.62, -0.50)),
            (lift_s + 0.35 * flight, (0.66, -0.50)),
            (lift_s + 0.62 * flight, (0.86, -0.60)),
            (lift_s + 0.84 * flight, (1.02, -0.86)),
        ];
        let tilts = [
            (0.0, 52.0),
            (0.10, 95.0),
            (0.25, 120.0),
            (0.55, 128.0),
            (0.72, 70.0),
            (0.88, 5.0),
            (1.0, -4.0),
        ];
        (tucks, self.tilts(&tilts))
    }
}

/// How far to the left of the track a contact lies.
fn left_of(body: &Body, contact: &Contact) -> f64 {
    let (sin, cos) = body.heading.sin_cos();
    -(contact.place.x - body.place.x) * sin + (contact.place.y - body.place.y) * cos
}
