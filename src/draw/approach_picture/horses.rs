//! The horses, each cut from its own frame and laid over what stands still.

use image::{GrayImage, Luma, Rgb, RgbImage};
use imageproc::definitions::Image;
use imageproc::distance_transform::{Norm, euclidean_squared_distance_transform};
use imageproc::filter::gaussian_blur_f32;
use imageproc::morphology::{close, dilate, open};
use imageproc::region_labelling::{Connectivity, connected_components};
use rayon::prelude::*;

use super::JoinedFrame;
use super::background::{Background, CLEAN};
use super::layer::{Layer, grown, polygon};
use crate::draw::area::Area;
use crate::scene::{Panorama, PictureSize};

/// The picture with its horses.
pub(super) struct Laid {
    pub picture: RgbImage,
    /// 255 where any frame shows something.
    pub covered: GrayImage,
    /// The footfalls whose horse is shown.
    pub horses: Vec<String>,
}

/// A horse on the panorama.
struct Cut<'a> {
    layer: &'a Layer,
    /// Its frame on the plane of the track.
    seen: RgbImage,
    /// Part of the panorama it was looked for in.
    left: u32,
    top: u32,
    /// 255 where horse, rider and shadow are.
    body: GrayImage,
    /// Softened.
    soft_body: GrayImage,
    soft_around: GrayImage,
    /// Squared distance to the middle of the outline, pixels.
    squared_away: Image<Luma<f64>>,
}

/// How much larger than the outline the part is in which the horse is looked for, in shares of
/// its height: a stretched neck or tail reaches out of it.
const ROOM: f64 = 0.35;
/// How much larger than the outline the part is that is shown of the horse's own frame.
const AROUND: f64 = 1.1;
/// The part of the outline that is horse for certain, as a share of it.
const CORE: f64 = 0.5;
/// A pixel belongs to the horse when it differs from what stands still by this many times the
/// usual noise, and at least by so many grey levels.
const NOISES: f64 = 4.0;
const LEAST_LEVELS: f64 = 14.0;
/// Pieces smaller than this share of the outline are noise.
const LEAST_PIECE: f64 = 0.01;
/// Of a horse the next one may hide at most this share, or it is left out.
const MOST_HIDDEN: f64 = 0.16;
/// The horse that takes off is wanted most, and the landing comes near it.
const MOST_HIDDEN_AT_FENCE: f64 = 0.4;

/// Halfway between two horses one frame gives way to the other over so many pixels.
const HALFWAY_PX: f64 = 6.0;

/// Lays the horses of `shown` over the background, the later over the earlier.
pub(super) fn lay(
    layers: &[Layer],
    frames: &[&JoinedFrame],
    seen_from: &Panorama,
    background: Background,
    shown: &[String],
    apart_px: f64,
) -> Laid {
    let reach = apart_px.round().clamp(1.0, 3.0) as i64;
    let wanted: Vec<(&Layer, &JoinedFrame)> = shown
        .iter()
        .filter_map(|id| {
            let at = layers.iter().position(|layer| layer.footfall == *id)?;
            Some((&layers[at], frames[at]))
        })
        .collect();
    let cuts: Vec<Cut> = wanted
        .par_iter()
        .filter_map(|(layer, frame)| {
            cut(layer, layer.at_track(frame, seen_from), &background, reach)
        })
        .collect();
    let cuts = clear_of_each_other(cuts);
    let Background { mut picture, covered } = background;
    for (index, cut) in cuts.iter().enumerate() {
        for y in 0..cut.body.height() {
            for x in 0..cut.body.width() {
                let (px, py) = (cut.left + x, cut.top + y);
                let Some((column, row)) = cut.layer.at(px, py) else { continue };
                let body = f64::from(cut.soft_body.get_pixel(x, y).0[0]) / 255.0;
                let rim = f64::from(cut.layer.weight.get_pixel(column, row).0[0]) / 255.0;
                let around = rim * f64::from(cut.soft_around.get_pixel(x, y).0[0]) / 255.0;
                // Around the horse its own frame shows, up to halfway to another horse.
                let others = cuts.iter().enumerate().filter(|(other, _)| *other != index);
                let (mut nearest, mut other_body) = (f64::INFINITY, 0.0_f64);
                for (_, other) in others {
                    nearest = nearest.min(other.away(px, py).unwrap_or(f64::INFINITY));
                    other_body = other_body.max(other.body_at(px, py));
                }
                let away = cut.away(px, py).unwrap_or(0.0);
                let own = ((nearest - away) / (2.0 * HALFWAY_PX) + 0.5).clamp(0.0, 1.0);
                // Where two bodies are seen, one is an edge of what stands still: the nearer wins.
                let body = body * (1.0 - other_body * (1.0 - own));
                let share = body.max(around * own * (1.0 - other_body));
                if share <= 0.0 {
                    continue;
                }
                let own = cut.layer.matched(cut.seen.get_pixel(column, row));
                let below = picture.get_pixel(px, py).0;
                let mixed = std::array::from_fn(|channel| {
                    let mixed = own[channel] * share + f64::from(below[channel]) * (1.0 - share);
                    mixed.round().clamp(0.0, 255.0) as u8
                });
                picture.put_pixel(px, py, Rgb(mixed));
            }
        }
    }
    let horses = cuts.iter().map(|cut| cut.layer.footfall.clone()).collect();
    Laid { picture, covered, horses }
}

impl Cut<'_> {
    fn body_at(&self, x: u32, y: u32) -> f64 {
        let (Some(column), Some(row)) = (x.checked_sub(self.left), y.checked_sub(self.top)) else {
            return 0.0;
        };
        let pixel = self.soft_body.get_pixel_checked(column, row);
        pixel.map_or(0.0, |pixel| f64::from(pixel.0[0]) / 255.0)
    }

    /// How far the horse is from a pixel of the panorama that may show it, pixels.
    fn away(&self, x: u32, y: u32) -> Option<f64> {
        let (column, row) = (x.checked_sub(self.left)?, y.checked_sub(self.top)?);
        self.soft_around.get_pixel_checked(column, row).filter(|pixel| pixel.0[0] > 0)?;
        Some(self.squared_away.get_pixel(column, row).0[0].sqrt())
    }
}

/// The share of a horse that the `next` one hides.
fn hidden(cut: &Cut, next: &Cut) -> f64 {
    let (mut all, mut under) = (0_u32, 0_u32);
    for (x, y, pixel) in cut.body.enumerate_pixels() {
        if pixel.0[0] != 0 && cut.away(cut.left + x, cut.top + y).is_some() {
            all += 1;
            under += u32::from(next.body_at(cut.left + x, cut.top + y) > 0.5);
        }
    }
    f64::from(under) / f64::from(all.max(1))
}

/// Those that are seen nearly whole, from the fence backwards.
fn clear_of_each_other(cuts: Vec<Cut>) -> Vec<Cut> {
    let mut kept: Vec<Cut> = Vec::with_capacity(cuts.len());
    for cut in cuts.into_iter().rev() {
        let most = if kept.len() == 1 { MOST_HIDDEN_AT_FENCE } else { MOST_HIDDEN };
        if kept.last().is_none_or(|next| hidden(&cut, next) <= most) {
            kept.push(cut);
        }
    }
    kept.reverse();
    kept
}

/// Finds the horse of a layer where it differs from what stands still.
fn cut<'a>(
    layer: &'a Layer,
    seen: RgbImage,
    background: &Background,
    reach: i64,
) -> Option<Cut<'a>> {
    let held = Area::holding(&layer.outline)?;
    let (width, height) = background.picture.dimensions();
    let frame = Area::at(0.0, 0.0, f64::from(width), f64::from(height));
    let room = held.grown(ROOM * held.height());
    let (left, top) = (room.left.max(0.0) as u32, room.top.max(0.0) as u32);
    let right = (room.right.clamp(0.0, frame.right)) as u32;
    let bottom = (room.bottom.clamp(0.0, frame.bottom)) as u32;
    let size = PictureSize {
        width: right.checked_sub(left).filter(|w| *w > 8)?,
        height: bottom.checked_sub(top).filter(|h| *h > 8)?,
    };
    let differs: Vec<f64> = (0..size.height)
        .flat_map(|y| (0..size.width).map(move |x| (x, y)))
        .map(|(x, y)| difference(layer, &seen, background, (left + x, top + y), reach))
        .collect();
    let around = polygon(&grown(&layer.outline, AROUND), left, top, size);
    let noise = noise(layer, &seen, background, reach);
    let limit = (NOISES * noise).max(LEAST_LEVELS);
    let raw = GrayImage::from_fn(size.width, size.height, |x, y| {
        // Where a horse may be on what stands still, a difference says nothing.
        let clean = background.covered.get_pixel(left + x, top + y).0[0] == CLEAN;
        let differs = differs[(y * size.width + x) as usize] > limit;
        Luma([if clean && differs { 255 } else { 0 }])
    });
    let small = (held.height() / 90.0).round().clamp(1.0, 6.0) as u8;
    let body = open(&raw, Norm::L2, (small / 2).max(1));
    let body = close(&body, Norm::L2, 2 * small);
    let body = without_holes_and_specks(body, &around);
    let body = dilate(&body, Norm::L2, small);
    let around = either(around, &dilate(&body, Norm::L2, 2 * small));
    let blur = f32::from(small) * 0.7;
    let soft_body = gaussian_blur_f32(&body, blur);
    let soft_around = gaussian_blur_f32(&around, 3.0 * blur);
    let core = polygon(&grown(&layer.outline, CORE), left, top, size);
    let squared_away = euclidean_squared_distance_transform(&core);
    let is_seen = around.pixels().any(|pixel| pixel.0[0] != 0);
    is_seen.then_some(Cut { layer, seen, left, top, body, soft_body, soft_around, squared_away })
}

/// How different a pixel is from what stands still about there, in grey levels: the joint is good
/// to some pixels only, and an edge beside itself is no horse.
fn difference(
    layer: &Layer,
    seen: &RgbImage,
    background: &Background,
    (x, y): (u32, u32),
    reach: i64,
) -> f64 {
    let Some((column, row)) = layer.at(x, y) else { return 0.0 };
    let own = layer.matched(seen.get_pixel(column, row));
    let mut least = f64::INFINITY;
    for dy in -reach..=reach {
        for dx in -reach..=reach {
            let (px, py) = (i64::from(x) + dx, i64::from(y) + dy);
            let (Ok(px), Ok(py)) = (u32::try_from(px), u32::try_from(py)) else { continue };
            let Some(still) = background.picture.get_pixel_checked(px, py) else { continue };
            let channels = own.iter().zip(still.0).map(|(own, still)| own - f64::from(still));
            least = least.min(channels.fold(0.0, |most, off| f64::max(most, off.abs())));
        }
    }
    least
}

/// The usual difference where no horse is: the median of it.
fn noise(layer: &Layer, seen: &RgbImage, background: &Background, reach: i64) -> f64 {
    let mut all = Vec::new();
    for y in (layer.top..layer.bottom()).step_by(5) {
        for x in (layer.left..layer.right()).step_by(5) {
            let clear = layer
                .at(x, y)
                .is_some_and(|(column, row)| layer.horse.get_pixel(column, row).0[0] == 0);
            if clear {
                all.push(difference(layer, seen, background, (x, y), reach));
            }
        }
    }
    all.sort_by(f64::total_cmp);
    all.get(all.len() / 2).copied().unwrap_or(0.0)
}

/// Fills what is enclosed, and leaves out pieces too small to be part of a horse.
fn without_holes_and_specks(mut body: GrayImage, around: &GrayImage) -> GrayImage {
    let inside = around.pixels().filter(|pixel| pixel.0[0] != 0).count() as f64;
    let pieces = connected_components(&body, Connectivity::Eight, Luma([0]));
    // Of each piece how much lies inside the outline: what does not reach into it is no horse.
    let mut sizes = std::collections::BTreeMap::<u32, u32>::new();
    for (label, around) in pieces.pixels().zip(around.pixels()) {
        *sizes.entry(label.0[0]).or_default() += u32::from(around.0[0] != 0);
    }
    for (pixel, label) in body.pixels_mut().zip(pieces.pixels()) {
        if f64::from(sizes[&label.0[0]]) < LEAST_PIECE * inside {
            pixel.0[0] = 0;
        }
    }
    // What the outside does not reach is enclosed.
    let rest = GrayImage::from_fn(body.width(), body.height(), |x, y| {
        Luma([255 - body.get_pixel(x, y).0[0]])
    });
    let gaps = connected_components(&rest, Connectivity::Four, Luma([0]));
    let (width, height) = body.dimensions();
    let mut open = std::collections::BTreeSet::new();
    for x in 0..width {
        open.insert(gaps.get_pixel(x, 0).0[0]);
        open.insert(gaps.get_pixel(x, height - 1).0[0]);
    }
    for y in 0..height {
        open.insert(gaps.get_pixel(0, y).0[0]);
        open.insert(gaps.get_pixel(width - 1, y).0[0]);
    }
    let mut gap_sizes = std::collections::BTreeMap::<u32, u32>::new();
    gaps.pixels().for_each(|label| *gap_sizes.entry(label.0[0]).or_default() += 1);
    for (pixel, label) in body.pixels_mut().zip(gaps.pixels()) {
        let label = label.0[0];
        // Between the legs one sees through: only small gaps are holes.
        let small =
            gap_sizes.get(&label).is_some_and(|size| f64::from(*size) < LEAST_PIECE * inside);
        if label != 0 && !open.contains(&label) && small {
            pixel.0[0] = 255;
        }
    }
    body
}

/// 255 where either is.
fn either(mut a: GrayImage, b: &GrayImage) -> GrayImage {
    a.pixels_mut().zip(b.pixels()).for_each(|(a, b)| a.0[0] = a.0[0].max(b.0[0]));
    a
}
