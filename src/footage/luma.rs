//! The luma plane of a decoded picture, as 8-bit numbers, without touching its colours.
//!
//! Invariant: an 8-bit plane is lent, not copied; deeper planes lose their lowest bits and nothing else.
//! Not handled: RGB and packed-bit formats (`None`), which have no plane of luma.

use std::borrow::Cow;

use ff::format::Pixel;
use ffmpeg_next as ff;
use rayon::prelude::*;

use super::colour::{FirstComponent, first_component};
use super::orientation::Rows;

pub struct LumaPlane<'a> {
    bytes: Cow<'a, [u8]>,
    stride: usize,
    width: usize,
    height: usize,
}

impl LumaPlane<'_> {
    pub fn rows(&self) -> Rows<'_> {
        Rows { bytes: &self.bytes, stride: self.stride, width: self.width, height: self.height }
    }

    /// A copy the scaler can read.
    pub fn to_picture(&self) -> ff::frame::Video {
        let mut picture =
            ff::frame::Video::new(Pixel::GRAY8, self.width as u32, self.height as u32);
        let stride = picture.stride(0);
        for (to, from) in picture.data_mut(0).chunks_mut(stride).zip(self.bytes.chunks(self.stride))
        {
            to[..self.width].copy_from_slice(&from[..self.width]);
        }
        picture
    }
}

/// The picture's luma, or `None` where it has to be computed.
pub fn plane(picture: &ff::frame::Video) -> Option<LumaPlane<'_>> {
    let component = first_component(picture.format())
        .filter(|component| component.readable && !component.rgb)?;
    // SAFETY: reads plain fields of an allocated frame. ffmpeg-next takes a negative stride (bottom-up rows) for a
    // huge one, so those frames are left to the scaler.
    let upwards = unsafe { (*picture.as_ptr()).linesize[component.plane] <= 0 };
    if upwards {
        return None;
    }
    let (width, height) = (picture.width() as usize, picture.height() as usize);
    let (data, stride) = (picture.data(component.plane), picture.stride(component.plane));
    if component.depth == 8 && component.step == 1 {
        return Some(LumaPlane {
            bytes: Cow::Borrowed(&data[component.offset..]),
            stride,
            width,
            height,
        });
    }
    Some(LumaPlane {
        bytes: Cow::Owned(to_8_bits(data, stride, width, height, component)),
        stride: width,
        width,
        height,
    })
}

fn to_8_bits(
    data: &[u8],
    stride: usize,
    width: usize,
    height: usize,
    component: FirstComponent,
) -> Vec<u8> {
    let mut out = vec![0; width * height];
    let FirstComponent { step, offset, shift, depth, .. } = component;
    let drop = shift + depth - 8;
    out.par_chunks_mut(width).zip(data.par_chunks(stride)).for_each(|(out, row)| {
        for (to, from) in out.iter_mut().zip(row[offset..].chunks(step)) {
            *to = match depth {
                8 => from[0] >> shift,
                _ => (u16::from_le_bytes([from[0], from[1]]) >> drop) as u8,
            };
        }
    });
    out
}
