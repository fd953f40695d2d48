//! A decoded 4:2:0 picture brought to the planes that a JPEG file holds, without red, green and blue between.
//!
//! JFIF (ITU-T T.871) wants BT.601 luma and chroma in full range; clips are mostly BT.709 in studio range. Both are
//! linear, so each number is a sum of three, and chroma of one needs none of the other's luma. Chroma stays at half
//! size: nothing is enlarged and made small again.
//! Not handled, for the caller to make by way of RGB: other formats, HDR, pixels that are not square.

use ff::format::Pixel;
use ffmpeg_next as ff;
use rayon::prelude::*;

use super::colour::{Colour, DynamicRange, Matrix};
use super::orientation::{Orientation, Rows, upright};
use super::picture::Geometry;

/// Full-range BT.601 planes of the upright picture; chroma at half size, rounded up.
pub struct JpegPlanes {
    pub width: usize,
    pub height: usize,
    pub luma: Vec<u8>,
    pub blue: Vec<u8>,
    pub red: Vec<u8>,
}

impl JpegPlanes {
    /// The planes of a picture, or `None` where they cannot be had without a detour.
    pub fn of(picture: &ff::frame::Video, colour: Colour, geometry: Geometry) -> Option<Self> {
        let format_fits = matches!(picture.format(), Pixel::YUV420P | Pixel::YUVJ420P);
        let plain = colour.dynamic_range == DynamicRange::Sdr && !colour.wide_primaries;
        let even = picture.width().is_multiple_of(2) && picture.height().is_multiple_of(2);
        let turned = geometry.orientation != Orientation::default();
        if !format_fits || !plain || geometry.square != geometry.stored || (turned && !even) {
            return None;
        }
        let sums = Sums::from(colour)?;
        let (width, height) = (picture.width() as usize, picture.height() as usize);
        let planes = sums.planes(picture, width, height);
        Some(planes.turned(geometry.orientation))
    }

    fn turned(self, orientation: Orientation) -> Self {
        if orientation == Orientation::default() {
            return self;
        }
        let turn = |bytes: &[u8], width: usize, height: usize| {
            upright::<1>(Rows { bytes, stride: width, width, height }, orientation)
        };
        let half = (self.width / 2, self.height / 2);
        let (width, height) = orientation.upright_size((self.width as u32, self.height as u32));
        Self {
            luma: turn(&self.luma, self.width, self.height),
            blue: turn(&self.blue, half.0, half.1),
            red: turn(&self.red, half.0, half.1),
            width: width as usize,
            height: height as usize,
        }
    }
}

/// The three sums, in 65536ths.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Sums {
    /// Luma by luma (before which `black` is taken off), blue and red chroma.
    luma: [i32; 3],
    black: i32,
    /// Blue chroma by blue and red chroma, and red likewise.
    blue: [i32; 2],
    red: [i32; 2],
}

const ONE: f64 = 65536.0;

/// Shares of red and blue in luma: ITU-R BT.601 and BT.709.
const BT601: (f64, f64) = (0.299, 0.114);
const BT709: (f64, f64) = (0.2126, 0.0722);

impl Sums {
    fn from(colour: Colour) -> Option<Self> {
        let (red, blue) = match colour.matrix {
            Matrix::Bt601 => BT601,
            Matrix::Bt709 => BT709,
            _ => return None,
        };
        let (luma_gain, chroma_gain, black) =
            if colour.full_range { (1.0, 1.0, 0) } else { (255.0 / 219.0, 255.0 / 224.0, 16) };
        // Red, green and blue less luma, of blue chroma and of red chroma.
        let green = 1.0 - red - blue;
        let by_blue =
            [0.0, -2.0 * blue * (1.0 - blue) / green, 2.0 * (1.0 - blue)].map(|x| x * chroma_gain);
        let by_red =
            [2.0 * (1.0 - red), -2.0 * red * (1.0 - red) / green, 0.0].map(|x| x * chroma_gain);
        let luma_of = |rgb: [f64; 3]| {
            BT601.0 * rgb[0] + (1.0 - BT601.0 - BT601.1) * rgb[1] + BT601.1 * rgb[2]
        };
        let fixed = |x: f64| (x * ONE).round() as i32;
        let blue_of = |rgb: [f64; 3]| (rgb[2] - luma_of(rgb)) / (2.0 * (1.0 - BT601.1));
        let red_of = |rgb: [f64; 3]| (rgb[0] - luma_of(rgb)) / (2.0 * (1.0 - BT601.0));
        Some(Self {
            luma: [fixed(luma_gain), fixed(luma_of(by_blue)), fixed(luma_of(by_red))],
            black,
            blue: [fixed(blue_of(by_blue)), fixed(blue_of(by_red))],
            red: [fixed(red_of(by_blue)), fixed(red_of(by_red))],
        })
    }

    /// Two rows of luma and one of chroma at a time.
    fn planes(&self, picture: &ff::frame::Video, width: usize, height: usize) -> JpegPlanes {
        let (half_width, half_height) = (width.div_ceil(2), height.div_ceil(2));
        let row = |plane: usize, y: usize, width: usize| {
            &picture.data(plane)[y * picture.stride(plane)..][..width]
        };
        let mut luma = vec![0; width * height];
        let mut blue = vec![0; half_width * half_height];
        let mut red = vec![0; half_width * half_height];
        luma.par_chunks_mut(2 * width)
            .zip(blue.par_chunks_mut(half_width).zip(red.par_chunks_mut(half_width)))
            .enumerate()
            .for_each(|(y, (luma, (blue, red)))| {
                let chroma = (row(1, y, half_width), row(2, y, half_width));
                for (line, out) in luma.chunks_mut(width).enumerate() {
                    self.luma_row(row(0, 2 * y + line, width), chroma, out);
                }
                self.chroma_row(chroma, blue, red);
            });
        JpegPlanes { width, height, luma, blue, red }
    }

    fn luma_row(&self, luma: &[u8], (blue, red): (&[u8], &[u8]), out: &mut [u8]) {
        let [gain, by_blue, by_red] = self.luma;
        let half = 1 << 15;
        for ((out, luma), (blue, red)) in
            out.chunks_mut(2).zip(luma.chunks(2)).zip(blue.iter().zip(red))
        {
            let chroma = by_blue * (i32::from(*blue) - 128) + by_red * (i32::from(*red) - 128);
            let base = chroma + half - gain * self.black;
            for (out, luma) in out.iter_mut().zip(luma) {
                *out = ((gain * i32::from(*luma) + base) >> 16).clamp(0, 255) as u8;
            }
        }
    }

    fn chroma_row(&self, (blue, red): (&[u8], &[u8]), out_blue: &mut [u8], out_red: &mut [u8]) {
        let middle = (128 << 16) + (1 << 15);
        let out = out_blue.iter_mut().zip(out_red);
        for ((to_blue, to_red), (blue, red)) in out.zip(blue.iter().zip(red)) {
            let (b, r) = (i32::from(*blue) - 128, i32::from(*red) - 128);
            let sum = |by: [i32; 2]| ((by[0] * b + by[1] * r + middle) >> 16).clamp(0, 255) as u8;
            (*to_blue, *to_red) = (sum(self.blue), sum(self.red));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn colour(matrix: Matrix, full_range: bool) -> Colour {
        Colour {
            matrix,
            matrix_guessed: false,
            full_range,
            dynamic_range: DynamicRange::Sdr,
            wide_primaries: false,
        }
    }

    #[test]
    fn what_a_jpeg_holds_already_stays_as_it_is() {
        let sums = Sums::from(colour(Matrix::Bt601, true)).unwrap();
        assert_eq!(sums, Sums { luma: [65536, 0, 0], black: 0, blue: [65536, 0], red: [0, 65536] });
        assert_eq!(Sums::from(colour(Matrix::Bt2020, false)), None);
    }

    #[test]
    fn pure_colours_of_high_definition_become_those_of_a_jpeg() {
        // BT.709 in studio range, 100 % bars, and the same colours in JFIF: both from the definitions of the
        // standards (BT.709 3.2 to 3.4, T.871 7), rounded by hand.
        let sums = Sums::from(colour(Matrix::Bt709, false)).unwrap();
        for ((y, b, r), wanted) in [
            ((63, 102, 240), (76, 85, 255)),  // red
            ((173, 42, 26), (150, 44, 21)),   // green
            ((32, 240, 118), (29, 255, 107)), // blue
            ((235, 128, 128), (255, 128, 128)),
            ((16, 128, 128), (0, 128, 128)),
        ] {
            let mut luma = [0];
            sums.luma_row(&[y], (&[b], &[r]), &mut luma);
            let (mut blue, mut red) = ([0], [0]);
            sums.chroma_row((&[b], &[r]), &mut blue, &mut red);
            let near = |a: u8, b: u8| a.abs_diff(b) <= 2;
            assert!(
                near(luma[0], wanted.0) && near(blue[0], wanted.1) && near(red[0], wanted.2),
                "{:?} for {wanted:?}",
                (luma[0], blue[0], red[0])
            );
        }
    }
}
