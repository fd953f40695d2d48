//! A small SVG writer: shapes and text in, one safe string out.
//!
//! Text is escaped and stripped of characters XML does not allow; numbers are written with two
//! decimals; a shape with a coordinate that is not a number is left out. No ids, no links, no
//! style sheets: several drawings can stand in one page and nothing is fetched.

use std::fmt::Write;

use super::area::{Area, Spot};
use super::text_line::{TextLine, Weight};
use super::theme::Colour;

/// How a shape is painted.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Paint {
    fill: Option<(Colour, f64)>,
    stroke: Option<(Colour, f64, f64)>,
    dash: Option<(f64, f64)>,
}

/// Where a line of text stands relative to its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// It begins there.
    Start,
    /// Its middle is there.
    Middle,
    /// It ends there.
    End,
}

/// A drawing being written.
#[derive(Clone, Debug)]
pub struct Svg {
    width: f64,
    height: f64,
    title: String,
    body: String,
}

/// A finished drawing and its size.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// The SVG document.
    pub svg: String,
    /// Width in its own units.
    pub width: f64,
    /// Height in its own units.
    pub height: f64,
}

impl Paint {
    /// Filled.
    pub const fn fill(colour: Colour) -> Self {
        Self { fill: Some((colour, 1.0)), stroke: None, dash: None }
    }

    /// Filled so that `opacity` of what is below is hidden.
    pub const fn glaze(colour: Colour, opacity: f64) -> Self {
        Self { fill: Some((colour, opacity)), stroke: None, dash: None }
    }

    /// Drawn as a line.
    pub const fn stroke(colour: Colour, width: f64) -> Self {
        Self { fill: None, stroke: Some((colour, width, 1.0)), dash: None }
    }

    /// The same with an outline.
    pub const fn outlined(mut self, colour: Colour, width: f64) -> Self {
        self.stroke = Some((colour, width, 1.0));
        self
    }

    /// The same with its line partly see-through.
    pub const fn faint(mut self, opacity: f64) -> Self {
        if let Some((colour, width, _)) = self.stroke {
            self.stroke = Some((colour, width, opacity));
        }
        self
    }

    /// The same with its line in dashes.
    pub const fn dashed(mut self, on: f64, off: f64) -> Self {
        self.dash = Some((on, off));
        self
    }

    fn write(&self, out: &mut String) {
        match self.fill {
            None => out.push_str(" fill=\"none\""),
            Some((colour, opacity)) => {
                let _ = write!(out, " fill=\"{}\"", colour.hex());
                if opacity < 1.0 {
                    let _ = write!(out, " fill-opacity=\"{}\"", number(opacity));
                }
            }
        }
        if let Some((colour, width, opacity)) = self.stroke {
            let _ = write!(out, " stroke=\"{}\" stroke-width=\"{}\"", colour.hex(), number(width));
            out.push_str(" stroke-linecap=\"round\" stroke-linejoin=\"round\"");
            if opacity < 1.0 {
                let _ = write!(out, " stroke-opacity=\"{}\"", number(opacity));
            }
            if let Some((on, off)) = self.dash {
                let _ = write!(out, " stroke-dasharray=\"{} {}\"", number(on), number(off));
            }
        }
    }
}

impl Svg {
    /// An empty drawing. `title` is what a screen reader says of it.
    pub fn new(width: f64, height: f64, title: &str) -> Self {
        Self { width, height, title: title.to_owned(), body: String::new() }
    }

    /// A closed shape through `spots`.
    pub fn polygon(&mut self, spots: &[Spot], paint: &Paint) {
        self.shape(spots, "Z", paint);
    }

    /// An open line through `spots`.
    pub fn polyline(&mut self, spots: &[Spot], paint: &Paint) {
        self.shape(spots, "", paint);
    }

    /// A straight line.
    pub fn line(&mut self, from: Spot, to: Spot, paint: &Paint) {
        self.shape(&[from, to], "", paint);
    }

    fn shape(&mut self, spots: &[Spot], end: &str, paint: &Paint) {
        if spots.len() < 2 || !spots.iter().all(|spot| spot.is_finite()) {
            return;
        }
        self.body.push_str("<path d=\"");
        for (i, spot) in spots.iter().enumerate() {
            let verb = if i == 0 { 'M' } else { 'L' };
            let _ = write!(self.body, "{verb}{} {}", number(spot.x), number(spot.y));
        }
        self.body.push_str(end);
        self.body.push('"');
        paint.write(&mut self.body);
        self.body.push_str("/>\n");
    }

    /// A rectangle with rounded corners.
    pub fn rect(&mut self, area: &Area, corner: f64, paint: &Paint) {
        let numbers = [area.left, area.top, area.width(), area.height(), corner];
        if numbers.iter().any(|n| !n.is_finite()) || area.width() <= 0.0 || area.height() <= 0.0 {
            return;
        }
        let [x, y, width, height, radius] = numbers.map(number);
        let _ = write!(
            self.body,
            "<rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" rx=\"{radius}\""
        );
        paint.write(&mut self.body);
        self.body.push_str("/>\n");
    }

    /// A circle.
    pub fn circle(&mut self, middle: Spot, radius: f64, paint: &Paint) {
        if !middle.is_finite() || !radius.is_finite() || radius <= 0.0 {
            return;
        }
        let [x, y, r] = [middle.x, middle.y, radius].map(number);
        let _ = write!(self.body, "<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\"");
        paint.write(&mut self.body);
        self.body.push_str("/>\n");
    }

    /// A line of text whose base line is at `at`.
    pub fn text(&mut self, line: &TextLine, at: Spot, anchor: Anchor) {
        if !at.is_finite() || line.runs.is_empty() {
            return;
        }
        // The start is computed here, so that a viewer with another font keeps the left edge.
        let x = match anchor {
            Anchor::Start => at.x,
            Anchor::Middle => at.x - line.width() / 2.0,
            Anchor::End => at.x - line.width(),
        };
        let _ = write!(
            self.body,
            "<text x=\"{}\" y=\"{}\" font-family=\"Noto Sans, sans-serif\" xml:space=\"preserve\">",
            number(x),
            number(at.y)
        );
        for run in &line.runs {
            let _ = write!(
                self.body,
                "<tspan font-size=\"{}\" font-weight=\"{}\" fill=\"{}\">",
                number(run.size),
                match run.weight {
                    Weight::Regular => 400,
                    Weight::Bold => 700,
                },
                run.colour.hex()
            );
            escape(&run.text, &mut self.body);
            self.body.push_str("</tspan>");
        }
        self.body.push_str("</text>\n");
    }

    /// The document.
    pub fn finish(self) -> Drawing {
        let (width, height) = (number(self.width), number(self.height));
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" \
             viewBox=\"0 0 {width} {height}\" role=\"img\">\n<title>"
        );
        escape(&self.title, &mut svg);
        svg.push_str("</title>\n");
        svg.push_str(&self.body);
        svg.push_str("</svg>\n");
        Drawing { svg, width: self.width, height: self.height }
    }
}

/// At most two decimals, no trailing zeros, never "-0".
fn number(value: f64) -> String {
    let text = format!("{:.2}", value.clamp(-1e6, 1e6));
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn escape(text: &str, out: &mut String) {
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\t' | '\n' | '\r' => out.push(' '),
            // Control characters and non-characters are not XML 1.0, escaped or not.
            c if c.is_control() || matches!(c, '\u{FFFE}' | '\u{FFFF}') => {}
            c => out.push(c),
        }
    }
}

/// A drawing with `margin` around it, to stand on its own.
pub fn with_margin(drawing: Drawing, title: &str, margin: f64) -> Drawing {
    stacked(title, &[drawing], margin)
}

/// Drawings of one width below one another, `margin` between and around them.
pub(super) fn stacked(title: &str, drawings: &[Drawing], margin: f64) -> Drawing {
    let width = drawings.iter().map(|drawing| drawing.width).fold(0.0, f64::max) + 2.0 * margin;
    let mut svg = Svg::new(width, 0.0, title);
    let mut top = margin;
    for drawing in drawings {
        let (x, y) = (number(margin), number(top));
        // A drawing within a drawing keeps its own coordinates.
        let place = format!("<svg x=\"{x}\" y=\"{y}\" ");
        svg.body.push_str(&drawing.svg.replacen("<svg ", &place, 1));
        top += drawing.height + margin;
    }
    svg.height = top;
    svg.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::theme::Theme;

    #[test]
    fn text_cannot_break_out() {
        let ink = Theme::LIGHT.ink;
        let mut svg = Svg::new(100.0, 50.0, "a < b & c");
        let nasty = "</text><script>\"x\"&'\u{0}\u{1b}";
        let line = TextLine::new(nasty, 10.0, Weight::Bold, ink);
        svg.text(&line, Spot::new(1.0, 2.0), Anchor::Start);
        let svg = svg.finish().svg;
        assert!(svg.contains("&lt;/text&gt;&lt;script&gt;&quot;x&quot;&amp;&#39;</tspan>"));
        assert!(svg.contains("<title>a &lt; b &amp; c</title>"));
        assert!(!svg.contains("<script"));
    }

    #[test]
    fn a_coordinate_that_is_no_number_drops_the_shape() {
        let mut svg = Svg::new(100.0, 50.0, "");
        let paint = Paint::stroke(Theme::LIGHT.ink, 1.0);
        svg.line(Spot::new(f64::NAN, 0.0), Spot::new(1.0, 1.0), &paint);
        svg.circle(Spot::new(0.0, f64::INFINITY), 3.0, &paint);
        svg.rect(&Area::at(0.0, 0.0, f64::NAN, 3.0), 0.0, &paint);
        let svg = svg.finish().svg;
        assert!(!svg.contains("NaN") && !svg.contains("inf") && !svg.contains("<path"), "{svg}");
    }

    #[test]
    fn numbers_are_short() {
        assert_eq!(number(3.0), "3");
        assert_eq!(number(-0.001), "0");
        assert_eq!(number(2.504), "2.5");
    }
}
