//! Finding a patch again to a fraction of a pixel.
//!
//! Lucas & Kanade 1981 with the roles of picture and template exchanged (Baker & Matthews 2004,
//! inverse compositional; both from memory), so that slopes and their products are worked out once
//! for each patch. How the patch is stretched is known beforehand from the map between its key
//! frame and now; what is sought is its place. Brightness and contrast are freed in closed form:
//! the slopes are square to both.

use super::luma::LumaView;
use super::patch::{SIDE, Template, dot, sloped};
use super::sampling::square;
use crate::scene::FramePoint;

/// Steps at the most.
const STEPS: usize = 10;
/// A step shorter than this ends the search, pixels of the level: a twentieth of what noise leaves.
const STILL_PX: f32 = 0.004;
/// Longest single step, pixels of the level.
const STRIDE_PX: f32 = 1.5;
/// Farther from the start than this is another thing, pixels of the level.
const STRAY_PX: f32 = 6.0;
/// Less of its contrast than this, and the patch is hidden.
const LEAST_CONTRAST: f32 = 0.2;

/// A patch found.
#[derive(Clone, Copy, Debug)]
pub(super) struct Found {
    /// Where, pixels of the full picture.
    pub(super) at: FramePoint,
    /// Likeness: correlation of brightness about the mean, at most 1.
    pub(super) likeness: f32,
    /// Standard deviation of the place that the residual's noise explains, averaged over the
    /// directions, pixels of the full picture.
    pub(super) noise_px: f32,
}

/// Looks for one level of a patch about `start` (pixels of the full picture). `None` when it
/// leaves the picture, strays or does not settle.
pub(super) fn align(
    view: LumaView<'_>,
    level: usize,
    template: &Template,
    start: FramePoint,
) -> Option<Found> {
    let scale = 0.5_f32.powi(level as i32);
    let first = [start.x as f32 * scale, start.y as f32 * scale];
    let [mut x, mut y] = first;
    let [xx, xy, yy] = template.hessian;
    let det = xx * yy - xy * xy;
    if det <= 1e-3 * (xx + yy).max(1.0) {
        return None;
    }
    for step in 0..STEPS {
        let looked = flat(&square::<SIDE>(view, x, y)?);
        let contrast = dot(&looked, &template.shape) / template.energy.max(1e-6);
        if contrast <= LEAST_CONTRAST {
            return None;
        }
        let gx = dot(&looked, &template.across) / contrast;
        let gy = dot(&looked, &template.down) / contrast;
        let (dx, dy) = ((yy * gx - xy * gy) / det, (xx * gy - xy * gx) / det);
        let length = (dx * dx + dy * dy).sqrt();
        let shorten = (STRIDE_PX / length).min(1.0);
        x -= dx * shorten;
        y -= dy * shorten;
        if (x - first[0]).abs().max((y - first[1]).abs()) > STRAY_PX {
            return None;
        }
        if length < STILL_PX || (step + 1 == STEPS && length < 0.05) {
            // These samples were taken a last small step away: near enough to judge by.
            let (likeness, noise) = judged(&looked, template, contrast);
            let at = FramePoint::new(f64::from(x / scale), f64::from(y / scale));
            return Some(Found { at, likeness, noise_px: noise / scale });
        }
    }
    None
}

fn flat(rows: &[[f32; SIDE]; SIDE]) -> [f32; SIDE * SIDE] {
    let mut all = [0.0; SIDE * SIDE];
    all.chunks_exact_mut(SIDE).zip(rows).for_each(|(out, row)| out.copy_from_slice(row));
    all
}

/// Likeness, and the place's standard deviation in pixels of the level.
fn judged(looked: &[f32; SIDE * SIDE], template: &Template, contrast: f32) -> (f32, f32) {
    let count = (SIDE * SIDE) as f32;
    let mean = looked.iter().sum::<f32>() / count;
    let energy: f32 = looked.iter().map(|value| (value - mean) * (value - mean)).sum();
    let shared = contrast * template.energy;
    let likeness = shared / (template.energy * energy).sqrt().max(1e-6);
    let left = (energy - contrast * shared).max(0.0) / (count - 4.0);
    let [xx, xy, yy] = template.hessian;
    let variance = left / (contrast * contrast) * (xx + yy) / (xx * yy - xy * xy) / 2.0;
    (likeness, variance.sqrt())
}

/// How far the way back misses: the picture about `found`, looked for in the template. Small for
/// one thing seen twice; large where one of the two only happens to hold a likeness, or part of it
/// is covered. Pixels of the level.
pub(super) fn way_back(
    view: LumaView<'_>,
    level: usize,
    template: &Template,
    found: FramePoint,
) -> Option<f32> {
    let scale = 0.5_f32.powi(level as i32);
    let now = sloped(&square(view, found.x as f32 * scale, found.y as f32 * scale)?);
    let count = (SIDE * SIDE) as f32;
    let then = template.image[1..=SIDE].iter().flat_map(|row| &row[1..=SIDE]);
    let rows = || now.iter().zip(then.clone()).map(|(&[gx, gy, now], &then)| [gx, gy, now, then]);
    let mut means = [0.0_f32; 4];
    for row in rows() {
        means.iter_mut().zip(row).for_each(|(mean, value)| *mean += value / count);
    }
    let [gx_mean, gy_mean, now_mean, then_mean] = means;
    // Unknowns: shift across and down times contrast, contrast; brightness by the means.
    let mut normal = nalgebra::Matrix3::<f32>::zeros();
    let mut right = nalgebra::Vector3::<f32>::zeros();
    for [gx, gy, now, then] in rows() {
        let row = nalgebra::Vector3::new(gx - gx_mean, gy - gy_mean, now - now_mean);
        normal += row * row.transpose();
        right += row * (then - then_mean);
    }
    let solved = normal.cholesky()?.solve(&right);
    let contrast = solved[2].max(LEAST_CONTRAST);
    Some((solved[0] / contrast).hypot(solved[1] / contrast))
}

#[cfg(test)]
mod tests;
