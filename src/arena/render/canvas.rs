//! Draws things that stand in the scene onto a picture: balls, chains of balls, polygons.
//!
//! Everything is projected through the one camera; radii shrink with depth. Chains become one
//! closed path (discs and the bands that touch them), so overlaps do not show.

use resvg::tiny_skia::{
    FillRule, GradientStop, LinearGradient, Mask, Paint, Path, PathBuilder, Pixmap, Point,
    RadialGradient, Shader, SpreadMode, Stroke, Transform,
};

use super::colour::Colour;
use super::figure::Ball;
use crate::scene::{Camera, ScenePoint};

/// A picture, or a part of one, that draws through a camera.
pub(super) struct Canvas<'a> {
    pub(super) pixels: &'a mut Pixmap,
    pub(super) camera: Camera,
    /// Where the part begins on the whole picture.
    pub(super) origin: (f32, f32),
}

/// A projected point and how many pixels a metre spans there.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spot {
    pub(super) x: f32,
    pub(super) y: f32,
    pub(super) per_m: f32,
}

/// A circle on the picture.
#[derive(Clone, Copy, Debug)]
pub(super) struct Disc {
    pub(super) x: f32,
    pub(super) y: f32,
    pub(super) r: f32,
}

/// Nearer things are not drawn, metres.
const NEAREST_M: f64 = 0.4;

impl Canvas<'_> {
    pub(super) fn spot(&self, point: ScenePoint) -> Option<Spot> {
        spot(&self.camera, self.origin, point)
    }

    pub(super) fn discs(&self, chain: &[Ball]) -> Vec<Disc> {
        chain
            .iter()
            .filter_map(|ball| {
                let spot = self.spot(ball.at)?;
                Some(Disc { x: spot.x, y: spot.y, r: spot.per_m * ball.radius as f32 })
            })
            .collect()
    }

    /// One path around several chains.
    pub(super) fn chains(&self, chains: &[&[Ball]]) -> Option<Path> {
        let mut builder = PathBuilder::new();
        for chain in chains {
            add_chain(&mut builder, &self.discs(chain));
        }
        builder.finish()
    }

    /// A closed polygon.
    pub(super) fn polygon(&self, points: &[ScenePoint]) -> Option<Path> {
        let mut builder = PathBuilder::new();
        for (i, point) in points.iter().enumerate() {
            let spot = self.spot(*point)?;
            if i == 0 { builder.move_to(spot.x, spot.y) } else { builder.line_to(spot.x, spot.y) }
        }
        builder.close();
        builder.finish()
    }

    pub(super) fn fill(&mut self, path: &Path, colour: Colour) {
        self.fill_with(path, colour.shader(), None);
    }

    pub(super) fn fill_with(&mut self, path: &Path, shader: Shader<'_>, mask: Option<&Mask>) {
        let paint = Paint { shader, anti_alias: true, ..Paint::default() };
        self.pixels.fill_path(path, &paint, FillRule::Winding, Transform::identity(), mask);
    }

    pub(super) fn fill_polygon(&mut self, points: &[ScenePoint], colour: Colour) {
        if let Some(path) = self.polygon(points) {
            self.fill(&path, colour);
        }
    }

    /// A line of `width_m`.
    pub(super) fn line(&mut self, points: &[ScenePoint], width_m: f64, colour: Colour) {
        let spots: Vec<Spot> = points.iter().filter_map(|point| self.spot(*point)).collect();
        if spots.len() < points.len() || spots.len() < 2 {
            return;
        }
        let mut builder = PathBuilder::new();
        builder.move_to(spots[0].x, spots[0].y);
        for spot in &spots[1..] {
            builder.line_to(spot.x, spot.y);
        }
        let Some(path) = builder.finish() else { return };
        let wide = width_m as f32 * spots[spots.len() / 2].per_m;
        // A line thinner than a pixel becomes a fainter one, so that it does not flicker.
        let colour = colour.fade(wide.min(1.0));
        let stroke = Stroke {
            width: wide.max(1.0),
            line_cap: resvg::tiny_skia::LineCap::Round,
            line_join: resvg::tiny_skia::LineJoin::Round,
            ..Stroke::default()
        };
        let paint = Paint { shader: colour.shader(), anti_alias: true, ..Paint::default() };
        self.pixels.stroke_path(&path, &paint, &stroke, Transform::identity(), None);
    }

    /// A mask that lets through only what lies inside `path`.
    pub(super) fn mask(&self, path: &Path) -> Option<Mask> {
        let mut mask = Mask::new(self.pixels.width(), self.pixels.height())?;
        mask.fill_path(path, FillRule::Winding, true, Transform::identity());
        Some(mask)
    }

    /// A shader that runs from `from` to `to` in the scene through `stops` (share, colour).
    pub(super) fn gradient(
        &self,
        from: ScenePoint,
        to: ScenePoint,
        stops: &[(f32, Colour)],
    ) -> Shader<'static> {
        let plain = stops.first().map_or(Colour::BLACK, |stop| stop.1).shader();
        let (Some(from), Some(to)) = (self.spot(from), self.spot(to)) else { return plain };
        screen_gradient((from.x, from.y), (to.x, to.y), stops).unwrap_or(plain)
    }

    /// A soft spot of `colour` about `centre` that fades to nothing at `radius_m`, stretched by
    /// `stretch` along the picture's x axis.
    pub(super) fn glow(
        &mut self,
        centre: ScenePoint,
        radius_m: f64,
        stretch: f32,
        colour: Colour,
        mask: Option<&Mask>,
    ) {
        let Some(spot) = self.spot(centre) else { return };
        let radius = spot.per_m * radius_m as f32;
        let stops = vec![
            GradientStop::new(0.0, colour.skia()),
            GradientStop::new(0.45, colour.fade(0.62).skia()),
            GradientStop::new(1.0, colour.fade(0.0).skia()),
        ];
        let middle = Point::from_xy(0.0, 0.0);
        let place = Transform::from_scale(stretch, 1.0).post_translate(spot.x, spot.y);
        let shader =
            RadialGradient::new(middle, 0.0, middle, radius, stops, SpreadMode::Pad, place);
        let (Some(shader), Some(path)) = (shader, ellipse(spot, radius * stretch, radius)) else {
            return;
        };
        self.fill_with(&path, shader, mask);
    }
}

/// Where `point` is drawn when the part begins at `origin`.
pub(super) fn spot(camera: &Camera, origin: (f32, f32), point: ScenePoint) -> Option<Spot> {
    let depth = camera.pose.camera_from_scene(point).z;
    if depth < NEAREST_M {
        return None;
    }
    let at = camera.project(point).ok()?;
    if at.x.abs() > 30_000.0 || at.y.abs() > 30_000.0 {
        return None;
    }
    Some(Spot {
        x: at.x as f32 - origin.0,
        y: at.y as f32 - origin.1,
        per_m: (camera.lens.focal_px / depth) as f32,
    })
}

fn ellipse(spot: Spot, wide: f32, high: f32) -> Option<Path> {
    use resvg::tiny_skia::Rect;
    let rect = Rect::from_xywh(spot.x - wide, spot.y - high, 2.0 * wide, 2.0 * high)?;
    PathBuilder::from_oval(rect)
}

pub(super) fn screen_gradient(
    from: (f32, f32),
    to: (f32, f32),
    stops: &[(f32, Colour)],
) -> Option<Shader<'static>> {
    let stops = stops.iter().map(|(at, colour)| GradientStop::new(*at, colour.skia())).collect();
    LinearGradient::new(
        Point::from_xy(from.0, from.1),
        Point::from_xy(to.0, to.1),
        stops,
        SpreadMode::Pad,
        Transform::identity(),
    )
}

/// Discs and the bands between neighbours, all wound the same way.
pub(super) fn add_chain(builder: &mut PathBuilder, discs: &[Disc]) {
    for disc in discs {
        add_disc(builder, disc);
    }
    for pair in discs.windows(2) {
        add_band(builder, &pair[0], &pair[1]);
    }
}

/// Clockwise on the picture (y down), of four cubic arcs.
fn add_disc(builder: &mut PathBuilder, disc: &Disc) {
    let Disc { x, y, r } = *disc;
    if r <= 0.0 {
        return;
    }
    // Handle length of a quarter circle.
    let k = 0.552_285 * r;
    builder.move_to(x + r, y);
    builder.cubic_to(x + r, y + k, x + k, y + r, x, y + r);
    builder.cubic_to(x - k, y + r, x - r, y + k, x - r, y);
    builder.cubic_to(x - r, y - k, x - k, y - r, x, y - r);
    builder.cubic_to(x + k, y - r, x + r, y - k, x + r, y);
    builder.close();
}

/// The outer tangents of two discs.
fn add_band(builder: &mut PathBuilder, a: &Disc, b: &Disc) {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let distance = dx.hypot(dy);
    if distance <= (a.r - b.r).abs() || distance < 1e-3 {
        return;
    }
    let (ux, uy) = (dx / distance, dy / distance);
    let sin = (a.r - b.r) / distance;
    let cos = (1.0 - sin * sin).sqrt();
    // Normals of the two tangents.
    let n1 = (ux * sin - uy * cos, uy * sin + ux * cos);
    let n2 = (ux * sin + uy * cos, uy * sin - ux * cos);
    // Clockwise with y down: n2 lies to the left of the way, n1 to the right.
    builder.move_to(a.x + a.r * n2.0, a.y + a.r * n2.1);
    builder.line_to(b.x + b.r * n2.0, b.y + b.r * n2.1);
    builder.line_to(b.x + b.r * n1.0, b.y + b.r * n1.1);
    builder.line_to(a.x + a.r * n1.0, a.y + a.r * n1.1);
    builder.close();
}
