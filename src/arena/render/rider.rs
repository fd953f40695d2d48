//! The rider: light seat in the canter, folded over the fence, sitting up on landing.

use super::figure::{Ball, Figure, smooth};
use super::horse::{mid, shifted};
use crate::arena::curve::ease;
use crate::marks::Lead;
use crate::scene::ScenePoint;

/// The rider's joints, solved from the horse.
pub(super) struct Rider {
    pub(super) torso: Vec<Ball>,
    pub(super) seat: Vec<Ball>,
    pub(super) thigh: Vec<Ball>,
    pub(super) shin: Vec<Ball>,
    pub(super) foot: Vec<Ball>,
    pub(super) upper_arm: Vec<Ball>,
    pub(super) forearm: Vec<Ball>,
    pub(super) neck: Vec<Ball>,
    pub(super) head: Ball,
    pub(super) face: ScenePoint,
    /// The helmet's peak.
    pub(super) peak: [ScenePoint; 4],
    pub(super) hand: ScenePoint,
    /// Lean of the back from upright, radians.
    pub(super) lean: f64,
}

/// How the rider sits at a moment.
struct Seat<'a> {
    figure: &'a Figure,
    side: f64,
    /// 0 in the canter, 1 folded over the fence.
    fold: f64,
    lean: f64,
    /// Seat over saddle, metres.
    rise: f64,
    hip: ScenePoint,
}

impl<'a> Seat<'a> {
    fn on(figure: &'a Figure) -> Self {
        let body = &figure.body;
        let side = if figure.near == Lead::Left { 1.0 } else { -1.0 };
        let rock = (std::f64::consts::TAU * (body.phase + 0.1)).cos();
        let between = |from: (f64, f64), to: (f64, f64)| {
            let over = ease(body.flight, from.0, from.1) * (1.0 - ease(body.flight, to.0, to.1));
            over * body.jumping
        };
        let fold = between((-0.42, 0.25), (0.55, 1.15));
        let upright = between((0.75, 1.15), (1.4, 2.2));
        // Lean from upright in the scene, so that the trunk's pitch does not throw the rider.
        let lean = (27.0 + 3.0 * rock + 36.0 * fold - 16.0 * upright).to_radians();
        let rise = 0.07 + 0.02 * rock + 0.11 * fold;
        let hip = figure.on_trunk(-0.06 - 0.06 * fold, 0.0, 1.70 + rise);
        Self { figure, side, fold, lean, rise, hip }
    }

    fn ball(&self, at: ScenePoint, radius: f64) -> Ball {
        Ball { at, radius: radius * self.figure.scale }
    }

    /// Beside the trunk on the near side.
    fn beside(&self, ahead: f64, out: f64, height: f64) -> ScenePoint {
        self.figure.on_trunk(ahead, self.side * out, height)
    }

    /// Up the back (1 is the root of the neck) and forward of it.
    fn back(&self, share: f64, forward: f64) -> ScenePoint {
        let scale = self.figure.scale;
        let (sin, cos) = self.lean.sin_cos();
        let (length, forward) = (0.50 * scale * share, forward * scale);
        shifted(self.figure, self.hip, length * sin + forward * cos, length * cos - forward * sin)
    }

    /// Forward of and above the root of the neck, along the look.
    fn look(&self, forward: f64, up: f64) -> ScenePoint {
        let scale = self.figure.scale;
        let (sin, cos) = (0.35 * self.lean).sin_cos();
        let root = self.back(1.04, 0.0);
        let (ahead, up) = (forward * cos + up * sin, up * cos - forward * sin);
        shifted(self.figure, root, scale * ahead, scale * up)
    }

    fn torso(&self) -> Vec<Ball> {
        let shape = [
            (-0.02, -0.02, 0.125),
            (0.32, 0.0, 0.112),
            (0.68, -0.005, 0.128),
            (0.92, 0.0, 0.105),
            (1.02, 0.01, 0.06),
        ];
        smooth(&shape.map(|(share, ahead, r)| self.ball(self.back(share, ahead), r)), 4)
    }

    /// Thigh, shin, foot.
    fn leg(&self) -> [Vec<Ball>; 3] {
        let scale = self.figure.scale;
        let knee = self.beside(0.29, 0.30, 1.34 + 0.2 * self.rise);
        let ankle = self.beside(0.07 - 0.04 * self.fold, 0.33, 0.945);
        let hip = nudge(self.figure, self.hip, self.side * 0.10 * scale);
        let thigh = [(0.0, 0.112), (0.5, 0.096), (1.0, 0.070)];
        let shin = [(0.0, 0.068), (0.40, 0.066), (0.80, 0.046), (1.0, 0.044)];
        let heel = shifted(self.figure, ankle, -0.05 * scale, -0.055 * scale);
        let toe = self.beside(0.20 - 0.04 * self.fold, 0.33, 0.945);
        [
            smooth(&thigh.map(|(share, r)| self.ball(mid(hip, knee, share), r)), 4),
            smooth(&shin.map(|(share, r)| self.ball(mid(knee, ankle, share), r)), 4),
            vec![self.ball(heel, 0.034), self.ball(toe, 0.030)],
        ]
    }

    /// Upper arm, forearm and the hand.
    fn arm(&self) -> (Vec<Ball>, Vec<Ball>, ScenePoint) {
        let scale = self.figure.scale;
        let shoulder = nudge(self.figure, self.back(0.90, 0.01), self.side * 0.17 * scale);
        let hand = hand_place(self.figure, self.fold, self.side);
        let elbow = elbow_of(self.figure, shoulder, hand, 0.30 * scale, 0.27 * scale);
        let upper = [(0.0, 0.066), (0.5, 0.055), (1.0, 0.046)];
        let lower = [(0.0, 0.046), (0.55, 0.040), (1.0, 0.034)];
        let upper = upper.map(|(share, r)| self.ball(mid(shoulder, elbow, share), r)).to_vec();
        let lower = lower.map(|(share, r)| self.ball(mid(elbow, hand, share), r)).to_vec();
        (upper, lower, hand)
    }
}

impl Rider {
    /// The rider of `figure`.
    pub(super) fn on(figure: &Figure) -> Self {
        let sits = Seat::on(figure);
        let scale = figure.scale;
        let (upper_arm, forearm, hand) = sits.arm();
        let [thigh, shin, foot] = sits.leg();
        let behind = shifted(figure, sits.hip, -0.03 * scale, -0.035 * scale);
        let peak = [(0.10, 0.185), (0.205, 0.15), (0.20, 0.135), (0.08, 0.15)];
        Self {
            torso: sits.torso(),
            seat: vec![sits.ball(sits.hip, 0.128), sits.ball(behind, 0.125)],
            thigh,
            shin,
            foot,
            upper_arm,
            forearm,
            neck: vec![
                sits.ball(sits.back(1.0, 0.0), 0.055),
                sits.ball(sits.look(0.02, 0.07), 0.052),
            ],
            head: sits.ball(sits.look(0.035, 0.155), 0.108),
            face: sits.look(0.075, 0.10),
            peak: peak.map(|(forward, up)| sits.look(forward, up)),
            hand,
            lean: sits.lean,
        }
    }

    /// Every chain, for the shadow.
    pub(super) fn chains(&self) -> Vec<&[Ball]> {
        vec![
            &self.torso,
            &self.seat,
            &self.thigh,
            &self.shin,
            &self.upper_arm,
            &self.forearm,
            &self.neck,
            std::slice::from_ref(&self.head),
        ]
    }
}

/// Hands low beside the withers, following the mouth over the fence.
fn hand_place(figure: &Figure, fold: f64, side: f64) -> ScenePoint {
    let resting = figure.on_trunk(0.47, side * 0.09, 1.70);
    let following = figure.neck.neck[figure.neck.neck.len() * 2 / 5].at;
    let following = nudge(figure, following, side * 0.10 * figure.scale);
    let following = shifted(figure, following, 0.0, 0.10 * figure.scale);
    mid(resting, following, 0.75 * fold)
}

fn nudge(figure: &Figure, point: ScenePoint, left: f64) -> ScenePoint {
    let (sin, cos) = figure.body.heading.sin_cos();
    ScenePoint::new(point.x - left * sin, point.y + left * cos, point.z)
}

/// The elbow bends behind and below the line from shoulder to hand.
fn elbow_of(
    figure: &Figure,
    shoulder: ScenePoint,
    hand: ScenePoint,
    upper: f64,
    lower: f64,
) -> ScenePoint {
    let (sin, cos) = figure.body.heading.sin_cos();
    let way = hand.vector() - shoulder.vector();
    let (ahead, up) = (way.x * cos + way.y * sin, way.z);
    let distance = ahead.hypot(up).clamp(0.05, 0.995 * (upper + lower));
    let along = (upper * upper - lower * lower + distance * distance) / (2.0 * distance);
    let aside = (upper * upper - along * along).max(0.0).sqrt();
    let length = ahead.hypot(up).max(1e-6);
    let (ua, uu) = (ahead / length, up / length);
    // Behind and below a way that points ahead and down: (uu, -ua).
    shifted(figure, shoulder, along * ua + aside * uu, along * uu - aside * ua)
}
