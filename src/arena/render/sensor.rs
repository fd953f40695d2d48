//! What the sensor adds: noise seeded by scene, frame and row.

use image::RgbImage;
use rayon::prelude::*;
use resvg::tiny_skia::Pixmap;

use super::tile::mixed;

/// The picture with noise of `levels` grey levels, as 8-bit RGB.
pub(super) fn read_out(picture: &Pixmap, levels: f64, seed: u64, frame: u32) -> RgbImage {
    let (wide, high) = (picture.width(), picture.height());
    let mut out = RgbImage::new(wide, high);
    let base = mixed(seed as u32 ^ mixed((seed >> 32) as u32 ^ mixed(frame ^ 0x51ed_270b)));
    let row_bytes = 3 * wide as usize;
    let data = picture.data();
    out.par_chunks_exact_mut(row_bytes).enumerate().for_each(|(y, row)| {
        let from = &data[4 * y * wide as usize..];
        let mut state = mixed(base ^ (y as u32).wrapping_mul(0x9e37_79b9)) | 1;
        for (to, from) in row.chunks_exact_mut(3).zip(from.chunks_exact(4)) {
            let grey = gaussian(&mut state) * levels as f32;
            let tint = gaussian(&mut state) * 0.35 * levels as f32;
            for (c, share) in [1.0, 0.0, -1.0].into_iter().enumerate() {
                to[c] = (f32::from(from[c]) + grey + share * tint + 0.5).clamp(0.0, 255.0) as u8;
            }
        }
    });
    out
}

/// Near enough to the normal distribution: the sum of four even bytes, scaled to variance 1.
fn gaussian(state: &mut u32) -> f32 {
    *state ^= *state << 13;
    *state ^= *state >> 17;
    *state ^= *state << 5;
    let bits = state.wrapping_mul(0x9e37_79b1);
    let sum: u32 = bits.to_le_bytes().iter().map(|byte| u32::from(*byte)).sum();
    (sum as f32 - 510.0) / 147.8
}
