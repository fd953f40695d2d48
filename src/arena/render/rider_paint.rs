//! Paints rider, saddle and reins.

use resvg::tiny_skia::{Mask, PathBuilder};

use super::canvas::{Canvas, Disc, add_chain};
use super::colour::{Colour, LightColours};
use super::figure::{Ball, Figure};
use super::horse::{mid, shifted};
use super::rider::Rider;
use crate::marks::Lead;

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
        let side = if figure.near == Lead::Left { 1.0 } else { -1.0 };
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
        canvas.line(&[figure.neck.mouth, rider.hand], 0.016 * scale, rein);
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
                (0.30_f32, 0.34_f32, 0.55_f32, Colour::BLACK.fade(0.13)),
                (-0.26, -0.32, 0.52, self.light.sun.fade(0.09)),
            ] {
                let mut builder = PathBuilder::new();
                let discs: Vec<_> = canvas
                    .discs(chain)
                    .into_iter()
                    .map(|d| Disc { x: d.x + dx * d.r, y: d.y + dy * d.r, r: share * d.r })
                    .collect();
                add_chain(&mut builder, &discs);
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
    fn above_brim(&self, canvas: &Canvas<'_>, figure: &Figure, rider: &Rider) -> Option<Mask> {
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
