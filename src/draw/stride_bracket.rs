//! Brackets over strides: where the pace changed, and the word for it.

use super::area::Spot;
use super::stride_axis::StrideAxis;
use super::svg::{Anchor, Paint, Svg};
use super::text_line::{TextLine, Weight, shortened};
use super::theme::Theme;
use crate::reading::{Answer, PaceMove, PaceReading, Texts};

/// A bracket from one stride to another, with its word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StrideBracket {
    /// The earlier stride, counted back from the fence (−5).
    pub from: i32,
    /// The later one (−3).
    pub to: i32,
    /// What happens there ("quicker").
    pub word: String,
}

impl StrideBracket {
    /// The moves of a reading, each from extreme to extreme; none where it cannot be told whether there
    /// was more than one, or which.
    pub fn of_pace(pace: &PaceReading, texts: &Texts) -> Vec<Self> {
        let is_told = matches!(pace.is_one_at_most, Answer::Yes { .. } | Answer::No { .. });
        if !is_told || pace.probability < LEAST_PROBABLE {
            return Vec::new();
        }
        let of = |one: &PaceMove| Self {
            from: one.from,
            to: one.to,
            word: texts.way(one.way).to_owned(),
        };
        pace.likeliest.moves.iter().map(of).collect()
    }
}

/// What is drawn must be more likely than all else together.
const LEAST_PROBABLE: f64 = 0.5;

/// Draws the brackets, their line at `line`, their words above it.
pub(super) fn draw_brackets(
    svg: &mut Svg,
    brackets: &[StrideBracket],
    axis: &StrideAxis,
    line: f64,
    text: f64,
    theme: &Theme,
) {
    for bracket in brackets {
        let (from, to) = (bracket.from.min(bracket.to), bracket.from.max(bracket.to));
        if to >= 0 || axis.middle(from) < axis.left() {
            continue;
        }
        // From the middle of a stride to the middle of another: what ends there, the next begins.
        let gap = 0.05 * axis.pitch();
        let (left, right) = (axis.middle(from) + gap, axis.middle(to) - gap);
        let drop = 0.45 * text;
        let shape = [
            Spot::new(left, line + drop),
            Spot::new(left, line),
            Spot::new(right, line),
            Spot::new(right, line + drop),
        ];
        svg.polyline(&shape, &Paint::stroke(theme.ink, 0.1 * text));
        let word =
            shortened(&bracket.word, text, Weight::Regular, right - left + 0.1 * axis.pitch());
        let word = TextLine::new(word, text, Weight::Regular, theme.ink);
        let middle = Spot::new((left + right) / 2.0, line - 0.35 * text);
        svg.text(&word, middle, Anchor::Middle);
    }
}
