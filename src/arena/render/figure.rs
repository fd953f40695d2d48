//! The horse's joints at a moment, solved from hooves and trunk: chains of balls in space.
//!
//! Sizes are those of a riding horse of 1.65 m at the withers, scaled; drawn to look right,
//! common practice, no source.

use super::leg::Leg;
use super::motion::{Body, CENTRE_M, Motion};
use super::neck::Neck;
use crate::arena::plan::side_of;
use crate::marks::{Lead, Limb};
use crate::scene::ScenePoint;

/// A ball of flesh: chains of them make the outlines.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ball {
    pub(super) at: ScenePoint,
    pub(super) radius: f64,
}

/// The horse at a moment.
pub(super) struct Figure {
    pub(super) body: Body,
    pub(super) scale: f64,
    /// Rump to chest.
    pub(super) trunk: Vec<Ball>,
    pub(super) withers: Vec<Ball>,
    pub(super) neck: Neck,
    pub(super) tail: Vec<Ball>,
    pub(super) legs: Vec<Leg>,
    /// The side that the camera sees.
    pub(super) near: Lead,
}

impl Figure {
    /// The horse at `time`; `near` is the side that the camera sees.
    pub(super) fn at(motion: &Motion, time: f64, lead: Lead, near: Lead) -> Self {
        let scale = motion.scale();
        let body = motion.body(time);
        let frame = Frame { body, scale };
        let side = if near == Lead::Left { 1.0 } else { -1.0 };
        let legs = Limb::ALL
            .map(|limb| {
                let left = if side_of(limb, lead) == Lead::Left { 1.0 } else { -1.0 };
                frame.leg(limb, left, motion.hoof(limb, time))
            })
            .to_vec();
        Self {
            body,
            scale,
            trunk: frame.balls(&TRUNK),
            withers: frame.balls(&WITHERS),
            neck: Neck::of(&frame, side),
            tail: tail(&frame),
            legs,
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
pub(super) struct Frame {
    pub(super) body: Body,
    pub(super) scale: f64,
}

impl Frame {
    pub(super) fn point(&self, ahead: f64, left: f64, height: f64) -> ScenePoint {
        let (ahead, height) = self.lean(ahead, height);
        self.body.point(ahead, self.scale * left, height)
    }

    pub(super) fn lean(&self, ahead: f64, height: f64) -> (f64, f64) {
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
