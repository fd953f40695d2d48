//! Many frames side by side, each with its number and time, to find the one of first contact.

use std::fmt::Write;

use image::imageops::{FilterType, crop_imm, resize};
use image::{Rgb, RgbImage};

use super::mark_cross::{ShownMarks, draw_marks, escaped};
use super::spots::Crop;
use crate::draw::{Colour, RasterError, Theme, lay};

/// As wide as a picture is drawn when nobody said, output pixels.
const USUAL_WIDTH: f64 = 400.0;
/// Wide over high that the whole aims at.
const SHAPE: f64 = 1.5;
/// Around everything, and between pictures.
const MARGIN: u32 = 28;
const GAP: u32 = 16;
/// Room for the title, and for what is said above each picture.
const TITLE: u32 = 44;
const CAPTION: u32 = 30;
/// Neither side may be longer.
const LONGEST: u32 = 12_000;
const THEME: Theme = Theme::LIGHT;

/// What to draw.
pub(super) struct ContactSheet {
    /// Said above everything.
    pub title: String,
    /// The part of each picture to show; it lies on the picture.
    pub crop: Crop,
    /// How many times larger; what fits when nobody said.
    pub enlarge: Option<u32>,
}

/// One frame of it.
pub(super) struct Cell {
    /// "frame 112".
    pub frame: String,
    /// "1.867 s".
    pub time: String,
    /// The whole picture.
    pub picture: RgbImage,
    pub marks: ShownMarks,
    /// Parts of the picture are guessed.
    pub guessed: bool,
}

/// Why it could not be drawn.
#[derive(Debug, thiserror::Error)]
pub(super) enum ContactSheetError {
    /// More pixels than can be looked at.
    #[error(
        "cannot draw the contact sheet: it would have {width} × {height} px (at most {LONGEST} \
         each needed)"
    )]
    TooLarge { width: u32, height: u32 },
    /// The drawing library refused.
    #[error("cannot draw the contact sheet")]
    NotDrawn(#[from] RasterError),
}

impl ContactSheet {
    /// The size of one picture as drawn.
    fn cell_size(&self) -> (u32, u32) {
        let (wide, high) = (f64::from(self.crop.width), f64::from(self.crop.height));
        let scale = match self.enlarge {
            Some(times) => f64::from(times),
            // Whole numbers keep pixels square.
            None if wide <= USUAL_WIDTH => (USUAL_WIDTH / wide).floor().min(16.0),
            None => USUAL_WIDTH / wide,
        };
        ((wide * scale).round().max(1.0) as u32, (high * scale).round().max(1.0) as u32)
    }

    /// Scales a picture as it is to be shown; called as each is read, so that the large ones need
    /// not all be kept.
    pub(super) fn shown(&self, picture: &RgbImage) -> RgbImage {
        let Crop { x, y, width, height } = self.crop;
        let part = crop_imm(picture, x, y, width, height).to_image();
        let (wide, high) = self.cell_size();
        let filter = if wide >= width { FilterType::Nearest } else { FilterType::Triangle };
        resize(&part, wide, high, filter)
    }

    /// How many columns bring `count` pictures nearest to the shape wanted.
    fn columns(&self, count: usize) -> usize {
        let (wide, high) = self.cell_size();
        let shape = |columns: usize| {
            let rows = count.div_ceil(columns);
            let wide = columns as f64 * f64::from(wide + GAP);
            (wide / (rows as f64 * f64::from(high + CAPTION + GAP)) / SHAPE).ln().abs()
        };
        (1..=count.max(1)).min_by(|a, b| shape(*a).total_cmp(&shape(*b))).unwrap_or(1)
    }

    /// The drawing of cells whose pictures were made by [`Self::shown`].
    pub(super) fn draw(&self, cells: &[Cell]) -> Result<RgbImage, ContactSheetError> {
        let (wide, high) = self.cell_size();
        let columns = self.columns(cells.len()) as u32;
        let rows = (cells.len() as u32).div_ceil(columns);
        let side = |count: u32, one: u32| count * (one + GAP) - GAP + 2 * MARGIN;
        let width = side(columns, wide).max(2 * MARGIN + 560);
        let height = side(rows, high + CAPTION) + TITLE;
        if width.max(height) > LONGEST {
            return Err(ContactSheetError::TooLarge { width, height });
        }
        let Colour { red, green, blue } = THEME.paper;
        let mut drawn = RgbImage::from_pixel(width, height, Rgb([red, green, blue]));
        let mut svg = format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='{width}' height='{height}'>\
             <text x='{MARGIN}' y='{}' font-size='20' font-weight='bold' fill='{}'>{}</text>",
            MARGIN + 18,
            THEME.ink.hex(),
            escaped(&self.title)
        );
        for (index, cell) in (0..).zip(cells) {
            let left = MARGIN + (index % columns) * (wide + GAP);
            let top = MARGIN + TITLE + (index / columns) * (high + CAPTION + GAP);
            let picture_top = top + CAPTION;
            image::imageops::replace(
                &mut drawn,
                &cell.picture,
                i64::from(left),
                i64::from(picture_top),
            );
            caption(&mut svg, cell, (left, top), wide);
            let _ = write!(
                svg,
                "<rect x='{}' y='{}' width='{}' height='{}' fill='none' stroke='{}'/>",
                f64::from(left) - 0.5,
                f64::from(picture_top) - 0.5,
                wide + 1,
                high + 1,
                THEME.line.hex()
            );
            let scale = f64::from(wide) / f64::from(self.crop.width);
            let corner = (f64::from(left), f64::from(picture_top));
            draw_marks(&mut svg, &cell.marks, self.crop, corner, scale);
        }
        svg.push_str("</svg>");
        lay(&mut drawn, &svg)?;
        Ok(drawn)
    }
}

/// Number and time, at the right what is marked or to be doubted.
fn caption(svg: &mut String, cell: &Cell, (left, top): (u32, u32), wide: u32) {
    let base = top + 20;
    let _ = write!(
        svg,
        "<text x='{left}' y='{base}' font-size='17' fill='{}'><tspan font-weight='bold'>{}</tspan>\
         <tspan fill='{}' dx='9'>{}</tspan></text>",
        THEME.ink.hex(),
        escaped(&cell.frame),
        THEME.muted.hex(),
        escaped(&cell.time)
    );
    let marked = cell.marks.names().count();
    let (words, colour) = match (cell.guessed, marked) {
        (true, _) => ("! damaged".to_owned(), THEME.doubt),
        (false, 0) => return,
        (false, 1) => ("1 mark".to_owned(), THEME.leading),
        (false, many) => (format!("{many} marks"), THEME.leading),
    };
    let _ = write!(
        svg,
        "<text x='{}' y='{base}' font-size='15' text-anchor='end' fill='{}'>{words}</text>",
        left + wide,
        colour.hex()
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(width: u32, height: u32) -> ContactSheet {
        let crop = Crop { x: 4, y: 2, width, height };
        ContactSheet { title: "t".into(), crop, enlarge: None }
    }

    #[test]
    fn pictures_get_a_size_that_can_be_read() {
        assert_eq!(sheet(100, 60).cell_size(), (400, 240));
        assert_eq!(sheet(150, 60).cell_size(), (300, 120));
        assert_eq!(sheet(1920, 1080).cell_size(), (400, 225));
        let asked = ContactSheet { enlarge: Some(2), ..sheet(150, 60) };
        assert_eq!(asked.cell_size(), (300, 120));
    }

    #[test]
    fn the_whole_is_somewhat_wider_than_high() {
        assert_eq!(sheet(1920, 1080).columns(15), 4);
        assert_eq!(sheet(100, 60).columns(1), 1);
    }

    #[test]
    fn each_picture_stands_in_its_place() {
        let sheet = sheet(40, 20);
        let picture = RgbImage::from_fn(64, 32, |x, _| Rgb([x as u8, 200, 9]));
        let cell = || Cell {
            frame: "frame 3".into(),
            time: "0.1 s".into(),
            picture: sheet.shown(&picture),
            marks: ShownMarks::default(),
            guessed: false,
        };
        let drawn = sheet.draw(&[cell(), cell(), cell()]).unwrap();
        let corner = (MARGIN, MARGIN + TITLE + CAPTION);
        assert_eq!(drawn.get_pixel(corner.0, corner.1).0, [4, 200, 9]);
        let second = corner.0 + 400 + GAP;
        assert_eq!(drawn.get_pixel(second + 399, corner.1 + 199).0, [43, 200, 9]);
    }
}
