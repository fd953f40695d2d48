//! One frame of a clip on the reel's canvas.

use image::RgbImage;
use image::imageops::{FilterType, crop_imm, replace, resize};

use super::layout::ReelSlot;

/// Puts the part of `frame` that `slot` shows in its place on `canvas`, enlarged or shrunk.
pub fn paint_part(canvas: &mut RgbImage, frame: &RgbImage, slot: &ReelSlot) {
    let part = &slot.part;
    let cut = crop_imm(frame, part.left, part.top, part.size.width, part.size.height);
    let (left, top) = (i64::from(slot.at.0), i64::from(slot.at.1));
    if slot.size() == (part.size.width, part.size.height) {
        replace(canvas, &*cut, left, top);
        return;
    }
    let (width, height) = slot.size();
    replace(canvas, &resize(&*cut, width, height, FilterType::Triangle), left, top);
}
