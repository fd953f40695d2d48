//! A limb solved from its hoof upwards, by inverse kinematics in the body's upright plane.

use super::figure::{Ball, Frame, smooth};
use super::motion::Hoof;
use crate::marks::Limb;
use crate::scene::ScenePoint;

/// A limb, from the body down.
#[derive(Clone, Debug)]
pub(super) struct Leg {
    pub(super) limb: Limb,
    /// Thigh or upper arm down to hock or knee.
    pub(super) upper: Vec<Ball>,
    /// Hock or knee down to the coronet.
    pub(super) lower: Vec<Ball>,
    /// Outline of the hoof: toe, sole behind, heel, coronet behind, coronet in front.
    pub(super) hoof: [ScenePoint; 5],
    /// The sole point that meets the ground.
    pub(super) sole: ScenePoint,
    /// Fetlock and the joint above it, for boots.
    pub(super) cannon: (ScenePoint, ScenePoint),
}

impl Frame {
    /// The limb whose hoof is `hoof`; `left` is 1 on the left side and −1 on the right.
    pub(super) fn leg(&self, limb: Limb, left: f64, hoof: Hoof) -> Leg {
        let scale = self.scale;
        let hoof_left = self.left_of(hoof.sole);
        let sole = (self.body.ahead_of(hoof.sole.below()), hoof.sole.z);
        // From the sole point to the fetlock, turning with the hoof.
        let reach = 0.205 * scale;
        let angle = std::f64::consts::PI - hoof.pastern - hoof.tilt;
        let fetlock = (sole.0 + reach * angle.cos(), sole.1 + reach * angle.sin());
        let joints =
            if limb.is_hind() { self.hind_joints(fetlock) } else { self.fore_joints(fetlock) };
        let body_left = scale * left * if limb.is_hind() { 0.15 } else { 0.14 };
        let place = |joint: (f64, f64), down: f64| {
            self.body.point(joint.0, body_left + (hoof_left - body_left) * down, joint.1)
        };
        let radii = if limb.is_hind() { HIND_RADII } else { FORE_RADII };
        let [top, middle, joint] = joints;
        let mix =
            |a: (f64, f64), b: (f64, f64), u: f64| (a.0 + (b.0 - a.0) * u, a.1 + (b.1 - a.1) * u);
        let ball = |at: ScenePoint, radius: f64| Ball { at, radius: scale * radius };
        let upper = vec![
            ball(place(top, 0.0), radii[0]),
            ball(place(middle, 0.2), radii[1]),
            ball(place(mix(middle, joint, 0.42), 0.32), radii[2]),
            ball(place(mix(middle, joint, 0.82), 0.45), radii[3]),
            ball(place(joint, 0.5), radii[4]),
        ];
        let coronet = mix(sole, fetlock, 0.38);
        let lower = vec![
            ball(place(joint, 0.5), radii[4]),
            ball(place(mix(joint, fetlock, 0.28), 0.62), radii[5]),
            ball(place(mix(joint, fetlock, 0.78), 0.8), radii[5]),
            ball(place(fetlock, 0.9), radii[6]),
            ball(place(mix(fetlock, coronet, 0.55), 0.95), radii[7]),
            ball(place(coronet, 1.0), radii[7] * 1.12),
        ];
        let outline = HOOF.map(|(ahead, up)| {
            let (sin, cos) = hoof.tilt.sin_cos();
            let (ahead, up) = (scale * ahead, scale * up);
            // Heel up: the hoof turns about its sole point, toe down.
            let turned = (ahead * cos + up * sin, -ahead * sin + up * cos);
            place((sole.0 + turned.0, sole.1 + turned.1), 1.0)
        });
        let cannon = (place(mix(joint, fetlock, 0.2), 0.6), place(fetlock, 0.9));
        Leg {
            limb,
            upper: smooth(&upper, 4),
            lower: smooth(&lower, 3),
            hoof: outline,
            sole: hoof.sole,
            cannon,
        }
    }

    fn left_of(&self, point: ScenePoint) -> f64 {
        let (sin, cos) = self.body.heading.sin_cos();
        let (x, y) = (point.x - self.body.place.x, point.y - self.body.place.y);
        -x * sin + y * cos
    }

    /// Hip, stifle, hock. The reciprocal apparatus bends stifle and hock together: thigh and
    /// cannon keep a fixed angle, which makes three bones a two-bone problem.
    fn hind_joints(&self, fetlock: (f64, f64)) -> [(f64, f64); 3] {
        let scale = self.scale;
        let hip = self.lean(-0.58, 1.27);
        let (thigh, shin, cannon) = (0.385 * scale, 0.475 * scale, 0.375 * scale);
        let between = 20_f64.to_radians();
        let pair = (thigh + cannon * between.cos(), -cannon * between.sin());
        let pair_length = pair.0.hypot(pair.1);
        let pair_turn = pair.1.atan2(pair.0);
        let (knee, fetlock) = two_bones(hip, fetlock, pair_length, shin, 1.0);
        // `knee` ends thigh and cannon together; the shin runs from it to the fetlock.
        let pair_angle = (knee.1 - hip.1).atan2(knee.0 - hip.0);
        let thigh_angle = pair_angle - pair_turn;
        let stifle = (hip.0 + thigh * thigh_angle.cos(), hip.1 + thigh * thigh_angle.sin());
        let shin_way = (fetlock.0 - knee.0, fetlock.1 - knee.1);
        let hock = (stifle.0 + shin_way.0, stifle.1 + shin_way.1);
        [hip, stifle, hock]
    }

    /// Shoulder, elbow, knee. The elbow follows the hoof as the shoulder blade swings.
    fn fore_joints(&self, fetlock: (f64, f64)) -> [(f64, f64); 3] {
        let scale = self.scale;
        let shoulder = self.lean(0.62, 1.20);
        let ahead = ((fetlock.0 - shoulder.0) / (0.6 * scale) + 0.15).clamp(-1.0, 1.0);
        let mut elbow = self.lean(0.44 + 0.15 * ahead, 0.93 + 0.05 * ahead.abs());
        let (forearm, cannon) = (0.435 * scale, 0.29 * scale);
        let way = (fetlock.0 - elbow.0, fetlock.1 - elbow.1);
        let distance = way.0.hypot(way.1);
        let longest = 0.998 * (forearm + cannon);
        if distance > longest {
            let pull = (distance - longest) / distance;
            elbow = (elbow.0 + pull * way.0, elbow.1 + pull * way.1);
        }
        let (knee, _) = two_bones(elbow, fetlock, forearm, cannon, 1.0);
        [shoulder, elbow, knee]
    }
}

/// Hoof outline about its sole point: (ahead, up), flat on the ground.
const HOOF: [(f64, f64); 5] =
    [(0.045, 0.0), (-0.075, 0.0), (-0.085, 0.035), (-0.065, 0.085), (-0.005, 0.09)];
const FORE_RADII: [f64; 8] = [0.19, 0.135, 0.088, 0.058, 0.060, 0.039, 0.049, 0.038];
const HIND_RADII: [f64; 8] = [0.27, 0.185, 0.105, 0.062, 0.066, 0.044, 0.052, 0.040];

/// Where two bones from `from` meet on their way to `to`, bending ahead (`bend` 1) or behind;
/// and the end they reach, which is `to` unless it is too far.
fn two_bones(
    from: (f64, f64),
    to: (f64, f64),
    first: f64,
    second: f64,
    bend: f64,
) -> ((f64, f64), (f64, f64)) {
    let way = (to.0 - from.0, to.1 - from.1);
    let distance = way.0.hypot(way.1).clamp((first - second).abs() + 1e-6, first + second - 1e-6);
    let unit = {
        let d = way.0.hypot(way.1).max(1e-9);
        (way.0 / d, way.1 / d)
    };
    let along = (first * first - second * second + distance * distance) / (2.0 * distance);
    let aside = (first * first - along * along).max(0.0).sqrt() * bend;
    // Ahead of a way that points down is (-unit.1, unit.0).
    let middle =
        (from.0 + along * unit.0 - aside * unit.1, from.1 + along * unit.1 + aside * unit.0);
    (middle, to)
}
