//! A drawing as a file: SVG as it is, or pixels.

use std::path::Path;

use image::{DynamicImage, RgbImage};

use super::Failure;
use super::file_kind::FileKind;
use super::pictures::encoded;
use crate::draw::{Colour, Drawing, raster};
use crate::store::{StoreError, write_whole};

/// The kinds of file that a drawing can be.
pub(super) const DRAWN: [FileKind; 3] = [FileKind::Svg, FileKind::Png, FileKind::Jpeg];

/// Pixels per unit of a drawing: a chart as wide as a page is sharp on a large screen.
const PIXELS_PER_UNIT: f64 = 3.0;

/// Writes `drawing` as the kind of file that `path` names; pixels lie on `paper`.
pub(super) fn write_drawing(
    path: &Path,
    kind: FileKind,
    drawing: Drawing,
    paper: Colour,
) -> Result<(), Failure> {
    let bytes = match kind {
        FileKind::Svg => drawing.svg.into_bytes(),
        _ => encoded(&pixels(&drawing, paper)?, kind)?,
    };
    write_whole(path, &bytes)
        .map_err(|source| StoreError::Unwritable { path: path.to_owned(), source }.into())
}

fn pixels(drawing: &Drawing, paper: Colour) -> Result<RgbImage, Failure> {
    let mut drawn = raster(&drawing.svg, PIXELS_PER_UNIT).map_err(Failure::new)?;
    for pixel in drawn.pixels_mut() {
        let [red, green, blue, alpha] = pixel.0;
        let mixed = Colour { red, green, blue }.over(paper, f64::from(alpha) / 255.0);
        pixel.0 = [mixed.red, mixed.green, mixed.blue, 255];
    }
    Ok(DynamicImage::ImageRgba8(drawn).into_rgb8())
}
