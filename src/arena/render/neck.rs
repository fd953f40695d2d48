//! Neck and head: carried up in the canter, stretched forward and down over the fence.

use super::figure::{Ball, Frame, smooth};
use super::motion::Body;
use crate::arena::curve::ease;
use crate::scene::ScenePoint;

/// Neck and head at a moment.
pub(super) struct Neck {
    pub(super) neck: Vec<Ball>,
    pub(super) head: Vec<Ball>,
    /// Lower jaw and cheek.
    pub(super) jaw: Vec<Ball>,
    pub(super) ears: [[ScenePoint; 3]; 2],
    /// From withers to poll.
    pub(super) crest: Vec<ScenePoint>,
    pub(super) eye: ScenePoint,
    pub(super) nostril: ScenePoint,
    /// Corner of the mouth.
    pub(super) mouth: ScenePoint,
    pub(super) poll: ScenePoint,
}

/// Pose of neck and head: angles from level in the trunk's frame, and how far the neck stretches.
struct Carriage {
    neck: f64,
    head: f64,
    stretch: f64,
}

/// Neck: ahead of its root and up from its axis, radius.
const NECK: [(f64, f64, f64); 5] = [
    (0.0, 0.02, 0.265),
    (0.20, 0.05, 0.215),
    (0.42, 0.085, 0.158),
    (0.62, 0.085, 0.125),
    (0.76, 0.045, 0.108),
];
/// Head and jaw: along the face from the poll and up from it, radius.
const HEAD: [(f64, f64, f64); 5] = [
    (0.0, 0.0, 0.098),
    (0.13, -0.005, 0.105),
    (0.30, 0.0, 0.080),
    (0.46, 0.005, 0.062),
    (0.545, 0.0, 0.056),
];
const JAW: [(f64, f64, f64); 4] =
    [(0.10, -0.075, 0.105), (0.22, -0.06, 0.078), (0.38, -0.035, 0.052), (0.53, -0.035, 0.042)];
const CREST: [(f64, f64); 6] =
    [(-0.12, 0.20), (0.05, 0.235), (0.22, 0.255), (0.42, 0.235), (0.60, 0.205), (0.76, 0.15)];

impl Neck {
    /// `side` is 1 when the camera sees the left side, −1 for the right.
    pub(super) fn of(frame: &Frame, side: f64) -> Self {
        let carriage = carriage(&frame.body);
        let (sin, cos) = carriage.neck.sin_cos();
        let along = |ahead: f64, up: f64| {
            let ahead = ahead * carriage.stretch;
            (0.50 + ahead * cos - up * sin, 1.32 + ahead * sin + up * cos)
        };
        let poll = along(0.80, 0.055);
        let (head_sin, head_cos) = carriage.head.sin_cos();
        let face = |ahead: f64, up: f64| {
            (poll.0 + ahead * head_cos - up * head_sin, poll.1 + ahead * head_sin + up * head_cos)
        };
        let at = |(ahead, height): (f64, f64), left: f64| frame.point(ahead, left, height);
        let ball = |place: (f64, f64), radius: f64| Ball {
            at: at(place, 0.0),
            radius: frame.scale * radius,
        };
        let ear = |left: f64| {
            let tip = at(face(-0.06, 0.25), 1.3 * left);
            [at(face(-0.045, 0.07), left), at(face(0.06, 0.085), left), tip]
        };
        Self {
            neck: smooth(&NECK.map(|(a, u, r)| ball(along(a, u), r)), 4),
            head: smooth(&HEAD.map(|(a, u, r)| ball(face(a, u), r)), 4),
            jaw: smooth(&JAW.map(|(a, u, r)| ball(face(a, u), r)), 3),
            ears: [ear(-side * 0.06), ear(side * 0.06)],
            crest: CREST.map(|(a, u)| at(along(a, u), 0.0)).to_vec(),
            eye: at(face(0.165, 0.045), side * 0.10),
            nostril: at(face(0.545, 0.012), side * 0.05),
            mouth: at(face(0.44, -0.045), side * 0.05),
            poll: at(face(0.0, 0.05), 0.0),
        }
    }
}

fn carriage(body: &Body) -> Carriage {
    let turn = std::f64::consts::TAU;
    let nod = (turn * (body.phase + 0.02)).cos();
    let over = ease(body.flight, -0.25, 0.45) * (1.0 - ease(body.flight, 0.95, 1.5)) * body.jumping;
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
