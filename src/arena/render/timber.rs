//! Round bars with painted bands and boxes, lit.

use resvg::tiny_skia::PathBuilder;

use super::canvas::{Canvas, Disc, screen_gradient};
use super::colour::{Colour, LightColours};
use crate::scene::ScenePoint;

/// Raw wood.
pub(super) const WOOD: Colour = Colour::new(150.0, 118.0, 82.0);

/// What is built of wood, in one light.
pub(super) struct Timber {
    pub(super) light: LightColours,
}

impl Timber {
    /// The round end of a bar, seen from beyond `end`.
    pub(super) fn end_face(
        &self,
        canvas: &mut Canvas<'_>,
        end: ScenePoint,
        other: ScenePoint,
        radius: f64,
    ) {
        let axis = (end.vector() - other.vector()).normalize();
        let side = nalgebra::Vector3::z().cross(&axis).normalize();
        let up = axis.cross(&side);
        let ring = |share: f64| -> Vec<ScenePoint> {
            (0..20)
                .map(|i| {
                    let (sin, cos) = (std::f64::consts::TAU * f64::from(i) / 20.0).sin_cos();
                    ScenePoint::from(end.vector() + share * radius * (side * cos + up * sin))
                })
                .collect()
        };
        canvas.fill_polygon(&ring(1.0), self.light.lit(WOOD.times(0.86)));
        canvas.fill_polygon(&ring(0.72), self.light.lit(WOOD.times(1.28)));
    }

    /// A round bar with bands of colour from `ends.0` to `ends.1`, lit from above.
    pub(super) fn bar(
        &self,
        canvas: &mut Canvas<'_>,
        ends: (ScenePoint, ScenePoint),
        radius: f64,
        bands: &[Colour],
    ) {
        let (a, b) = (ends.0.vector(), ends.1.vector());
        let disc = |share: f64| -> Option<Disc> {
            let spot = canvas.spot(ScenePoint::from(a + (b - a) * share))?;
            Some(Disc { x: spot.x, y: spot.y, r: spot.per_m * radius as f32 })
        };
        let count = bands.len();
        let mut paths = Vec::with_capacity(count);
        for (i, colour) in bands.iter().enumerate() {
            let (from, to) = (i as f64 / count as f64, (i + 1) as f64 / count as f64);
            let (Some(from), Some(to)) = (disc(from), disc(to)) else { continue };
            paths.push((from, to, *colour));
        }
        for (from, to, colour) in paths {
            self.bar_band(canvas, &from, &to, colour);
        }
    }

    fn bar_band(&self, canvas: &mut Canvas<'_>, from: &Disc, to: &Disc, colour: Colour) {
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let length = dx.hypot(dy);
        let mut builder = PathBuilder::new();
        if length < 0.3 * from.r {
            builder.push_circle(from.x, from.y, from.r);
        } else {
            // Across the bar, upwards on the picture (to the left for an upright bar).
            let (mut nx, mut ny) = (dy / length, -dx / length);
            if ny > 0.25 || (ny.abs() <= 0.25 && nx > 0.0) {
                (nx, ny) = (-nx, -ny);
            }
            // Bars thinner than a pixel keep their light but fade.
            let thin = |r: f32| r.max(0.5);
            let (rf, rt) = (thin(from.r), thin(to.r));
            builder.move_to(from.x + nx * rf, from.y + ny * rf);
            builder.line_to(to.x + nx * rt, to.y + ny * rt);
            builder.line_to(to.x - nx * rt, to.y - ny * rt);
            builder.line_to(from.x - nx * rf, from.y - ny * rf);
            builder.close();
            let fade = ((from.r + to.r) * 1.0).min(1.0);
            let lit = self.light.lit(colour).fade(fade);
            let stops = [
                (0.0, lit.times(1.02)),
                (0.28, lit.times(1.10)),
                (0.62, lit.times(0.82)),
                (1.0, lit.times(0.52)),
            ];
            let shader = screen_gradient(
                (from.x + nx * rf, from.y + ny * rf),
                (from.x - nx * rf, from.y - ny * rf),
                &stops,
            );
            if let (Some(path), Some(shader)) = (builder.finish(), shader) {
                canvas.fill_with(&path, shader, None);
            }
            return;
        }
        if let Some(path) = builder.finish() {
            canvas.fill(&path, self.light.lit(colour));
        }
    }

    /// A box between two corners; only the faces that the camera sees.
    pub(super) fn cuboid(
        &self,
        canvas: &mut Canvas<'_>,
        low: [f64; 3],
        high: [f64; 3],
        colour: Colour,
    ) {
        let eye = canvas.camera.pose.position;
        let eye = [eye.x, eye.y, eye.z];
        for axis in 0..3 {
            let (side, face) = if eye[axis] < low[axis] {
                (low[axis], -1)
            } else if eye[axis] > high[axis] {
                (high[axis], 1)
            } else {
                continue;
            };
            let (u, v) = ((axis + 1) % 3, (axis + 2) % 3);
            let corners =
                [(low[u], low[v]), (high[u], low[v]), (high[u], high[v]), (low[u], high[v])].map(
                    |(a, b)| {
                        let mut p = [0.0; 3];
                        p[axis] = side;
                        p[u] = a;
                        p[v] = b;
                        ScenePoint::new(p[0], p[1], p[2])
                    },
                );
            // The light travels ahead along x and away along y, and falls.
            let shade = match (axis, face) {
                (0, -1) => 0.92,
                (0, _) => 0.58,
                (1, _) => 0.86,
                _ => 1.06,
            };
            canvas.fill_polygon(&corners, self.light.lit(colour).times(shade));
        }
    }
}
