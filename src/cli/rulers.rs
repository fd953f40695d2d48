//! A picture between four rulers in pixels, with a fine grid, so that a person can read the
//! coordinates of any point off it.
//!
//! The number at a tick is the coordinate of that line in the upright picture: 0 is the outer
//! edge of the first pixel.

use std::fmt::Write;

use image::{Rgb, RgbImage};

use super::mark_cross::{ShownMarks, draw_marks, escaped};
use super::spots::Crop;
use crate::draw::{RasterError, lay};

/// Room for the rulers, output pixels.
const LEFT: u32 = 58;
const RIGHT: u32 = 58;
const TOP: u32 = 58;
const BOTTOM: u32 = 34;
const FONT: f64 = 14.0;
/// Room for the title, however narrow the picture.
const NARROWEST: u32 = 560;
/// Two labels may not come closer than this.
const LABEL_GAP: f64 = 72.0;
/// Two ticks may not come closer than this.
const TICK_GAP: f64 = 6.0;
/// Neither side of the drawing may be longer.
const LONGEST: u32 = 12_000;

/// What to draw around and over a picture.
pub(super) struct Rulers {
    /// Said above the picture.
    pub title: String,
    /// The part of the picture to show; it lies on the picture.
    pub crop: Crop,
    /// How many times larger.
    pub enlarge: u32,
    /// Marks to show.
    pub marks: ShownMarks,
}

/// Why the rulers could not be drawn.
#[derive(Debug, thiserror::Error)]
pub(super) enum RulersError {
    /// More pixels than can be looked at.
    #[error(
        "cannot draw the frame: it would have {width} × {height} px (at most {LONGEST} each needed)"
    )]
    TooLarge { width: u64, height: u64 },
    /// The drawing library refused.
    #[error("cannot draw the rulers")]
    NotDrawn(#[from] RasterError),
}

impl Rulers {
    /// The drawing.
    pub(super) fn draw(&self, picture: &RgbImage) -> Result<RgbImage, RulersError> {
        let (width, height) = self.size()?;
        let mut drawn = RgbImage::from_pixel(width, height, Rgb([255; 3]));
        self.fill(&mut drawn, picture);
        lay(&mut drawn, &self.svg(width, height))?;
        Ok(drawn)
    }

    fn size(&self) -> Result<(u32, u32), RulersError> {
        let side =
            |pixels: u32, room: u32| u64::from(pixels) * u64::from(self.enlarge) + u64::from(room);
        let (width, height) =
            (side(self.crop.width, LEFT + RIGHT), side(self.crop.height, TOP + BOTTOM));
        if width.max(height) > u64::from(LONGEST) {
            return Err(RulersError::TooLarge { width, height });
        }
        Ok((width.max(u64::from(NARROWEST)) as u32, height as u32))
    }

    /// The picture, each of its pixels a square.
    fn fill(&self, canvas: &mut RgbImage, picture: &RgbImage) {
        let Crop { x, y, width, height } = self.crop;
        for row in 0..height * self.enlarge {
            for column in 0..width * self.enlarge {
                let colour = picture.get_pixel(x + column / self.enlarge, y + row / self.enlarge);
                canvas.put_pixel(LEFT + column, TOP + row, *colour);
            }
        }
    }

    /// Everything but the picture.
    fn svg(&self, width: u32, height: u32) -> String {
        let across = Axis::new(self.crop.x, self.crop.width, self.enlarge, LEFT);
        let down = Axis::new(self.crop.y, self.crop.height, self.enlarge, TOP);
        let mut svg = format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='{width}' height='{height}' \
             font-family='Noto Sans' font-size='{FONT}' fill='#111'>\
             <text x='{}' y='22' font-size='16'>{}</text>",
            across.start,
            escaped(&self.heading())
        );
        for at in across.labelled() {
            grid_line(&mut svg, (at, down.start), (at, down.end));
        }
        for at in down.labelled() {
            grid_line(&mut svg, (across.start, at), (across.end, at));
        }
        rule_across(&mut svg, &across, &down);
        rule_down(&mut svg, &across, &down);
        let corner = (across.start, down.start);
        draw_marks(&mut svg, &self.marks, self.crop, corner, f64::from(self.enlarge));
        svg.push_str("</svg>");
        svg
    }

    fn heading(&self) -> String {
        let Crop { x, y, width, height } = self.crop;
        let mut heading = format!("{}: {width} × {height} px from {x},{y}", self.title);
        if self.enlarge > 1 {
            let _ = write!(heading, ", {} times enlarged", self.enlarge);
        }
        heading
    }
}

/// One direction of the picture, from its pixels to those of the drawing.
struct Axis {
    first: f64,
    last: f64,
    scale: f64,
    start: f64,
    end: f64,
    /// Pixels from label to label, and from tick to tick.
    label_step: f64,
    tick_step: f64,
}

impl Axis {
    fn new(first: u32, length: u32, enlarge: u32, room: u32) -> Self {
        let scale = f64::from(enlarge);
        let start = f64::from(room);
        let label_step = round_step(LABEL_GAP / scale);
        let parts = [10.0, 5.0, 2.0].into_iter().find(|parts| {
            let step = label_step / parts;
            step * scale >= TICK_GAP && (step.fract() == 0.0 || step == 0.5)
        });
        Self {
            first: f64::from(first),
            last: f64::from(first + length),
            scale,
            start,
            end: start + f64::from(length) * scale,
            label_step,
            tick_step: label_step / parts.unwrap_or(1.0),
        }
    }

    fn at(&self, pixel: f64) -> f64 {
        self.start + (pixel - self.first) * self.scale
    }

    fn multiples(&self, step: f64) -> impl Iterator<Item = f64> {
        let (from, to) = ((self.first / step).ceil() as u64, (self.last / step).floor() as u64);
        (from..=to).map(move |number| number as f64 * step)
    }

    /// Where labelled lines are drawn.
    fn labelled(&self) -> impl Iterator<Item = f64> {
        self.multiples(self.label_step).map(|pixel| self.at(pixel))
    }

    /// Every tick: its pixel, where it is drawn, and whether it is labelled.
    fn ticks(&self) -> impl Iterator<Item = (f64, f64, bool)> {
        self.multiples(self.tick_step).map(|pixel| {
            let labelled = (pixel / self.label_step).fract() == 0.0;
            (pixel, self.at(pixel), labelled)
        })
    }
}

/// 1, 2 or 5 times a power of ten, at least `least` and at least 1.
fn round_step(least: f64) -> f64 {
    let powers = (0..6).map(|power| 10f64.powi(power));
    let steps = powers.flat_map(|power| [power, 2.0 * power, 5.0 * power]);
    steps.into_iter().find(|step| *step >= least).unwrap_or(1e6)
}

/// Light and dark dashes in turn, to be seen on sand and on woods and to hide little.
fn grid_line(svg: &mut String, from: (f64, f64), to: (f64, f64)) {
    for (colour, offset) in [("#000", 0), ("#fff", 3)] {
        let _ = write!(
            svg,
            "<line x1='{}' y1='{}' x2='{}' y2='{}' stroke='{colour}' stroke-opacity='0.5' \
             stroke-dasharray='3 3' stroke-dashoffset='{offset}'/>",
            from.0, from.1, to.0, to.1
        );
    }
}

fn tick(svg: &mut String, from: (f64, f64), to: (f64, f64)) {
    let ((x1, y1), (x2, y2)) = (from, to);
    let _ = write!(svg, "<line x1='{x1}' y1='{y1}' x2='{x2}' y2='{y2}' stroke='#111'/>");
}

fn label(svg: &mut String, at: (f64, f64), anchor: &str, pixel: f64) {
    let (x, y) = at;
    let _ = write!(svg, "<text x='{x}' y='{y}' text-anchor='{anchor}'>{pixel}</text>");
}

fn rule_across(svg: &mut String, across: &Axis, down: &Axis) {
    for (pixel, at, labelled) in across.ticks() {
        let length = if labelled { 10.0 } else { 5.0 };
        tick(svg, (at, down.start - length), (at, down.start));
        tick(svg, (at, down.end), (at, down.end + length));
        if labelled {
            label(svg, (at, down.start - 14.0), "middle", pixel);
            label(svg, (at, down.end + 25.0), "middle", pixel);
        }
    }
}

fn rule_down(svg: &mut String, across: &Axis, down: &Axis) {
    for (pixel, at, labelled) in down.ticks() {
        let length = if labelled { 10.0 } else { 5.0 };
        tick(svg, (across.start - length, at), (across.start, at));
        tick(svg, (across.end, at), (across.end + length, at));
        if labelled {
            label(svg, (across.start - 14.0, at + 5.0), "end", pixel);
            label(svg, (across.end + 14.0, at + 5.0), "start", pixel);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_round_and_far_enough_apart() {
        assert_eq!(round_step(72.0), 100.0);
        assert_eq!(round_step(18.0), 20.0);
        assert_eq!(round_step(0.3), 1.0);
        let axis = Axis::new(395, 200, 4, LEFT);
        assert_eq!((axis.label_step, axis.tick_step), (20.0, 2.0));
        assert_eq!(axis.labelled().next(), Some(58.0 + 5.0 * 4.0));
        assert_eq!(axis.ticks().filter(|(_, _, labelled)| *labelled).count(), 10);
    }

    #[test]
    fn a_huge_drawing_is_refused() {
        let crop = Crop { x: 0, y: 0, width: 3000, height: 20 };
        let rulers =
            Rulers { title: String::new(), crop, enlarge: 5, marks: ShownMarks::default() };
        let picture = RgbImage::new(3000, 20);
        assert!(matches!(rulers.draw(&picture), Err(RulersError::TooLarge { .. })));
    }
}
