//! Pictures of trees and bushes, painted leaf by leaf, kept at every size.

use resvg::tiny_skia::{FillRule, Paint, PathBuilder, Pixmap, Transform};

use super::colour::Colour;
use super::tile::mixed;

const WIDE: u32 = 512;
pub(super) const HIGH: u32 = 640;
/// Kinds of picture: four round trees, a slender one, a bush.
pub(super) const KINDS: u32 = 6;
pub(super) const SLENDER: u32 = 4;
pub(super) const BUSH: u32 = 5;

/// Halved and halved again.
pub(super) fn levels_of(picture: Pixmap) -> Vec<Pixmap> {
    let mut levels = vec![picture];
    while let Some(next) = levels.last().filter(|p| p.width() > 16).and_then(halved) {
        levels.push(next);
    }
    levels
}

fn halved(from: &Pixmap) -> Option<Pixmap> {
    let (wide, high) = (from.width() / 2, from.height() / 2);
    let mut to = Pixmap::new(wide, high)?;
    let stride = 4 * from.width() as usize;
    let data = from.data();
    for (i, out) in to.data_mut().chunks_exact_mut(4).enumerate() {
        let (x, y) = (i % wide as usize, i / wide as usize);
        let at = 2 * y * stride + 8 * x;
        for c in 0..4 {
            let sum: u32 =
                [0, 4, stride, stride + 4].iter().map(|d| u32::from(data[at + d + c])).sum();
            out[c] = ((sum + 2) / 4) as u8;
        }
    }
    Some(to)
}

/// Paints one kind of plant: a trunk, then leaf clumps from the shaded depth to the lit crown.
pub(super) fn painted(kind: u32, seed: u32) -> Pixmap {
    let mut picture = Pixmap::new(WIDE, HIGH).unwrap_or_else(|| unreachable!("a fixed size"));
    let is_bush = kind == BUSH;
    let is_slender = kind == SLENDER;
    let (wide, high) = (WIDE as f32, HIGH as f32);
    if !is_bush {
        trunk(&mut picture, wide, high);
    }
    let (cx, cy) = (0.5 * wide, if is_bush { 0.52 * high } else { 0.42 * high });
    let (rx, ry) = match (is_bush, is_slender) {
        (true, _) => (0.45 * wide, 0.46 * high),
        (_, true) => (0.34 * wide, 0.40 * high),
        _ => (0.44 * wide, 0.38 * high),
    };
    let base = match kind {
        SLENDER => Colour::new(58.0, 74.0, 44.0),
        1 => Colour::new(104.0, 112.0, 52.0),
        3 => Colour::new(128.0, 112.0, 50.0),
        BUSH => Colour::new(86.0, 100.0, 50.0),
        _ => Colour::new(84.0, 102.0, 48.0),
    };
    let mut random = seed;
    let mut unit = move || {
        random = mixed(random.wrapping_add(0x6d2b_79f5));
        (random >> 8) as f32 / 16_777_216.0
    };
    let layers = 5;
    for layer in 0..layers {
        let depth = layer as f32 / (layers - 1) as f32;
        for _ in 0..220 {
            let (angle, r) = (std::f32::consts::TAU * unit(), unit().sqrt());
            let squeeze = if is_slender { 1.0 } else { 1.0 - 0.12 * depth };
            let (mut x, y) = (r * angle.cos(), r * angle.sin());
            if is_slender {
                x *= 0.25 + 0.75 * f32::midpoint(y, 1.0);
            }
            let lump = 0.82 + 0.22 * (3.0 * angle + seed as f32).sin();
            let px = cx + rx * x * squeeze * lump - 0.03 * wide * depth;
            let py = cy + ry * y * squeeze * lump - 0.05 * high * depth;
            // Lit from the upper left; the inside is dark.
            let lit = 0.40 + 0.42 * depth - 0.24 * y - 0.16 * x + 0.16 * (unit() - 0.5);
            clump(&mut picture, (px, py), wide * (0.022 + 0.024 * unit()), base, lit, &mut unit);
        }
    }
    picture
}

fn trunk(picture: &mut Pixmap, wide: f32, high: f32) {
    let mut builder = PathBuilder::new();
    builder.move_to(0.465 * wide, high);
    builder.line_to(0.48 * wide, 0.5 * high);
    builder.line_to(0.52 * wide, 0.5 * high);
    builder.line_to(0.54 * wide, high);
    builder.close();
    let Some(path) = builder.finish() else { return };
    let shader = super::canvas::screen_gradient(
        (0.47 * wide, 0.0),
        (0.535 * wide, 0.0),
        &[(0.0, Colour::new(112.0, 92.0, 70.0)), (1.0, Colour::new(48.0, 40.0, 34.0))],
    );
    let paint = Paint {
        shader: shader.unwrap_or_else(|| Colour::BLACK.shader()),
        anti_alias: true,
        ..Paint::default()
    };
    picture.fill_path(&path, &paint, FillRule::Winding, Transform::identity(), None);
}

fn clump(
    picture: &mut Pixmap,
    at: (f32, f32),
    size: f32,
    base: Colour,
    lit: f32,
    unit: &mut impl FnMut() -> f32,
) {
    for _ in 0..11 {
        let (dx, dy) = (size * 1.5 * (unit() - 0.5), size * 1.2 * (unit() - 0.5));
        let r = size * (0.12 + 0.22 * unit());
        let Some(path) = PathBuilder::from_circle(at.0 + dx, at.1 + dy, r) else { continue };
        let shade = (lit - 0.35 * dy / size + 0.22 * (unit() - 0.5)).clamp(0.16, 1.5);
        let warm = Colour::new(255.0, 226.0, 150.0);
        let colour = base.times(0.35 + 0.95 * shade).mix(warm, (0.16 * (shade - 0.5)).max(0.0));
        let paint = Paint { shader: colour.shader(), anti_alias: true, ..Paint::default() };
        picture.fill_path(&path, &paint, FillRule::Winding, Transform::identity(), None);
    }
}
