//! SVG to pixels by resvg with the embedded fonts, and laying it on a picture.

use std::sync::{Arc, OnceLock};

use image::{Rgb, RgbImage, RgbaImage};
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{self, fontdb};

/// Why a drawing could not be turned into pixels.
#[derive(Debug, thiserror::Error)]
pub enum RasterError {
    /// The text is not an SVG document resvg reads.
    #[error("cannot read the drawing as SVG: {reason}")]
    NotSvg {
        /// What the parser says.
        reason: String,
    },
    /// The picture would have no pixel or too many.
    #[error("cannot draw a picture of {width} × {height} pixels (1 to 20000 on each side needed)")]
    Size {
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
    },
}

/// The fonts drawings are set in: the embedded sans, and any others the caller brings for names
/// in other scripts.
#[derive(Clone, Debug)]
pub struct PictureFonts(Arc<fontdb::Database>);

impl PictureFonts {
    /// Noto Sans, regular and bold.
    pub fn embedded() -> Self {
        static FONTS: OnceLock<PictureFonts> = OnceLock::new();
        let load = || {
            let mut fonts = fontdb::Database::new();
            fonts.load_font_data(notosans::REGULAR_TTF.to_vec());
            fonts.load_font_data(notosans::BOLD_TTF.to_vec());
            fonts.set_sans_serif_family("Noto Sans");
            Self(Arc::new(fonts))
        };
        FONTS.get_or_init(load).clone()
    }

    /// The same with the fonts of one more file's bytes; bytes that are no font add nothing.
    pub fn with_bytes(self, bytes: Vec<u8>) -> Self {
        let mut fonts = Arc::unwrap_or_clone(self.0);
        fonts.load_font_data(bytes);
        Self(Arc::new(fonts))
    }
}

const LARGEST_SIDE: u32 = 20_000;

/// The drawing as pixels, `scale` pixels per unit; clear where nothing is drawn.
pub fn raster(svg: &str, scale: f64) -> Result<RgbaImage, RasterError> {
    let tree = parse(svg, &PictureFonts::embedded())?;
    let size = tree.size();
    let width = (f64::from(size.width()) * scale).round() as u32;
    let height = (f64::from(size.height()) * scale).round() as u32;
    let pixmap = render(&tree, width, height)?;
    let mut picture = RgbaImage::new(width, height);
    for (to, from) in picture.pixels_mut().zip(pixmap.pixels()) {
        let colour = from.demultiply();
        *to = image::Rgba([colour.red(), colour.green(), colour.blue(), colour.alpha()]);
    }
    Ok(picture)
}

/// Draws `svg` over `picture`, stretched to its size, in the embedded fonts.
pub fn lay(picture: &mut RgbImage, svg: &str) -> Result<(), RasterError> {
    lay_with(picture, svg, &PictureFonts::embedded())
}

/// Draws `svg` over `picture`, stretched to its size.
pub fn lay_with(
    picture: &mut RgbImage,
    svg: &str,
    fonts: &PictureFonts,
) -> Result<(), RasterError> {
    let tree = parse(svg, fonts)?;
    let pixmap = render(&tree, picture.width(), picture.height())?;
    for (to, from) in picture.pixels_mut().zip(pixmap.pixels()) {
        let through = 255 - u16::from(from.alpha());
        if through == 255 {
            continue;
        }
        let mix = |over: u8, under: u8| mixed(over, under, through);
        let Rgb([r, g, b]) = *to;
        *to = Rgb([mix(from.red(), r), mix(from.green(), g), mix(from.blue(), b)]);
    }
    Ok(())
}

/// A drawing as pixels, kept to be laid on many pictures.
#[derive(Clone, Debug)]
pub struct Overlay {
    size: (u32, u32),
    runs: Vec<Run>,
    /// Premultiplied, the runs one after the other.
    pixels: Vec<[u8; 4]>,
}

/// Pixels of one row that follow one another and are not clear.
#[derive(Clone, Copy, Debug)]
struct Run {
    x: u32,
    y: u32,
    length: u32,
}

impl Overlay {
    /// `svg` stretched to `width` × `height` pixels, in the embedded fonts.
    pub fn of(svg: &str, (width, height): (u32, u32)) -> Result<Self, RasterError> {
        let tree = parse(svg, &PictureFonts::embedded())?;
        let pixmap = render(&tree, width, height)?;
        let (mut runs, mut pixels): (Vec<Run>, Vec<[u8; 4]>) = (Vec::new(), Vec::new());
        let rows = pixmap.data().chunks_exact(width as usize * 4);
        for (y, row) in (0..).zip(rows) {
            let mut open = false;
            for (x, pixel) in (0..).zip(row.chunks_exact(4)) {
                let drawn = pixel[3] != 0;
                match runs.last_mut() {
                    Some(run) if drawn && open => run.length += 1,
                    _ if drawn => runs.push(Run { x, y, length: 1 }),
                    _ => {}
                }
                open = drawn;
                if drawn {
                    pixels.push([pixel[0], pixel[1], pixel[2], pixel[3]]);
                }
            }
        }
        Ok(Self { size: (width, height), runs, pixels })
    }

    /// Its width and height, pixels.
    pub fn size(&self) -> (u32, u32) {
        self.size
    }

    /// Lays it on `picture`, its left top corner at (`left`, `top`); what would lie outside is
    /// left off.
    pub fn lay_on(&self, picture: &mut RgbImage, (left, top): (u32, u32)) {
        let (width, height) = picture.dimensions();
        let mut from = 0;
        for run in &self.runs {
            let over = &self.pixels[from..from + run.length as usize];
            from += run.length as usize;
            let (x, y) = (left.saturating_add(run.x), top.saturating_add(run.y));
            if x >= width || y >= height {
                continue;
            }
            let length = run.length.min(width - x) as usize;
            let start = (y as usize * width as usize + x as usize) * 3;
            let under: &mut [u8] = picture;
            let under = under[start..start + 3 * length].chunks_exact_mut(3);
            for (to, over) in under.zip(over) {
                let through = 255 - u16::from(over[3]);
                for (to, over) in to.iter_mut().zip(over) {
                    *to = mixed(*over, *to, through);
                }
            }
        }
    }
}

/// A premultiplied channel over another; `through` of 255 shows through.
fn mixed(over: u8, under: u8, through: u16) -> u8 {
    let sum = u16::from(over) * 255 + u16::from(under) * through + 127;
    (sum / 255).min(255) as u8
}

fn parse(svg: &str, fonts: &PictureFonts) -> Result<usvg::Tree, RasterError> {
    let options = usvg::Options {
        font_family: "Noto Sans".to_owned(),
        fontdb: fonts.0.clone(),
        ..usvg::Options::default()
    };
    usvg::Tree::from_str(svg, &options)
        .map_err(|error| RasterError::NotSvg { reason: error.to_string() })
}

fn render(tree: &usvg::Tree, width: u32, height: u32) -> Result<Pixmap, RasterError> {
    if width > LARGEST_SIDE || height > LARGEST_SIDE {
        return Err(RasterError::Size { width, height });
    }
    let mut pixmap = Pixmap::new(width, height).ok_or(RasterError::Size { width, height })?;
    let size = tree.size();
    let transform =
        Transform::from_scale(width as f32 / size.width(), height as f32 / size.height());
    resvg::render(tree, transform, &mut pixmap.as_mut());
    Ok(pixmap)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_half_clear_rectangle_mixes_with_the_picture() {
        let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"4\" height=\"2\">\
                   <rect width=\"2\" height=\"2\" fill=\"#ff0000\" fill-opacity=\"0.5\"/></svg>";
        let mut picture = RgbImage::from_pixel(4, 2, Rgb([0, 100, 200]));
        lay(&mut picture, svg).unwrap();
        assert_eq!(picture.get_pixel(3, 1), &Rgb([0, 100, 200]));
        let Rgb([r, g, b]) = *picture.get_pixel(0, 0);
        assert!(r.abs_diff(128) <= 1 && g.abs_diff(50) <= 1 && b.abs_diff(100) <= 1, "{r} {g} {b}");
    }

    #[test]
    fn text_is_drawn_with_the_embedded_font() {
        let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"60\" height=\"20\">\
                   <text x=\"2\" y=\"15\" font-family=\"Noto Sans\" font-size=\"14\">3.42</text></svg>";
        let picture = raster(svg, 2.0).unwrap();
        assert_eq!(picture.dimensions(), (120, 40));
        assert!(picture.pixels().filter(|pixel| pixel.0[3] > 128).count() > 100);
    }

    #[test]
    fn what_is_no_svg_is_refused() {
        assert!(matches!(raster("hello", 1.0), Err(RasterError::NotSvg { .. })));
        let huge = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"4\" height=\"2\"/>";
        assert!(matches!(raster(huge, 1e5), Err(RasterError::Size { width: 400_000, .. })));
    }
}
