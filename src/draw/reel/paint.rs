//! One frame of a clip on the reel's canvas, enlarged or shrunk.
//!
//! Each pixel of the canvas is the mean of the pixels of the frame under it, weighted by how near
//! they are (a triangle as wide as the shrinking, at least two pixels): no finer pattern of the
//! frame can shimmer. Across first, then down, in whole numbers.

use image::RgbImage;

use super::layout::ReelSlot;

/// Puts the part of `frame` that `slot` shows in its place on `canvas`; what would lie outside of
/// either is left off.
pub fn paint_part(canvas: &mut RgbImage, frame: &RgbImage, slot: &ReelSlot) {
    let part = &slot.part;
    let (left, top) = slot.at;
    let width = slot.size().0.min(canvas.width().saturating_sub(left));
    let height = slot.size().1.min(canvas.height().saturating_sub(top));
    if slot.size() == (part.size.width, part.size.height) {
        return copy_rows(canvas, frame, slot, (width, height));
    }
    let across = weights(part.left, part.size.width, slot.size().0, frame.width());
    let down = weights(part.top, part.size.height, slot.size().1, frame.height());
    let (across, down) = (&across[..width as usize], &down[..height as usize]);
    // Rows of the frame squeezed to the canvas's width, each made once.
    let first = down.first().map_or(0, |taps| taps.from);
    let last = down.iter().map(|taps| taps.from + taps.shares.len()).max().unwrap_or(first);
    let row_bytes = frame.width() as usize * 3;
    let squeezed: Vec<Vec<u16>> = frame
        .as_raw()
        .chunks_exact(row_bytes)
        .take(last)
        .enumerate()
        .map(|(y, row)| if y < first { Vec::new() } else { squeeze(row, across) })
        .collect();
    let canvas_bytes = canvas.width() as usize * 3;
    let start = left as usize * 3;
    let bytes: &mut [u8] = canvas;
    let rows = bytes.chunks_exact_mut(canvas_bytes).skip(top as usize);
    let mut sums = vec![0u32; width as usize * 3];
    for (row, taps) in rows.zip(down) {
        sums.fill(ROUNDING);
        for (from, share) in squeezed[taps.from..].iter().zip(&taps.shares) {
            for (sum, level) in sums.iter_mut().zip(from) {
                *sum += share * u32::from(*level);
            }
        }
        for (to, sum) in row[start..].iter_mut().zip(&sums) {
            *to = (sum >> (SHARE_BITS + FINE_BITS)).min(255) as u8;
        }
    }
}

/// The same where nothing changes its size.
fn copy_rows(canvas: &mut RgbImage, frame: &RgbImage, slot: &ReelSlot, size: (u32, u32)) {
    let bytes = |pixels: u32| pixels as usize * 3;
    let (canvas_row, frame_row) = (bytes(canvas.width()), bytes(frame.width()));
    let (from, to) = (bytes(slot.part.left), bytes(slot.at.0));
    let row = bytes(size.0).min(frame_row.saturating_sub(from));
    let under: &mut [u8] = canvas;
    let under = under.chunks_exact_mut(canvas_row).skip(slot.at.1 as usize);
    let over = frame.as_raw().chunks_exact(frame_row).skip(slot.part.top as usize);
    for (under, over) in under.zip(over).take(size.1 as usize) {
        under[to..to + row].copy_from_slice(&over[from..from + row]);
    }
}

/// Shares are whole numbers that add up to 1 << SHARE_BITS; between the two passes levels keep
/// FINE_BITS more than eight.
const SHARE_BITS: u32 = 12;
const FINE_BITS: u32 = 6;
const ROUNDING: u32 = 1 << (SHARE_BITS + FINE_BITS - 1);

/// Which pixels make one, and with what shares.
struct Taps {
    from: usize,
    shares: Vec<u32>,
}

fn squeeze(row: &[u8], across: &[Taps]) -> Vec<u16> {
    let mut out = Vec::with_capacity(across.len() * 3);
    for taps in across {
        let mut sums = [1u32 << (SHARE_BITS - FINE_BITS - 1); 3];
        let pixels = row[3 * taps.from..].chunks_exact(3);
        for (pixel, share) in pixels.zip(&taps.shares) {
            for (sum, level) in sums.iter_mut().zip(pixel) {
                *sum += share * u32::from(*level);
            }
        }
        out.extend(sums.map(|sum| (sum >> (SHARE_BITS - FINE_BITS)) as u16));
    }
    out
}

/// For each of `to` pixels, those of `from` pixels after `start` that it is made of; none beyond
/// `end`.
fn weights(start: u32, from: u32, to: u32, end: u32) -> Vec<Taps> {
    let step = f64::from(from) / f64::from(to.max(1));
    let reach = step.max(1.0);
    let last = i64::from(end.max(1)) - 1;
    let of = |pixel: u32| {
        let middle = f64::from(start) + (f64::from(pixel) + 0.5) * step - 0.5;
        let low = ((middle - reach).ceil() as i64).clamp(0, last);
        let high = ((middle + reach).floor() as i64).clamp(low, last);
        let near = |at: i64| (1.0 - (at as f64 - middle).abs() / reach).max(1e-6);
        let all: f64 = (low..=high).map(near).sum();
        let whole = f64::from(1u32 << SHARE_BITS);
        let mut shares: Vec<u32> =
            (low..=high).map(|at| (near(at) / all * whole).round() as u32).collect();
        // Rounding must not make it lighter or darker: the largest share takes what is over.
        let sum: u32 = shares.iter().sum();
        if let Some(largest) = shares.iter_mut().max() {
            *largest = (*largest + (1 << SHARE_BITS)).saturating_sub(sum);
        }
        Taps { from: low as usize, shares }
    };
    (0..to).map(of).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::Crop;
    use crate::scene::PictureSize;
    use image::Rgb;
    use image::imageops::{FilterType, crop_imm, resize};

    fn slot(size: (u32, u32), enlarged: f64) -> ReelSlot {
        let size = PictureSize { width: size.0, height: size.1 };
        ReelSlot {
            part: Crop { left: 0, top: 4, size, enlarged },
            at: (2, 3),
            band: ((0, 0), size),
            metre_px: None,
        }
    }

    #[test]
    fn it_agrees_with_another_resampler_and_keeps_plain_colours_plain() {
        let frame = RgbImage::from_fn(90, 60, |x, y| {
            Rgb([(x * 2) as u8, (y * 4) as u8, ((x + 2 * y) % 97 * 2) as u8])
        });
        for enlarged in [0.4, 2.0 / 3.0, 1.0, 1.7] {
            let slot = slot((90, 48), enlarged);
            let (width, height) = slot.size();
            let mut canvas = RgbImage::from_pixel(width + 9, height + 9, Rgb([7, 7, 7]));
            paint_part(&mut canvas, &frame, &slot);
            let cut = crop_imm(&frame, 0, 4, 90, 48).to_image();
            let other = resize(&cut, width, height, FilterType::Triangle);
            let inside = |x: u32, y: u32| x > 2 && y > 2 && x + 3 < width && y + 3 < height;
            for (x, y, pixel) in other.enumerate_pixels().filter(|(x, y, _)| inside(*x, *y)) {
                let found = canvas.get_pixel(x + 2, y + 3);
                let off = found.0.iter().zip(&pixel.0).map(|(a, b)| a.abs_diff(*b)).max().unwrap();
                assert!(off <= 3, "{enlarged}: {found:?} {pixel:?} at {x}, {y}");
            }
            assert_eq!(canvas.get_pixel(0, 0).0, [7; 3]);
            assert_eq!(canvas.get_pixel(width + 2, height + 3).0, [7; 3]);
            let plain = RgbImage::from_pixel(90, 60, Rgb([203, 255, 1]));
            paint_part(&mut canvas, &plain, &slot);
            assert_eq!(canvas.get_pixel(2, 3).0, [203, 255, 1]);
        }
    }
}
