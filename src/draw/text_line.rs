//! One line of text made of runs, and how wide it is in the embedded font.
//!
//! Widths are sums of advances of Noto Sans (its figures are tabular: all as wide as one
//! another, see the test); kerning, which only ever tightens, is left out.

use std::sync::OnceLock;

use ttf_parser::Face;

use super::theme::Colour;

/// Letters of one size, weight and colour.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// The letters, not yet escaped.
    pub text: String,
    /// Size of the type.
    pub size: f64,
    /// Weight.
    pub weight: Weight,
    /// Colour.
    pub colour: Colour,
}

/// The two weights of the embedded font.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// Running text.
    Regular,
    /// Values and titles.
    Bold,
}

/// Runs set one after the other on one base line.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct TextLine {
    /// The runs.
    pub runs: Vec<Run>,
}

impl TextLine {
    /// A line of one run.
    pub fn new(text: impl Into<String>, size: f64, weight: Weight, colour: Colour) -> Self {
        Self::default().then(text, size, weight, colour)
    }

    /// The same line with another run at its end.
    pub fn then(
        mut self,
        text: impl Into<String>,
        size: f64,
        weight: Weight,
        colour: Colour,
    ) -> Self {
        self.runs.push(Run { text: text.into(), size, weight, colour });
        self
    }

    /// Its width, in the unit of the sizes.
    pub fn width(&self) -> f64 {
        self.runs.iter().map(|run| width_of(&run.text, run.size, run.weight)).sum()
    }

    /// The largest size in it.
    pub fn size(&self) -> f64 {
        self.runs.iter().map(|run| run.size).fold(0.0, f64::max)
    }
}

/// Height of a capital in units of the size.
pub const CAP_HEIGHT: f64 = 0.714;

/// Depth of a descender in units of the size.
pub const DESCENT: f64 = 0.24;

/// Width of `text` at `size`.
pub fn width_of(text: &str, size: f64, weight: Weight) -> f64 {
    let Some(face) = face(weight) else {
        return text.chars().count() as f64 * size;
    };
    let em = f64::from(face.units_per_em());
    text.chars()
        .map(|letter| match face.glyph_index(letter).and_then(|id| face.glyph_hor_advance(id)) {
            Some(advance) => f64::from(advance) / em * size,
            // Not in the embedded font: a full square is the widest any fallback draws.
            None => size,
        })
        .sum()
}

/// `text` cut to at most `room`, with an ellipsis when something was cut.
pub fn shortened(text: &str, size: f64, weight: Weight, room: f64) -> String {
    if width_of(text, size, weight) <= room {
        return text.to_owned();
    }
    let mut kept: String = text.to_owned();
    while kept.pop().is_some() {
        let candidate = format!("{}…", kept.trim_end());
        if width_of(&candidate, size, weight) <= room {
            return candidate;
        }
    }
    String::new()
}

fn face(weight: Weight) -> Option<&'static Face<'static>> {
    static REGULAR: OnceLock<Option<Face<'static>>> = OnceLock::new();
    static BOLD: OnceLock<Option<Face<'static>>> = OnceLock::new();
    let (cell, bytes) = match weight {
        Weight::Regular => (&REGULAR, notosans::REGULAR_TTF),
        Weight::Bold => (&BOLD, notosans::BOLD_TTF),
    };
    cell.get_or_init(|| Face::parse(bytes, 0).ok()).as_ref()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_tabular_and_the_signs_we_print_exist() {
        for weight in [Weight::Regular, Weight::Bold] {
            let zero = width_of("0", 100.0, weight);
            for figure in '1'..='9' {
                assert_eq!(width_of(&figure.to_string(), 100.0, weight), zero, "{figure}");
            }
            let face = face(weight).unwrap();
            for sign in "±−–—·×°…′″≈≤≥²√äöüßéñøŁЖΩ".chars() {
                assert!(face.glyph_index(sign).is_some(), "{sign} is not in the font");
            }
        }
    }

    #[test]
    fn shortening_keeps_within_the_room() {
        let cut = shortened("the long oxer by the gate", 10.0, Weight::Regular, 60.0);
        assert!(cut.ends_with('…') && width_of(&cut, 10.0, Weight::Regular) <= 60.0, "{cut}");
        assert_eq!(shortened("oxer", 10.0, Weight::Bold, 60.0), "oxer");
    }
}
