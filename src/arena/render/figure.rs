//! The horse's joints at a moment, solved from hooves and trunk: chains of balls in space.
//!
//! Sizes are those of a riding horse of 1.65 m at the withers, scaled; drawn to look right,
//! common practice, no source.

use super::motion::{Body, CENTRE_M, Hoof, Motion};
use crate::arena::plan::side_of;
use crate::marks::{Lead, Limb};
use crate::scene::ScenePoint;

/// A ball of flesh: chains of them make the outlines.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ball {
    pub(super) at: ScenePoint,
    pub(super) radius: f64,
}

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

/// The horse at a moment.
pub(super) struct Figure {
    pub(super) body: Body,
    pub(super) scale: f64,
    /// Rump to chest.
    pub(super) trunk: Vec<Ball>,
    pub(super) withers: Vec<Ball>,
    pub(super) neck: Vec<Ball>,
    pub(super) head: Vec<Ball>,
    /// Lower jaw and cheek.
    pub(super) jaw: Vec<Ball>,
    pub(super) ears: [[ScenePoint; 3]; 2],
    /// Crest from withers to poll.
    pub(super) crest: Vec<ScenePoint>,
    pub(super) tail: Vec<Ball>,
    pub(super) legs: Vec<Leg>,
    /// Eye, nostril, corner of the mouth.
    pub(super) eye: ScenePoint,
    pub(super) nostril: ScenePoint,
    pub(super) mouth: ScenePoint,
    /// Direction of the head, radians from level.
    pub(super) poll: ScenePoint,
    pub(super) near: Lead,
}

/// Pose of neck and head: angles from level in the trunk's frame, and how far the neck stretches.
struct Carriage {
    neck: f64,
    head: f64,
    stretch: f64,
}

impl Figure {
    /// The horse at `time`; `near` is the side that the camera sees.
    pub(super) fn at(motion: &Motion, time: f64, lead: Lead, near: Lead) -> Self {
        let scale = motion.scale();
        let body = motion.body(time);
        let frame = Frame { body, scale };
        let side = if near == Lead::Left { 1.0 } else { -1.0 };
        let carriage = carriage(&body);
        let (neck, head, jaw, ears, face, crest) = neck_and_head(&frame, &carriage, side);
        let legs = Limb::ALL
            .map(|limb| {
                let left = if side_of(limb, lead) == Lead::Left { 1.0 } else { -1.0 };
                frame.leg(limb, left, motion.hoof(limb, time))
            })
            .to_vec();
        let [eye, nostril, mouth, poll] = face;
        Self {
            body,
            scale,
            trunk: frame.balls(&TRUNK),
            withers: frame.balls(&WITHERS),
            neck,
            head,
            jaw,
            ears,
            crest,
            tail: tail(&frame),
            legs,
            eye,
            nostril,
            mouth,
            poll,
            near,
        }
    }

    /// A point of the trunk's frame: metres ahead of the centre of mass, to the left, and over
    /// the ground of a standing horse, all at horse size.
    pub(super) fn on_trunk(&self, ahead: f64, left: f64, height: f64) -> ScenePoint {
        Frame { body: self.body, scale: self.scale }.point(ahead, left, height)
    }

    /// Legs on the near side or the far side.
    pub(super) fn legs_on(&self, lead: Lead, near: bool) -> impl Iterator<Item = &Leg> {
        let side = self.near;
        self.legs.iter().filter(move |leg| (side_of(leg.limb, lead) == side) == near)
    }
}

/// Trunk: (ahead, height over ground of the standing horse, radius).
const TRUNK: [(f64, f64, f64); 9] = [
    (-0.80, 1.30, 0.115),
    (-0.70, 1.31, 0.225),
    (-0.50, 1.285, 0.305),
    (-0.26, 1.26, 0.305),
    (-0.02, 1.215, 0.325),
    (0.24, 1.195, 0.345),
    (0.44, 1.205, 0.325),
    (0.60, 1.20, 0.245),
    (0.68, 1.16, 0.17),
];
const WITHERS: [(f64, f64, f64); 4] =
    [(-0.05, 1.40, 0.16), (0.18, 1.43, 0.17), (0.36, 1.475, 0.165), (0.52, 1.43, 0.20)];

/// The trunk's leaning frame.
struct Frame {
    body: Body,
    scale: f64,
}

impl Frame {
    fn point(&self, ahead: f64, left: f64, height: f64) -> ScenePoint {
        let (ahead, height) = self.lean(ahead, height);
        self.body.point(ahead, self.scale * left, height)
    }

    fn lean(&self, ahead: f64, height: f64) -> (f64, f64) {
        // Carry the standing horse's height over the ground to above the centre of mass.
        self.body.leaning(self.scale * ahead, self.scale * (height - CENTRE_M))
    }

    fn balls(&self, shape: &[(f64, f64, f64)]) -> Vec<Ball> {
        let balls = shape.iter().map(|&(ahead, height, radius)| Ball {
            at: self.point(ahead, 0.0, height),
            radius: self.scale * radius,
        });
        smooth(&balls.collect::<Vec<_>>(), 4)
    }

    fn leg(&self, limb: Limb, left: f64, hoof: Hoof) -> Leg {
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

fn carriage(body: &Body) -> Carriage {
    let turn = std::f64::consts::TAU;
    let nod = (turn * (body.phase + 0.02)).cos();
    let over = crate::arena::curve::ease(body.flight, -0.25, 0.45)
        * (1.0 - crate::arena::curve::ease(body.flight, 0.95, 1.5))
        * body.jumping;
    let neck = 43.0 + 3.5 * nod;
    let head = -50.0 + 2.5 * nod;
    // Over the fence the neck stretches forward and down; the trunk's pitch is taken off again
    // in part, since the horse keeps its eyes level.
    let lean = body.pitch.to_degrees();
    let neck = neck + (20.0 - neck - 0.35 * lean) * over - 0.5 * lean * (1.0 - over) * body.jumping;
    let head =
        head + (-38.0 - head - 0.55 * lean) * over - 0.6 * lean * (1.0 - over) * body.jumping;
    Carriage { neck: neck.to_radians(), head: head.to_radians(), stretch: 1.0 + 0.06 * over }
}

type NeckAndHead =
    (Vec<Ball>, Vec<Ball>, Vec<Ball>, [[ScenePoint; 3]; 2], [ScenePoint; 4], Vec<ScenePoint>);

fn neck_and_head(frame: &Frame, carriage: &Carriage, side: f64) -> NeckAndHead {
    let (sin, cos) = carriage.neck.sin_cos();
    let along = |ahead: f64, up: f64| {
        let ahead = ahead * carriage.stretch;
        (0.50 + ahead * cos - up * sin, 1.32 + ahead * sin + up * cos)
    };
    let ball = |(ahead, height): (f64, f64), radius: f64| Ball {
        at: frame.point(ahead, 0.0, height),
        radius: frame.scale * radius,
    };
    let shape = [
        (0.0, 0.02, 0.265),
        (0.20, 0.05, 0.215),
        (0.42, 0.085, 0.158),
        (0.62, 0.085, 0.125),
        (0.76, 0.045, 0.108),
    ];
    let neck: Vec<Ball> = shape.map(|(a, u, r)| ball(along(a, u), r)).to_vec();
    let poll = along(0.80, 0.055);
    let (head_sin, head_cos) = carriage.head.sin_cos();
    let face = |ahead: f64, up: f64| {
        (poll.0 + ahead * head_cos - up * head_sin, poll.1 + ahead * head_sin + up * head_cos)
    };
    let head = [
        (0.0, 0.0, 0.098),
        (0.13, -0.005, 0.105),
        (0.30, 0.0, 0.080),
        (0.46, 0.005, 0.062),
        (0.545, 0.0, 0.056),
    ]
    .map(|(a, u, r)| ball(face(a, u), r));
    let jaw =
        [(0.10, -0.075, 0.105), (0.22, -0.06, 0.078), (0.38, -0.035, 0.052), (0.53, -0.035, 0.042)]
            .map(|(a, u, r)| ball(face(a, u), r));
    let at = |(ahead, height): (f64, f64), left: f64| frame.point(ahead, left, height);
    let ear = |left: f64| {
        [
            at(face(-0.045, 0.07), left),
            at(face(0.06, 0.085), left),
            at(face(-0.06, 0.25), 1.3 * left),
        ]
    };
    let near = side * 0.10;
    let points = [
        at(face(0.165, 0.045), near),
        at(face(0.545, 0.012), side * 0.05),
        at(face(0.44, -0.045), side * 0.05),
        at(face(0.0, 0.05), 0.0),
    ];
    let crest =
        [(-0.12, 0.20), (0.05, 0.235), (0.22, 0.255), (0.42, 0.235), (0.60, 0.205), (0.76, 0.15)]
            .map(|(a, u)| at(along(a, u), 0.0));
    (
        smooth(&neck, 4),
        smooth(&head, 4),
        smooth(&jaw, 3),
        [ear(-side * 0.06), ear(side * 0.06)],
        points,
        crest.to_vec(),
    )
}

/// The tail streams behind and swings with the stride.
fn tail(frame: &Frame) -> Vec<Ball> {
    let turn = std::f64::consts::TAU;
    let swing = (turn * (frame.body.phase - 0.2)).sin();
    let lift = 0.05 * swing + 0.10 * frame.body.jumping;
    let shape = [
        (-0.84, 1.46, 0.045),
        (-0.97, 1.47 + 0.4 * lift, 0.055),
        (-1.10, 1.37 + lift, 0.075),
        (-1.20, 1.18 + 1.3 * lift, 0.085),
        (-1.27 - 0.03 * swing, 0.96 + 1.6 * lift, 0.070),
        (-1.34 - 0.05 * swing, 0.76 + 1.8 * lift, 0.028),
    ];
    frame.balls(&shape)
}

/// A chain with `parts` balls between neighbours, on a Catmull-Rom curve.
pub(super) fn smooth(chain: &[Ball], parts: usize) -> Vec<Ball> {
    if chain.len() < 3 {
        return chain.to_vec();
    }
    let last = chain.len() - 1;
    let mut out = Vec::with_capacity(last * parts + 1);
    for i in 0..last {
        let four = [i.saturating_sub(1), i, i + 1, (i + 2).min(last)].map(|j| chain[j]);
        for part in 0..parts {
            let u = part as f64 / parts as f64;
            let spline = |a: f64, b: f64, c: f64, d: f64| {
                0.5 * (2.0 * b
                    + (c - a) * u
                    + (2.0 * a - 5.0 * b + 4.0 * c - d) * u * u
                    + (3.0 * b - a - 3.0 * c + d) * u * u * u)
            };
            let of = |get: fn(&Ball) -> f64| {
                spline(get(&four[0]), get(&four[1]), get(&four[2]), get(&four[3]))
            };
            out.push(Ball {
                at: ScenePoint::new(of(|b| b.at.x), of(|b| b.at.y), of(|b| b.at.z)),
                radius: of(|b| b.radius).max(0.0),
            });
        }
    }
    out.push(chain[last]);
    out
}
