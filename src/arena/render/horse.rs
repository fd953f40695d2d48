//! Paints the horse: far limbs dark, then trunk, neck and head as one lit shape, near limbs,
//! mane and tack.

use resvg::tiny_skia::Mask;

use super::canvas::{Canvas, Disc, add_chain};
use super::colour::{CoatColours, Colour, LightColours};
use super::figure::{Ball, Figure};
use super::leg::Leg;
use crate::marks::Lead;
use crate::scene::ScenePoint;

/// Who paints.
pub(super) struct HorsePainter<'a> {
    pub(super) coat: CoatColours,
    pub(super) light: &'a LightColours,
    pub(super) lead: Lead,
}

impl HorsePainter<'_> {
    /// What lies behind the trunk: tail and far limbs.
    pub(super) fn far_parts(&self, canvas: &mut Canvas<'_>, figure: &Figure) {
        self.tail(canvas, figure);
        let dark = 0.56;
        for leg in figure.legs_on(self.lead, false) {
            self.leg(canvas, figure, leg, dark);
        }
        let ear = self.tone(self.coat.body, 0.6);
        canvas.fill_polygon(&figure.neck.ears[0], ear);
    }

    /// Trunk, neck, head, near limbs, mane and tack.
    pub(super) fn near_parts(&self, canvas: &mut Canvas<'_>, figure: &Figure) {
        self.trunk(canvas, figure);
        for leg in figure.legs_on(self.lead, true) {
            self.leg(canvas, figure, leg, 1.0);
        }
        self.muscle(canvas, figure);
        self.face(canvas, figure);
        self.mane(canvas, figure);
        self.bridle(canvas, figure);
    }

    fn tone(&self, colour: Colour, by: f32) -> Colour {
        self.light.lit(colour).times(by)
    }

    fn outline<'a>(&self, figure: &'a Figure) -> [&'a [Ball]; 5] {
        [&figure.trunk, &figure.withers, &figure.neck.neck, &figure.neck.head, &figure.neck.jaw]
    }

    fn trunk(&self, canvas: &mut Canvas<'_>, figure: &Figure) {
        let Some(path) = canvas.chains(&self.outline(figure)) else { return };
        let body = self.coat.body;
        let shader = canvas.gradient(
            figure.on_trunk(0.0, 0.0, 1.66),
            figure.on_trunk(0.0, 0.0, 0.82),
            &[
                (0.0, self.tone(body, 1.22)),
                (0.30, self.tone(body, 1.10)),
                (0.62, self.tone(body, 0.90)),
                (0.86, self.tone(body, 0.62)),
                (1.0, self.tone(body, 0.46)),
            ],
        );
        canvas.fill_with(&path, shader, None);
    }

    /// Highlights and hollows, clipped to the outline.
    fn muscle(&self, canvas: &mut Canvas<'_>, figure: &Figure) {
        let legs: Vec<&[Ball]> =
            figure.legs_on(self.lead, true).map(|leg| leg.upper.as_slice()).collect();
        let all: Vec<&[Ball]> = self.outline(figure).into_iter().chain(legs).collect();
        let Some(mask) = canvas.chains(&all).and_then(|path| canvas.mask(&path)) else { return };
        let mask = Some(&mask);
        let scale = figure.scale;
        let high = self.light.lit(self.coat.body.mix(Colour::WHITE, 0.55));
        // Hollows: on a pale coat a little darker, on a dark one nearly black.
        let pale = (self.coat.body.g / 255.0).powi(2);
        let deep = self.coat.body.times(0.22 + 0.45 * pale).fade(1.0 - 0.3 * pale);
        let spots: [(f64, f64, f64, f32, Colour); 12] = [
            (-0.55, 1.44, 0.26, 1.2, high.fade(0.34)),
            (-0.62, 1.20, 0.20, 0.9, high.fade(0.16)),
            (0.05, 1.40, 0.24, 1.9, high.fade(0.20)),
            (0.56, 1.32, 0.19, 0.8, high.fade(0.30)),
            (0.30, 1.52, 0.14, 1.2, high.fade(0.18)),
            (-0.30, 1.10, 0.17, 0.6, deep.fade(0.34)),
            (0.36, 1.00, 0.16, 0.8, deep.fade(0.42)),
            (0.36, 1.34, 0.14, 0.5, deep.fade(0.26)),
            (-0.42, 0.96, 0.14, 1.0, deep.fade(0.34)),
            (0.05, 0.86, 0.16, 2.6, deep.fade(0.34)),
            (-0.74, 1.12, 0.10, 0.7, deep.fade(0.20)),
            (0.74, 1.20, 0.10, 0.6, deep.fade(0.16)),
        ];
        for (ahead, height, radius, stretch, colour) in spots {
            let at = figure.on_trunk(ahead, 0.0, height);
            canvas.glow(at, scale * radius, stretch, colour, mask);
        }
        self.neck_light(canvas, figure, mask, high, deep);
    }

    fn neck_light(
        &self,
        canvas: &mut Canvas<'_>,
        figure: &Figure,
        mask: Option<&Mask>,
        high: Colour,
        deep: Colour,
    ) {
        let scale = figure.scale;
        let along = |share: f64| {
            figure.neck.neck[(share * (figure.neck.neck.len() - 1) as f64) as usize].at
        };
        canvas.glow(along(0.30), scale * 0.17, 1.2, high.fade(0.22), mask);
        canvas.glow(along(0.62), scale * 0.11, 1.2, high.fade(0.22), mask);
        let throat = mid(along(0.85), figure.neck.jaw[0].at, 0.6);
        canvas.glow(throat, scale * 0.09, 0.8, deep.fade(0.40), mask);
        let cheek = figure.neck.jaw[0].at;
        canvas.glow(cheek, scale * 0.09, 1.0, high.fade(0.20), mask);
    }

    fn face(&self, canvas: &mut Canvas<'_>, figure: &Figure) {
        let outline: [&[Ball]; 2] = [&figure.neck.head, &figure.neck.jaw];
        let mask = canvas.chains(&outline).and_then(|path| canvas.mask(&path));
        let scale = figure.scale;
        let nose = figure.neck.head[figure.neck.head.len() - 1].at;
        let muzzle = self.tone(self.coat.muzzle, 0.95);
        canvas.glow(nose, scale * 0.17, 1.0, muzzle, mask.as_ref());
        let dark = Colour::new(16.0, 12.0, 12.0);
        let dot = |at: ScenePoint, radius: f64| [Ball { at, radius: scale * radius }];
        if let Some(path) = canvas.chains(&[&dot(figure.neck.eye, 0.021)]) {
            canvas.fill(&path, dark);
        }
        if let Some(path) = canvas.chains(&[&dot(figure.neck.nostril, 0.016)]) {
            canvas.fill(&path, dark.fade(0.8));
        }
        let ear = self.tone(self.coat.body, 1.0);
        canvas.fill_polygon(&figure.neck.ears[1], ear);
    }

    /// Short tufts along the crest that fall to the near side and lift with the speed.
    fn mane(&self, canvas: &mut Canvas<'_>, figure: &Figure) {
        let hair = self.tone(self.coat.hair, 1.0);
        let turn = std::f64::consts::TAU;
        for (i, pair) in figure.neck.crest.windows(2).enumerate() {
            for part in 0..3 {
                let share = f64::from(part) / 3.0;
                let root = mid(pair[0], pair[1], share);
                let next = mid(pair[0], pair[1], share + 0.55);
                let lift = (turn * (figure.body.phase + 0.13 * i as f64)).sin();
                let (dx, dz) = (-0.10 - 0.02 * lift, -0.075 + 0.035 * lift);
                let tip = shifted(figure, root, figure.scale * dx, figure.scale * dz);
                let under = shifted(figure, next, -0.02 * figure.scale, -0.055 * figure.scale);
                let shade = if part % 2 == 0 { 1.0 } else { 1.22 };
                canvas.fill_polygon(&[root, next, under, tip], hair.times(shade));
            }
        }
        let poll = figure.neck.crest[figure.neck.crest.len() - 1];
        let fringe = shifted(figure, poll, 0.13 * figure.scale, -0.12 * figure.scale);
        let brow = shifted(figure, poll, 0.03 * figure.scale, 0.0);
        canvas.fill_polygon(&[poll, brow, fringe], hair);
    }

    fn bridle(&self, canvas: &mut Canvas<'_>, figure: &Figure) {
        let leather = self.tone(Colour::new(44.0, 28.0, 20.0), 1.0);
        let width = 0.018 * figure.scale;
        let behind_ear =
            shifted(figure, figure.neck.poll, -0.03 * figure.scale, 0.04 * figure.scale);
        canvas.line(&[behind_ear, figure.neck.mouth], width, leather);
        let jaw = figure.neck.jaw[figure.neck.jaw.len() * 2 / 3].at;
        let nose = figure.neck.head[figure.neck.head.len() * 2 / 3];
        let bridge = shifted(figure, nose.at, 0.04 * figure.scale, 0.05 * figure.scale);
        canvas.line(&[jaw, bridge], width * 1.3, leather);
        canvas.line(&[behind_ear, figure.neck.eye], width * 0.8, leather.fade(0.0));
    }

    /// Five locks of different length, the middle ones light.
    fn tail(&self, canvas: &mut Canvas<'_>, figure: &Figure) {
        let hair = self.tone(self.coat.hair, 0.90);
        let light = self.tone(self.coat.hair.mix(Colour::WHITE, 0.12), 1.08);
        let locks: [(f64, f64, f64, Colour); 5] = [
            (0.045, 0.55, 0.80, hair),
            (-0.045, 0.55, 0.90, hair),
            (0.0, 0.85, 1.0, hair),
            (0.025, 0.30, 0.92, light),
            (-0.02, 0.26, 0.96, light),
        ];
        for (aside, width, length, colour) in locks {
            let count = (length * figure.tail.len() as f64) as usize;
            let lock: Vec<Ball> = figure.tail[..count.max(2)]
                .iter()
                .enumerate()
                .map(|(i, ball)| {
                    // Locks part towards the tip.
                    let part = i as f64 / count as f64;
                    let up = figure.scale * aside * (0.4 + 1.6 * part * part);
                    let taper = (1.0 - part.powi(4)).max(0.08);
                    Ball {
                        at: shifted(figure, ball.at, 0.5 * up, up),
                        radius: ball.radius * width * taper,
                    }
                })
                .collect();
            if let Some(path) = canvas.chains(&[&lock]) {
                canvas.fill(&path, colour);
            }
        }
    }

    fn leg(&self, canvas: &mut Canvas<'_>, figure: &Figure, leg: &Leg, by: f32) {
        let (body, points) = (self.tone(self.coat.body, by), self.tone(self.coat.points, by));
        let (top, joint) = (leg.upper[0].at, leg.upper[leg.upper.len() - 1].at);
        let upper = canvas.chains(&[&leg.upper]);
        let shader = canvas.gradient(
            top,
            joint,
            &[
                // The near thigh and shoulder melt into the trunk.
                (0.0, body.times(0.98).fade(if by < 1.0 { 1.0 } else { 0.0 })),
                (0.34, body.times(0.96)),
                (0.66, body.times(0.90)),
                (1.0, points),
            ],
        );
        if let Some(path) = upper {
            canvas.fill_with(&path, shader, None);
        }
        if let Some(path) = canvas.chains(&[&leg.lower]) {
            canvas.fill(&path, points);
        }
        self.roundness(canvas, &leg.lower, by);
        let from_thigh = leg.upper.len() / 2;
        self.roundness(canvas, &leg.upper[from_thigh..], by);
        if self.coat.socks {
            let sock = &leg.lower[leg.lower.len() * 2 / 3..];
            if let Some(path) = canvas.chains(&[sock]) {
                canvas.fill(&path, self.tone(Colour::new(236.0, 230.0, 222.0), by));
            }
        }
        self.boot(canvas, figure, leg, by);
        let horn = self.tone(Colour::new(58.0, 50.0, 44.0), by.max(0.7));
        canvas.fill_polygon(&leg.hoof, horn);
    }

    /// A lighter band on the lit side and a darker one opposite.
    fn roundness(&self, canvas: &mut Canvas<'_>, chain: &[Ball], by: f32) {
        let shift = |discs: Vec<Disc>, dx: f32, dy: f32, share: f32| -> Vec<Disc> {
            let moved = |d: Disc| Disc { x: d.x + dx * d.r, y: d.y + dy * d.r, r: share * d.r };
            discs.into_iter().map(moved).collect()
        };
        let bands = [
            (0.42, 0.10, 0.52, Colour::BLACK.fade(0.22)),
            (-0.34, -0.16, 0.50, self.light.sun.fade(0.10 * by)),
            (-0.44, -0.20, 0.26, self.light.sun.fade(0.10 * by)),
        ];
        for (dx, dy, share, colour) in bands {
            let mut builder = resvg::tiny_skia::PathBuilder::new();
            add_chain(&mut builder, &shift(canvas.discs(chain), dx, dy, share));
            if let Some(path) = builder.finish() {
                canvas.fill(&path, colour);
            }
        }
    }

    /// A boot that protects the cannon.
    fn boot(&self, canvas: &mut Canvas<'_>, figure: &Figure, leg: &Leg, by: f32) {
        let (top, bottom) = leg.cannon;
        let boot: Vec<Ball> = [(0.12, 0.055), (0.55, 0.056), (1.0, 0.062)]
            .map(|(share, radius)| Ball {
                at: mid(top, bottom, share),
                radius: figure.scale * radius,
            })
            .to_vec();
        let Some(path) = canvas.chains(&[&boot]) else { return };
        canvas.fill(&path, self.tone(Colour::new(40.0, 46.0, 66.0), by));
        self.roundness(canvas, &boot, by);
        let strap = mid(top, bottom, 0.5);
        let ahead = shifted(figure, strap, 0.05 * figure.scale, 0.0);
        let behind = shifted(figure, strap, -0.05 * figure.scale, 0.0);
        canvas.line(&[ahead, behind], 0.016 * figure.scale, self.tone(Colour::WHITE, 0.7 * by));
    }
}

/// `point` moved ahead and up, in the body's upright plane.
pub(super) fn shifted(figure: &Figure, point: ScenePoint, ahead: f64, up: f64) -> ScenePoint {
    let (sin, cos) = figure.body.heading.sin_cos();
    ScenePoint::new(point.x + ahead * cos, point.y + ahead * sin, point.z + up)
}

pub(super) fn mid(a: ScenePoint, b: ScenePoint, share: f64) -> ScenePoint {
    ScenePoint::from(a.vector() * (1.0 - share) + b.vector() * share)
}
