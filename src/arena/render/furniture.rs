//! Rail, poles and fence: boxes and round bars with painted bands, and their shadows.

use super::canvas::Canvas;
use super::colour::{Colour, LightColours};
use super::timber::{Timber, WOOD};
use crate::arena::references::TruePole;
use crate::arena::references::poles;
use crate::arena::scene::Scene;
use crate::arena::surroundings::{FOOT_M, RAIL_M, Surroundings, UPRIGHT_M, Wing};
use crate::marks::FenceKind;
use crate::scene::ScenePoint;

/// Everything built that stands still.
pub(super) struct Furniture {
    surroundings: Surroundings,
    light: LightColours,
    timber: Timber,
    poles: Vec<TruePole>,
    pole_radius: f64,
    fence: crate::arena::scene::FenceBuild,
}

const PAINT: Colour = Colour::new(238.0, 234.0, 226.0);
const RED: Colour = Colour::new(186.0, 52.0, 44.0);
const BLUE: Colour = Colour::new(44.0, 88.0, 150.0);
const GREEN: Colour = Colour::new(52.0, 110.0, 82.0);

/// Which half of the fence: beyond the horse or before it.
#[derive(Clone, Copy, PartialEq)]
enum Half {
    Far,
    Near,
}

impl Furniture {
    pub(super) fn of(scene: &Scene, surroundings: Surroundings, light: LightColours) -> Self {
        Self {
            surroundings,
            light,
            timber: Timber { light },
            poles: poles(scene),
            pole_radius: scene.poles.diameter_m / 2.0,
            fence: scene.fence,
        }
    }

    /// What lies beyond the horse: rail, poles on the ground, far half of the fence; and all
    /// shadows of what stands still.
    pub(super) fn paint_far(&self, canvas: &mut Canvas<'_>) {
        self.rail(canvas);
        self.fence_shadows(canvas);
        for pole in self.poles.iter().filter(|pole| !self.is_near(pole)) {
            self.ground_pole(canvas, pole);
        }
        self.fence_half(canvas, Half::Far);
    }

    /// What stands before the horse.
    pub(super) fn paint_near(&self, canvas: &mut Canvas<'_>) {
        for pole in self.poles.iter().filter(|pole| self.is_near(pole)) {
            self.ground_pole(canvas, pole);
        }
        self.fence_half(canvas, Half::Near);
    }

    fn is_near(&self, pole: &TruePole) -> bool {
        let away = self.surroundings.away;
        away * pole.left.y < -0.6 && away * pole.right.y < -0.6
    }

    /// Where the shadow of a point falls.
    pub(super) fn shadow(&self, point: ScenePoint) -> ScenePoint {
        shadow_of(&self.light, self.surroundings.away, point)
    }

    fn rail(&self, canvas: &mut Canvas<'_>) {
        let around = &self.surroundings;
        let shade = Colour::BLACK.fade(0.35 * self.light.shadow);
        for post in &around.posts {
            canvas.line(&[*post, self.shadow(around.above(*post, RAIL_M))], 0.09, shade);
        }
        for pair in around.posts.windows(2) {
            let board = [
                around.above(pair[0], 0.0),
                around.above(pair[1], 0.0),
                around.above(pair[1], 0.24),
                around.above(pair[0], 0.24),
            ];
            canvas.fill_polygon(&board, self.light.lit(WOOD.times(0.78)));
            for height in [0.68, RAIL_M] {
                let (a, b) = (around.above(pair[0], height), around.above(pair[1], height));
                self.timber.bar(canvas, (a, b), 0.045, &[PAINT.times(0.96)]);
            }
        }
        for post in &around.posts {
            self.timber.bar(canvas, (*post, around.above(*post, RAIL_M + 0.12)), 0.06, &[PAINT]);
        }
    }

    fn ground_pole(&self, canvas: &mut Canvas<'_>, pole: &TruePole) {
        let radius = self.pole_radius;
        let drop = |p: ScenePoint| ScenePoint { z: 0.002, ..p };
        let over = |p: ScenePoint, up: f64| self.shadow(ScenePoint { z: up, ..p });
        let shade = Colour::BLACK.fade(self.light.shadow);
        let long = [
            drop(pole.left),
            drop(pole.right),
            over(pole.right, 1.9 * radius),
            over(pole.left, 1.9 * radius),
        ];
        canvas.fill_polygon(&long, shade);
        canvas.line(&[drop(pole.left), drop(pole.right)], 1.7 * radius, shade);
        let bands = [BLUE, PAINT, BLUE, PAINT, BLUE, PAINT, BLUE];
        self.timber.bar(canvas, (pole.left, pole.right), radius, &bands);
        let end = if self.surroundings.away > 0.0 {
            (pole.right, pole.left)
        } else {
            (pole.left, pole.right)
        };
        self.timber.end_face(canvas, end.0, end.1, radius);
    }

    fn fence_half(&self, canvas: &mut Canvas<'_>, half: Half) {
        let away = self.surroundings.away;
        let is_far = |wing: &&Wing| (away * wing.inner_y > 0.0) == (half == Half::Far);
        let planes: &[f64] =
            if self.fence.far_x() > 0.0 { &[0.0, self.fence.far_x()] } else { &[0.0] };
        // The plane farther along the line of sight first.
        let mut planes = planes.to_vec();
        let eye_x = canvas.camera.pose.position.x;
        planes.sort_by(|a, b| (b - eye_x).abs().total_cmp(&(a - eye_x).abs()));
        if half == Half::Far {
            for wing in self.surroundings.wings.iter().filter(is_far) {
                self.wing(canvas, wing);
            }
        }
        for x in planes {
            self.rails(canvas, x, half);
        }
        if half == Half::Near {
            for wing in self.surroundings.wings.iter().filter(is_far) {
                self.wing(canvas, wing);
            }
        }
    }

    /// The rails of one plane, the half beyond or before the middle.
    fn rails(&self, canvas: &mut Canvas<'_>, x: f64, half: Half) {
        let away = self.surroundings.away;
        let width = self.fence.width_m / 2.0;
        // Far ends first.
        let (from, to) = if half == Half::Far { (away * width, 0.0) } else { (0.0, -away * width) };
        let radius = 0.05;
        let top = self.fence.height_m - radius;
        let bands = |main: Colour| -> [Colour; 4] {
            if half == Half::Far { [main, PAINT, main, PAINT] } else { [PAINT, main, PAINT, main] }
        };
        if self.fence.ground_line && x == 0.0 {
            let at = |y: f64| ScenePoint::new(-0.0, y, radius);
            self.timber.bar(canvas, (at(from), at(to)), radius, &bands(GREEN));
        }
        if self.fence.kind == FenceKind::CrossRail {
            // Each rail rises from one foot to the other upright.
            let height = |y: f64, rising: f64| {
                let share = f64::midpoint(1.0, rising * away * y / width);
                radius + 2.0 * (self.fence.height_m - 2.0 * radius) * share
            };
            for (rising, colour) in [(1.0, RED), (-1.0, RED)] {
                let at = |y: f64| ScenePoint::new(x, y, height(y, rising));
                self.timber.bar(canvas, (at(from), at(to)), radius, &bands(colour));
            }
            return;
        }
        let front = x == 0.0;
        let count = if front { ((top / 0.31) as u32).clamp(1, 4) } else { 1 };
        for i in (0..count).rev() {
            let z = top - 0.30 * f64::from(i);
            let at = |y: f64| ScenePoint::new(x, y, z);
            self.timber.bar(canvas, (at(from), at(to)), radius, &bands(RED));
        }
    }

    fn wing(&self, canvas: &mut Canvas<'_>, wing: &Wing) {
        let outward = (wing.outer_y - wing.inner_y).signum();
        let half = UPRIGHT_M / 2.0;
        let upright = |y: f64| if outward > 0.0 { (y, y + UPRIGHT_M) } else { (y - UPRIGHT_M, y) };
        let cuboid_at =
            |canvas: &mut Canvas<'_>, y: (f64, f64), z: (f64, f64), deep: f64, colour: Colour| {
                self.timber.cuboid(
                    canvas,
                    [wing.x - deep, y.0, z.0],
                    [wing.x + deep, y.1, z.1],
                    colour,
                );
            };
        let wide = (wing.outer_y - wing.inner_y).abs();
        let mut parts: Vec<(f64, f64)> = vec![(0.0, wing.inner_m)];
        if wide > 2.0 * UPRIGHT_M {
            for k in 1..5 {
                let share = f64::from(k) / 5.0;
                parts.push((
                    share * (wide - UPRIGHT_M),
                    wing.inner_m + share * (wing.outer_m - wing.inner_m) - 0.04,
                ));
            }
            parts.push((wide - UPRIGHT_M, wing.outer_m));
        }
        // Farther slats first.
        let near_is_outer = self.surroundings.away * outward < 0.0;
        if !near_is_outer {
            parts.reverse();
        }
        let last = parts.len() - 1;
        for (i, (out, high)) in parts.iter().enumerate() {
            let begin = wing.inner_y + outward * out;
            let is_upright = *out == 0.0 || i == last && near_is_outer || i == 0 && !near_is_outer;
            if is_upright {
                let foot = upright(begin);
                let foot = (foot.0 + 0.01, foot.1 - 0.01);
                self.timber.cuboid(
                    canvas,
                    [wing.x - FOOT_M, foot.0, 0.0],
                    [wing.x + FOOT_M, foot.1, 0.07],
                    BLUE.times(0.8),
                );
                cuboid_at(canvas, upright(begin), (0.0, *high), half, BLUE);
            } else {
                let y = upright(begin);
                cuboid_at(canvas, (y.0 + 0.015, y.1 - 0.015), (0.22, *high), 0.02, PAINT);
            }
        }
        if wide > 2.0 * UPRIGHT_M {
            let y = (wing.inner_y.min(wing.outer_y), wing.inner_y.max(wing.outer_y));
            cuboid_at(canvas, y, (0.20, 0.29), 0.03, BLUE.times(0.95));
            cuboid_at(canvas, y, (0.62, 0.70), 0.03, BLUE.times(0.95));
        }
    }

    fn fence_shadows(&self, canvas: &mut Canvas<'_>) {
        let shade = Colour::BLACK.fade(0.85 * self.light.shadow);
        for wing in &self.surroundings.wings {
            let corner = |y: f64, z: f64| self.shadow(ScenePoint::new(wing.x, y, z));
            let panel = [
                corner(wing.inner_y, 0.0),
                corner(wing.inner_y, wing.inner_m),
                corner(wing.outer_y, wing.outer_m),
                corner(wing.outer_y, 0.0),
            ];
            canvas.fill_polygon(&panel, shade.fade(0.75));
        }
        let width = self.fence.width_m / 2.0;
        let planes: &[f64] =
            if self.fence.far_x() > 0.0 { &[0.0, self.fence.far_x()] } else { &[0.0] };
        for &x in planes {
            let count = if x == 0.0 { 3 } else { 1 };
            for i in 0..count {
                let z = self.fence.height_m - 0.05 - 0.30 * f64::from(i);
                if z > 0.05 {
                    let end = |y: f64| self.shadow(ScenePoint::new(x, y, z));
                    canvas.line(&[end(-width), end(0.0), end(width)], 0.04, shade.fade(0.8));
                }
            }
        }
    }
}

/// Where the shadow of a point falls on the ground.
pub(super) fn shadow_of(light: &LightColours, away: f64, point: ScenePoint) -> ScenePoint {
    ScenePoint::new(
        point.x + point.z * light.along_per_m,
        point.y + away * point.z * light.away_per_m,
        0.0,
    )
}
