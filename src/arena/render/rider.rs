//! The rider: light seat in the canter, folded over the fence, sitting up on landing.

use super::canvas::Canvas;
use super::colour::{Colour, LightColours};
use super::figure::{Ball, Figure, smooth};
use super::horse::{mid, shifted};
use crate::arena::curve::ease;
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
    face: ScenePoint,
    peak: [ScenePoint; 4],
    hand: ScenePoint,
    lean: f64,
}

impl Rider {
    pub(super) fn on(figure: &Figure) -> Self {
        let body = &figure.body;
        let scale = figure.scale;
        let side = if figure.near == crate::marks::Lead::Left { 1.0 } else { -1.0 };
        let turn = std::f64::consts::TAU;
        let rock = (turn * (body.phase + 0.1)).cos();
        let fold =
            ease(body.flight, -0.42, 0.25) * (1.0 - ease(body.flight, 0.55, 1.15)) * body.jumping;
        let upright =
            ease(body.flight, 0.75, 1.15) * (1.0 - ease(body.flight, 1.4, 2.2)) * body.jumping;
        // Lean of the back from upright in the scene, so that the trunk's pitch does not throw
        // the rider about.
        let lean = (27.0 + 3.0 * rock + 36.0 * fold - 16.0 * upright).to_radians();
        let rise = 0.07 + 0.02 * rock + 0.11 * fold;
        let at = |ahead: f64, left: f64, height: f64| figure.on_trunk(ahead, side * left, height);
        let hip = at(-0.06 - 0.06 * fold, 0.0, 1.70 + rise);
        let up = |share: f64, forward: f64| {
            let length = 0.50 * scale * share;
            let forward = forward * scale;
            shifted(
                figure,
                hip,
                length * lean.sin() + forward * lean.cos(),
                length * lean.cos() - forward * lean.sin(),
            )
        };
        let ball = |at: ScenePoint, radius: f64| Ball { at, radius: radius * scale };
        let torso = smooth(
            &[
                ball(up(-0.02, -0.02), 0.125),
                ball(up(0.32, 0.0), 0.112),
                ball(up(0.68, -0.005), 0.128),
                ball(up(0.92, 0.0), 0.105),
                ball(up(1.02, 0.01), 0.06),
            ],
            4,
        );
        let seat = vec![
            ball(hip, 0.128),
            ball(shifted(figure, hip, -0.03 * scale, -0.035 * scale), 0.125),
        ];
        let knee = at(0.29, 0.30, 1.34 + 0.2 * rise);
        let ankle = at(0.07 - 0.04 * fold, 0.33, 0.945);
        let hip_near = nudge(figure, hip, side * 0.10 * scale);
        let thigh = smooth(
            &[ball(hip_near, 0.112), ball(mid(hip_near, knee, 0.5), 0.096), ball(knee, 0.070)],
            4,
        );
        let shin = smooth(
            &[
                ball(knee, 0.068),
                ball(mid(knee, ankle, 0.40), 0.066),
                ball(mid(knee, ankle, 0.8), 0.046),
                ball(ankle, 0.044),
            ],
            4,
        );
        let foot = vec![
            ball(shifted(figure, ankle, -0.05 * scale, -0.055 * scale), 0.034),
            ball(at(0.20 - 0.04 * fold, 0.33, 0.945), 0.030),
        ];
        let shoulder = nudge(figure, up(0.90, 0.01), side * 0.17 * scale);
        let hand = hand_place(figure, fold, side);
        let elbow = elbow_of(figure, shoulder, hand, 0.30 * scale, 0.27 * scale);
        let upper_arm =
            vec![ball(shoulder, 0.066), ball(mid(shoulder, elbow, 0.5), 0.055), ball(elbow, 0.046)];
        let forearm =
            vec![ball(elbow, 0.046), ball(mid(elbow, hand, 0.55), 0.040), ball(hand, 0.034)];
        let look = 0.35 * lean;
        let head_at = |forward: f64, upward: f64| {
            let base = up(1.04, 0.0);
            let (sin, cos) = look.sin_cos();
            shifted(
                figure,
                base,
                scale * (forward * cos + upward * sin),
                scale * (upward * cos - forward * sin),
            )
        };
        let head = ball(head_at(0.035, 0.155), 0.108);
        let neck = vec![ball(up(1.0, 0.0), 0.055), ball(head_at(0.02, 0.07), 0.052)];
        let peak =
            [head_at(0.10, 0.185), head_at(0.205, 0.15), head_at(0.20, 0.135), head_at(0.08, 0.15)];
        Self {
            torso,
            seat,
            thigh,
            shin,
            foot,
            upper_arm,
            forearm,
            neck,
            head,
            face: head_at(0.075, 0.10),
            peak,
            hand,
            lean,
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
    let following = figure.neck[figure.neck.len() * 2 / 5].at;
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
    let elbow = shifted(figure, shoulder, along * ua + aside * uu, along * uu - aside * ua);
    let share = along / distance;
    nudge(figure, elbow, 0.0 * share)
}

/// Who paints the rider, saddle and reins.
pub(super) struct RiderPainter<'a> {
    pub(super) light: &'a LightColours,
    pub(super) jacket: Colour,
}

const BREECHES: Colour = Colour::new(238.0, 232.0, 218.0);
const BOOTS: Colour = Colour::new(30.0, 26.0, 26.0);
const LEATHER: Colour = Colour::new(70.0, 42.0, 26.0);
const HELMET: Colour = Colour::new(26.0, 30.0, 40.0);
const SKIN: Colour = Colour::new(214.0, 168.0, 140.0);

impl RiderPainter<'_> {
    fn tone(&self, colour: Colour, by: f32) -> Colour {
        self.light.lit(colour).times(by)
    }

    /// Saddle cloth, saddle and girth: on the trunk, under the rider's leg.
    pub(super) fn saddle(&self, canvas: &mut Canvas<'_>, figure: &Figure) {
        let side = if figure.near == crate::marks::Lead::Left { 1.0 } else { -1.0 };
        let at = |ahead: f64, height: f64| figure.on_trunk(ahead, side * 0.20, height);
        let girth = [at(0.20, 1.30), at(0.22, 0.84)];
        canvas.line(&girth, 0.075 * figure.scale, self.tone(Colour::new(48.0, 34.0, 26.0), 1.0));
        let cloth = [
            at(0.40, 1.56),
            at(0.40, 1.40),
            at(0.36, 1.20),
            at(0.28, 1.13),
            at(-0.16, 1.13),
            at(-0.25, 1.18),
            at(-0.28, 1.50),
            at(-0.24, 1.575),
            at(0.06, 1.55),
        ];
        canvas.fill_polygon(&cloth, self.tone(Colour::new(236.0, 234.0, 230.0), 1.0));
        let trim = self.jacket.mix(Colour::BLACK, 0.1);
        canvas.line(&cloth[1..8], 0.018 * figure.scale, self.tone(trim, 1.0));
        let flap = [
            at(0.33, 1.545),
            at(0.395, 1.40),
            at(0.35, 1.24),
            at(0.24, 1.17),
            at(0.06, 1.18),
            at(-0.04, 1.30),
            at(-0.08, 1.46),
            at(-0.26, 1.60),
            at(-0.29, 1.645),
            at(-0.20, 1.645),
            at(0.0, 1.585),
            at(0.16, 1.60),
            at(0.27, 1.66),
            at(0.33, 1.64),
        ];
        canvas.fill_polygon(&flap, self.tone(LEATHER, 1.0));
        let shine = [at(-0.22, 1.625), at(-0.02, 1.575), at(0.15, 1.585), at(0.28, 1.645)];
        canvas.line(&shine, 0.014 * figure.scale, self.tone(LEATHER.mix(Colour::WHITE, 0.35), 1.0));
    }

    /// Far arm and rein, seen beyond the neck.
    pub(super) fn far_parts(&self, canvas: &mut Canvas<'_>, figure: &Figure, rider: &Rider) {
        let chains: [&[Ball]; 2] = [&rider.upper_arm, &rider.forearm];
        let shifted_chains: Vec<Vec<Ball>> = chains
            .iter()
            .map(|chain| {
                chain
                    .iter()
                    .map(|ball| Ball {
                        at: shifted(figure, ball.at, 0.05 * figure.scale, 0.0),
                        ..*ball
                    })
                    .collect()
            })
            .collect();
        let refs: Vec<&[Ball]> = shifted_chains.iter().map(Vec::as_slice).collect();
        if let Some(path) = canvas.chains(&refs) {
            canvas.fill(&path, self.tone(self.jacket, 0.55));
        }
    }

    /// The rider.
    pub(super) fn near_parts(&self, canvas: &mut Canvas<'_>, figure: &Figure, rider: &Rider) {
        let scale = figure.scale;
        let rein = self.tone(Colour::new(40.0, 26.0, 20.0), 1.0);
        canvas.line(&[figure.mouth, rider.hand], 0.016 * scale, rein);
        self.shaded(canvas, &[&rider.neck], self.tone(SKIN, 0.88));
        self.shaded(canvas, &[&rider.seat], self.tone(BREECHES, 0.92));
        self.shaded(canvas, &[&rider.torso], self.tone(self.jacket, 1.0));
        self.tails(canvas, figure, rider);
        self.shaded(canvas, &[&rider.thigh], self.tone(BREECHES, 1.0));
        self.stirrup(canvas, figure, rider);
        self.shaded(canvas, &[&rider.shin, &rider.foot], self.tone(BOOTS, 1.15));
        self.head(canvas, figure, rider);
        self.shaded(canvas, &[&rider.upper_arm, &rider.forearm], self.tone(self.jacket, 1.12));
        let glove = [Ball { at: rider.hand, radius: 0.040 * scale }];
        if let Some(path) = canvas.chains(&[&glove]) {
            canvas.fill(&path, self.tone(Colour::new(44.0, 38.0, 36.0), 1.0));
        }
    }

    /// Base colour, a dark lower side and a light upper side.
    fn shaded(&self, canvas: &mut Canvas<'_>, chains: &[&[Ball]], colour: Colour) {
        let Some(path) = canvas.chains(chains) else { return };
        canvas.fill(&path, colour);
        for chain in chains {
            for (dx, dy, share, tone) in [
                (0.30_f32, 0.34_f32, 0.55_f32, Colour::BLACK.fade(0.16)),
                (-0.26, -0.32, 0.52, self.light.sun.fade(0.13)),
            ] {
                let mut builder = resvg::tiny_skia::PathBuilder::new();
                let discs: Vec<_> = canvas
                    .discs(chain)
                    .into_iter()
                    .map(|d| super::canvas::Disc {
                        x: d.x + dx * d.r,
                        y: d.y + dy * d.r,
                        r: share * d.r,
                    })
                    .collect();
                super::canvas::add_chain(&mut builder, &discs);
                if let Some(path) = builder.finish() {
                    canvas.fill(&path, tone);
                }
            }
        }
    }

    /// The skirt of the jacket, lifted by the wind.
    fn tails(&self, canvas: &mut Canvas<'_>, figure: &Figure, rider: &Rider) {
        let scale = figure.scale;
        let waist = rider.torso[2].at;
        let back = shifted(figure, waist, -0.12 * scale, 0.02 * scale);
        let tip = shifted(figure, waist, -0.20 * scale, -0.15 * scale);
        let front = shifted(figure, waist, 0.11 * scale, -0.10 * scale);
        let low = shifted(figure, waist, 0.02 * scale, -0.16 * scale);
        canvas.fill_polygon(&[back, tip, low, front, waist], self.tone(self.jacket, 0.86));
    }

    fn stirrup(&self, canvas: &mut Canvas<'_>, figure: &Figure, rider: &Rider) {
        let scale = figure.scale;
        let sole = mid(rider.foot[0].at, rider.foot[1].at, 0.62);
        let low = shifted(figure, sole, 0.0, -0.03 * scale);
        let top = shifted(figure, sole, -0.02 * scale, 0.14 * scale);
        let iron = self.tone(Colour::new(188.0, 188.0, 192.0), 1.0);
        canvas.line(&[top, low], 0.016 * scale, iron);
        let heel = shifted(figure, low, -0.045 * scale, 0.0);
        let toe = shifted(figure, low, 0.045 * scale, 0.0);
        canvas.line(&[heel, toe], 0.02 * scale, iron);
    }

    fn head(&self, canvas: &mut Canvas<'_>, figure: &Figure, rider: &Rider) {
        let scale = figure.scale;
        let face = [Ball { at: rider.face, radius: 0.074 * scale }];
        if let Some(path) = canvas.chains(&[&face]) {
            canvas.fill(&path, self.tone(SKIN, 1.0));
        }
        let jaw = shifted(figure, rider.face, 0.02 * scale, -0.05 * scale);
        if let Some(path) = canvas.chains(&[&[Ball { at: jaw, radius: 0.046 * scale }]]) {
            canvas.fill(&path, self.tone(SKIN, 0.94));
        }
        let crown = shifted(figure, rider.head.at, -0.01 * scale, 0.02 * scale);
        let shell = [Ball { at: crown, radius: 0.112 * scale }];
        if let Some(path) = canvas.chains(&[&shell]) {
            let mask = self.above_brim(canvas, figure, rider);
            canvas.fill_with(&path, self.tone(HELMET, 1.0).shader(), mask.as_ref());
            let shine = shifted(figure, crown, -0.02 * scale, 0.05 * scale);
            let light = self.light.sun.fade(0.30);
            canvas.glow(shine, 0.06 * scale, 1.5, light, mask.as_ref());
        }
        canvas.fill_polygon(&rider.peak, self.tone(HELMET, 0.8));
        let ear = shifted(figure, rider.face, -0.05 * scale, 0.02 * scale);
        let chin = shifted(figure, rider.face, 0.01 * scale, -0.085 * scale);
        canvas.line(&[ear, chin], 0.010 * scale, self.tone(HELMET, 1.0));
    }

    /// Lets through what lies above the helmet's brim.
    fn above_brim(
        &self,
        canvas: &Canvas<'_>,
        figure: &Figure,
        rider: &Rider,
    ) -> Option<resvg::tiny_skia::Mask> {
        let scale = figure.scale;
        let look = 0.35 * rider.lean;
        let (sin, cos) = look.sin_cos();
        let point = |forward: f64, up: f64| {
            shifted(
                figure,
                rider.head.at,
                scale * (forward * cos + up * sin),
                scale * (up * cos - forward * sin),
            )
        };
        let window = [
            point(0.30, -0.01),
            point(0.0, -0.03),
            point(-0.08, -0.085),
            point(-0.30, -0.085),
            point(-0.30, 0.35),
            point(0.30, 0.35),
        ];
        canvas.polygon(&window).and_then(|path| canvas.mask(&path))
    }
}
