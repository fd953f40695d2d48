//! From a decoded picture to an upright, square-pixel, 8-bit sRGB one.
//!
//! One pass of the scaler does matrix, range and pixel aspect; a tone map follows where the clip is HDR or has wider
//! colours than a screen; turning upright is the copy into the final picture. The axis with the wider pixels is
//! enlarged, so no resolution is lost. Invariant: the result always has the clip's upright size.

use ff::format::Pixel;
use ffmpeg_next as ff;
use image::{GrayImage, RgbImage};
use rayon::prelude::*;

use super::colour::{Colour, ColourTags, Matrix};
use super::hdr::ToneMap;
use super::jpeg_planes::JpegPlanes;
use super::luma;
use super::orientation::{Orientation, Rows, upright};
use super::scale::{Conversion, Scaler};

/// What every picture of a clip has in common.
#[derive(Clone, Copy, Debug)]
pub struct Geometry {
    /// As the codec stores it.
    pub stored: (u32, u32),
    /// With square pixels, before it is turned.
    pub square: (u32, u32),
    pub orientation: Orientation,
}

impl Geometry {
    pub fn upright(&self) -> (u32, u32) {
        self.orientation.upright_size(self.square)
    }
}

/// Why a decoded picture could not be converted.
#[derive(Debug)]
pub enum PictureError {
    Size { found: (u32, u32) },
    Scaler(ff::Error),
}

impl From<ff::Error> for PictureError {
    fn from(cause: ff::Error) -> PictureError {
        PictureError::Scaler(cause)
    }
}

/// Converts the pictures of one clip; keeps its scalers and tables between pictures.
pub struct Converter {
    geometry: Geometry,
    colour: Colour,
    to_rgb: Option<Scaler>,
    to_luma: Option<Scaler>,
    to_square_luma: Option<Scaler>,
    to_jpeg: Option<Scaler>,
    tone_map: Option<ToneMap>,
}

impl Converter {
    /// `colour` is the clip's own, for pictures that do not carry theirs.
    pub fn new(geometry: Geometry, colour: Colour) -> Converter {
        Converter {
            geometry,
            colour,
            to_rgb: None,
            to_luma: None,
            to_square_luma: None,
            to_jpeg: None,
            tone_map: None,
        }
    }

    pub fn rgb(&mut self, picture: &ff::frame::Video) -> Result<RgbImage, PictureError> {
        self.check_size(picture)?;
        let colour = self.colour_of(picture);
        if self.tone_map.as_ref().is_none_or(|map| map.colour() != colour) {
            self.tone_map = ToneMap::for_colour(colour);
        }
        // Planes, because the scaler is ten times faster at them than at pixels.
        let to = if self.tone_map.is_some() { Pixel::GBRP12LE } else { Pixel::GBRP };
        let conversion = Conversion {
            from: picture.format(),
            from_size: self.geometry.stored,
            to,
            to_size: self.geometry.square,
            matrix: colour.matrix,
            from_full_range: colour.full_range,
            to_full_range: true,
        };
        let scaled = scaler(&mut self.to_rgb, conversion)?.run(picture)?;
        let pixels = turned(pixels_of(scaled, self.tone_map.as_ref()), self.geometry);
        let (width, height) = self.geometry.upright();
        Ok(filled(RgbImage::from_raw(width, height, pixels)))
    }

    /// The planes that a JPEG file holds: from the decoder's own where those can be read, else by way of RGB.
    pub fn jpeg_planes(&mut self, picture: &ff::frame::Video) -> Result<JpegPlanes, PictureError> {
        self.check_size(picture)?;
        if let Some(planes) = JpegPlanes::of(picture, self.colour_of(picture), self.geometry) {
            return Ok(planes);
        }
        let rgb = self.rgb(picture)?;
        Ok(planes_of(&rgb, &mut self.to_jpeg)?)
    }

    /// The numbers of the luma plane, brought to 8 bits by dropping the lowest ones.
    pub fn luma(&mut self, picture: &ff::frame::Video) -> Result<GrayImage, PictureError> {
        self.check_size(picture)?;
        let gray = luma::plane(picture);
        let orientation = self.geometry.orientation;
        let square = self.geometry.square == self.geometry.stored;
        let pixels = match gray {
            Some(plane) if square => upright::<1>(plane.rows(), orientation),
            Some(plane) => {
                let conversion =
                    gray_conversion(Pixel::GRAY8, self.geometry.stored, self.geometry.square);
                let scaler = scaler(&mut self.to_square_luma, conversion)?;
                upright::<1>(rows(scaler.run(&plane.to_picture())?), orientation)
            }
            // Formats without a luma plane to read: let the scaler make one.
            None => {
                let conversion =
                    gray_conversion(picture.format(), self.geometry.stored, self.geometry.square);
                upright::<1>(
                    rows(scaler(&mut self.to_luma, conversion)?.run(picture)?),
                    orientation,
                )
            }
        };
        let (width, height) = self.geometry.upright();
        Ok(filled(GrayImage::from_raw(width, height, pixels)))
    }

    fn check_size(&self, picture: &ff::frame::Video) -> Result<(), PictureError> {
        let found = (picture.width(), picture.height());
        if found != self.geometry.stored {
            return Err(PictureError::Size { found });
        }
        Ok(())
    }

    /// The picture's own colour tags; where it names no matrix, the clip's.
    fn colour_of(&self, picture: &ff::frame::Video) -> Colour {
        let own = Colour::read(ColourTags::of_picture(picture), picture.height());
        if own.matrix_guessed && !self.colour.matrix_guessed {
            return Colour { matrix: self.colour.matrix, matrix_guessed: false, ..own };
        }
        own
    }
}

/// The planes of a JPEG file, of an upright picture.
pub fn planes_of(rgb: &RgbImage, slot: &mut Option<Scaler>) -> Result<JpegPlanes, ff::Error> {
    let (width, height) = rgb.dimensions();
    let conversion = Conversion {
        from: Pixel::RGB24,
        from_size: (width, height),
        to: Pixel::YUVJ420P,
        to_size: (width, height),
        matrix: Matrix::Bt601,
        from_full_range: true,
        to_full_range: true,
    };
    let mut picture = ff::frame::Video::new(Pixel::RGB24, width, height);
    let (stride, row_bytes) = (picture.stride(0), width as usize * 3);
    let rows = picture.data_mut(0).chunks_mut(stride);
    for (to, from) in rows.zip(rgb.as_raw().chunks_exact(row_bytes)) {
        to[..row_bytes].copy_from_slice(from);
    }
    let scaled = scaler(slot, conversion)?.run(&picture)?;
    let plane = |index: usize, width: usize, height: usize| -> Vec<u8> {
        let rows = scaled.data(index).chunks(scaled.stride(index)).take(height);
        rows.flat_map(|row| &row[..width]).copied().collect()
    };
    let (width, height) = (width as usize, height as usize);
    let half = (width.div_ceil(2), height.div_ceil(2));
    Ok(JpegPlanes {
        width,
        height,
        luma: plane(0, width, height),
        blue: plane(1, half.0, half.1),
        red: plane(2, half.0, half.1),
    })
}

/// The scaler in the slot, made anew if it does another conversion.
fn scaler(slot: &mut Option<Scaler>, conversion: Conversion) -> Result<&mut Scaler, ff::Error> {
    let fits = slot.as_ref().is_some_and(|scaler| *scaler.conversion() == conversion);
    let ready = match slot.take() {
        Some(ready) if fits => ready,
        _ => Scaler::new(conversion)?,
    };
    Ok(slot.insert(ready))
}

fn gray_conversion(from: Pixel, from_size: (u32, u32), to_size: (u32, u32)) -> Conversion {
    Conversion {
        from,
        from_size,
        to: Pixel::GRAY8,
        to_size,
        matrix: Matrix::Bt709,
        // The same on both sides, so that numbers are not stretched.
        from_full_range: true,
        to_full_range: true,
    }
}

/// Pixels from the planes G, B, R, through the tone map where there is one.
fn pixels_of(planes: &ff::frame::Video, tone_map: Option<&ToneMap>) -> Vec<u8> {
    let (width, height) = (planes.width() as usize, planes.height() as usize);
    let bytes_per_number = if tone_map.is_some() { 2 } else { 1 };
    let row_of = |plane: usize, y: usize| {
        &planes.data(plane)[y * planes.stride(plane)..][..width * bytes_per_number]
    };
    let mut pixels = vec![0; width * height * 3];
    pixels.par_chunks_mut(width * 3).enumerate().for_each(|(y, out)| {
        let rgb = [row_of(2, y), row_of(0, y), row_of(1, y)];
        match tone_map {
            Some(map) => map.map_row(rgb, out),
            None => interleave(rgb, out),
        }
    });
    pixels
}

fn interleave([red, green, blue]: [&[u8]; 3], out: &mut [u8]) {
    let width = red.len().min(green.len()).min(blue.len()).min(out.len() / 3);
    let (red, green, blue, out) =
        (&red[..width], &green[..width], &blue[..width], &mut out[..width * 3]);
    for x in 0..width {
        out[3 * x] = red[x];
        out[3 * x + 1] = green[x];
        out[3 * x + 2] = blue[x];
    }
}

/// The picture that the pixels fill exactly.
#[expect(clippy::expect_used, reason = "turning keeps the number of pixels")]
fn filled<T>(picture: Option<T>) -> T {
    picture.expect("as many pixels as width times height")
}

fn turned(pixels: Vec<u8>, geometry: Geometry) -> Vec<u8> {
    if geometry.orientation == Orientation::default() {
        return pixels;
    }
    let (width, height) = (geometry.square.0 as usize, geometry.square.1 as usize);
    let stored = Rows { bytes: &pixels, stride: width * 3, width, height };
    upright::<3>(stored, geometry.orientation)
}

fn rows(picture: &ff::frame::Video) -> Rows<'_> {
    Rows {
        bytes: picture.data(0),
        stride: picture.stride(0),
        width: picture.width() as usize,
        height: picture.height() as usize,
    }
}
