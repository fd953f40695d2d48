//! How far fixed things of one frame lie from those of the others, and the shift that mends it.

use image::GrayImage;
use rayon::prelude::*;

use super::background::{Background, luma};
use super::layer::Layer;
use crate::draw::area::Area;

/// Side of the pieces that are compared, pixels, and from one to the next.
const PIECE: u32 = 24;
const EVERY: usize = 40;
/// How far they are moved about, pixels.
const REACH: i32 = 10;
/// A piece must vary this much both ways to tell where it lies (smaller eigenvalue of its mean
/// squared slopes, in grey levels squared).
const LEAST_TEXTURE: f64 = 30.0;
/// Nine of ten pieces may lie this far apart, in shares of the tallest horse: doubled rails would
/// be seen. At least so many pixels are allowed.
const MOST_APART: (f64, f64) = (0.012, 3.0);

/// What was found.
#[derive(Clone, Debug)]
pub(super) struct Apart {
    /// By how much each layer should be moved.
    pub shifts: Vec<(f64, f64)>,
    /// Nine of ten pieces lie nearer than this to where the others show them.
    pub nine_of_ten_px: f64,
}

/// The most that makes a clean picture.
pub(super) fn most_apart(layers: &[Layer]) -> f64 {
    let heights = layers.iter().filter_map(|layer| Area::holding(&layer.outline));
    let tallest = heights.map(|area| area.height()).fold(0.0, f64::max);
    (MOST_APART.0 * tallest).max(MOST_APART.1)
}

/// Compares all layers with what they were joined into.
pub(super) fn apart(layers: &[Layer], background: &Background) -> Apart {
    let (width, height) = background.picture.dimensions();
    let joined = GrayImage::from_fn(width, height, |x, y| {
        let pixel = background.picture.get_pixel(x, y).0.map(f64::from);
        image::Luma([luma(pixel).round() as u8])
    });
    let found: Vec<Vec<(f64, f64)>> =
        layers.par_iter().map(|layer| pieces(layer, &joined, &background.covered)).collect();
    let shifts = found
        .iter()
        .map(|pieces| {
            let of = |axis: fn(&(f64, f64)) -> f64| {
                let mut all: Vec<f64> = pieces.iter().map(axis).collect();
                all.sort_by(f64::total_cmp);
                all.get(all.len() / 2).copied().unwrap_or(0.0)
            };
            // Few pieces may all be wrong.
            if pieces.len() < 8 { (0.0, 0.0) } else { (of(|p| p.0), of(|p| p.1)) }
        })
        .collect();
    let mut off: Vec<f64> = found.iter().flatten().map(|(dx, dy)| dx.hypot(*dy)).collect();
    off.sort_by(f64::total_cmp);
    let nine_of_ten_px = off.get(off.len() * 9 / 10).copied().unwrap_or(0.0);
    Apart { shifts, nine_of_ten_px }
}

/// By how much each piece of the layer that tells should be moved.
fn pieces(layer: &Layer, joined: &GrayImage, covered: &GrayImage) -> Vec<(f64, f64)> {
    let (width, height) = layer.picture.dimensions();
    let grey = GrayImage::from_fn(width, height, |x, y| {
        let colour = layer.matched(layer.picture.get_pixel(x, y));
        image::Luma([luma(colour).round().clamp(0.0, 255.0) as u8])
    });
    let rim = PIECE + REACH as u32;
    let mut found = Vec::new();
    if width <= 2 * rim || height <= 2 * rim {
        return found;
    }
    for y in (rim..height - rim).step_by(EVERY) {
        for x in (rim..width - rim).step_by(EVERY) {
            let corners = [(0, 0), (PIECE, 0), (0, PIECE), (PIECE, PIECE)];
            let clear = corners.iter().all(|(dx, dy)| {
                layer.weight.get_pixel(x + dx, y + dy).0[0] != 0
                    && layer.horse.get_pixel(x + dx, y + dy).0[0] == 0
            });
            if clear && texture(&grey, x, y) >= LEAST_TEXTURE {
                let at = (layer.left + x, layer.top + y);
                found.extend(best_shift(&grey, (x, y), joined, covered, at));
            }
        }
    }
    found
}

/// The smaller eigenvalue of the mean squared slopes in a piece.
fn texture(grey: &GrayImage, x: u32, y: u32) -> f64 {
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    let value = |x: u32, y: u32| f64::from(grey.get_pixel(x, y).0[0]);
    for row in y..y + PIECE {
        for column in x..x + PIECE {
            let dx = (value(column + 1, row) - value(column - 1, row)) / 2.0;
            let dy = (value(column, row + 1) - value(column, row - 1)) / 2.0;
            (xx, xy, yy) = (xx + dx * dx, xy + dx * dy, yy + dy * dy);
        }
    }
    let half = (xx - yy) / 2.0;
    ((xx + yy) / 2.0 - half.hypot(xy)) / f64::from(PIECE * PIECE)
}

/// Where the piece at `from` of the layer fits the joined picture best, from `to`.
fn best_shift(
    grey: &GrayImage,
    from: (u32, u32),
    joined: &GrayImage,
    covered: &GrayImage,
    to: (u32, u32),
) -> Option<(f64, f64)> {
    let (width, height) = joined.dimensions();
    let reach = REACH as u32;
    if to.0 < reach
        || to.1 < reach
        || to.0 + PIECE + reach >= width
        || to.1 + PIECE + reach >= height
    {
        return None;
    }
    let corner = |dx: i32, dy: i32| ((to.0 as i32 + dx) as u32, (to.1 as i32 + dy) as u32);
    for (dx, dy) in [(-REACH, -REACH), (REACH, -REACH), (-REACH, REACH), (REACH, REACH)] {
        let (left, top) = corner(dx, dy);
        let far = [(0, 0), (PIECE, 0), (0, PIECE), (PIECE, PIECE)];
        if far.iter().any(|(x, y)| covered.get_pixel(left + x, top + y).0[0] == 0) {
            return None;
        }
    }
    // Squared differences, given up once they exceed `most`.
    let cost = |dx: i32, dy: i32, most: u64| {
        let (left, top) = corner(dx, dy);
        let mut cost = 0_u64;
        for row in 0..PIECE {
            for column in 0..PIECE {
                let a = grey.get_pixel(from.0 + column, from.1 + row).0[0];
                let b = joined.get_pixel(left + column, top + row).0[0];
                cost += u64::from(u32::from(a.abs_diff(b)).pow(2));
            }
            if cost > most {
                return u64::MAX;
            }
        }
        cost
    };
    // From the middle outwards: the likeliest come first, and the rest is given up early.
    let (mut best, mut least) = ((0, 0), cost(0, 0, u64::MAX));
    for ring in 1..=REACH {
        let side = -ring..=ring;
        let rows = side.clone().flat_map(|along| [(along, -ring), (along, ring)]);
        let columns = side.flat_map(|along| [(-ring, along), (ring, along)]);
        for (dx, dy) in rows.chain(columns) {
            let found = cost(dx, dy, least);
            if found < least {
                (best, least) = ((dx, dy), found);
            }
        }
    }
    // At the rim of what was tried it may lie anywhere beyond: counted as it stands.
    if best.0.abs() == REACH || best.1.abs() == REACH {
        return Some((f64::from(best.0), f64::from(best.1)));
    }
    let at = |dx: i32, dy: i32| cost(dx, dy, u64::MAX);
    let finer = |before: u64, here: u64, after: u64| {
        let (before, here, after) = (before as f64, here as f64, after as f64);
        let bend = before - 2.0 * here + after;
        if bend > 0.0 { ((before - after) / (2.0 * bend)).clamp(-0.5, 0.5) } else { 0.0 }
    };
    let (dx, dy) = best;
    Some((
        f64::from(dx) + finer(at(dx - 1, dy), least, at(dx + 1, dy)),
        f64::from(dy) + finer(at(dx, dy - 1), least, at(dx, dy + 1)),
    ))
}
