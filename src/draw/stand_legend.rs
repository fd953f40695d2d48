//! What the signs of the picture mean, and its caption in lines.

use super::area::Spot;
use super::hoof_print::{PrintLines, PrintPlace, Trust, draw_print};
use super::legend_rows::{draw_legend_rows, legend_rows};
use super::plan_legend::{fence_sign, pole_sign};
use super::stand_plan::{StandPlanInput, ellipse_paint, phone_sign};
use super::svg::Svg;
use super::text_line::{TextLine, Weight, width_of};
use crate::marks::Limb;
use crate::stand::JUDGED_BY;

/// One sign and its words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Entry {
    Print,
    Pole,
    Fence,
    Phone { advised: bool },
    Ellipse { advised: bool },
}

impl Entry {
    fn words(self, alone: bool) -> &'static str {
        match self {
            Self::Print => "strides as laid",
            Self::Pole => "pole",
            Self::Fence => "fence",
            Self::Phone { .. } if alone => "phone and its view",
            Self::Phone { advised: false } => "phone now and its view",
            Self::Phone { advised: true } => "better place",
            Self::Ellipse { .. } if alone => "hoof's place, 95 %",
            Self::Ellipse { advised: false } => "hoof's place from now, 95 %",
            Self::Ellipse { advised: true } => "from the better place",
        }
    }
}

fn entries(input: &StandPlanInput) -> Vec<Entry> {
    let places = input.places();
    let advised = || places.iter().map(|place| place.advised);
    let phones = advised().map(|advised| Entry::Phone { advised });
    let ellipses = advised().map(|advised| Entry::Ellipse { advised });
    [Entry::Print, Entry::Pole, Entry::Fence].into_iter().chain(phones).chain(ellipses).collect()
}

fn words(input: &StandPlanInput, entry: Entry) -> TextLine {
    let words = entry.words(input.places().len() < 2);
    TextLine::new(words, 0.92 * input.text, Weight::Regular, input.theme.muted)
}

/// The entries in rows that fit the width.
fn rows(input: &StandPlanInput) -> Vec<Vec<(Entry, f64)>> {
    let entries = entries(input).into_iter().map(|entry| (entry, words(input, entry).width()));
    legend_rows(entries, input.width, input.text)
}

/// Height of the legend below the sand.
pub(super) fn legend_height(input: &StandPlanInput) -> f64 {
    0.4 * input.text + rows(input).len() as f64 * 1.7 * input.text
}

/// Height of legend and caption together.
pub(super) fn foot_height(input: &StandPlanInput, lines: usize) -> f64 {
    legend_height(input) + (0.3 + 1.75 * lines as f64) * input.text
}

/// The legend below the sand.
pub(super) fn draw_legend(svg: &mut Svg, input: &StandPlanInput, top: f64) {
    let sign = |svg: &mut Svg, entry, at| draw_sign(svg, input, entry, at);
    draw_legend_rows(svg, &rows(input), (top, input.text), |entry| words(input, entry), sign);
}

fn draw_sign(svg: &mut Svg, input: &StandPlanInput, entry: Entry, at: Spot) {
    let StandPlanInput { theme, text, .. } = *input;
    let across = [at.moved((1.0, 0.0), -0.8 * text), at.moved((1.0, 0.0), 0.8 * text)];
    match entry {
        Entry::Print => {
            let place = PrintPlace::flat(at, (1.0, 0.0), 1.2 * text);
            let lines = PrintLines { ink: 0.09 * text, casing: 0.0 };
            draw_print(svg, &place, Limb::LeadingHind, Trust::Fits, lines, &theme);
        }
        Entry::Pole => pole_sign(svg, across, &theme, text),
        Entry::Fence => fence_sign(svg, across, &theme, text),
        Entry::Phone { advised } => phone_sign(svg, at, advised, &theme, 0.85 * text),
        Entry::Ellipse { advised } => {
            let ring: Vec<Spot> = (0..40)
                .map(|i| {
                    let (sin, cos) = (f64::from(i) / 40.0 * std::f64::consts::TAU).sin_cos();
                    Spot::new(at.x + 0.8 * text * cos, at.y + 0.5 * text * sin)
                })
                .collect();
            svg.polygon(&ring, &ellipse_paint(advised, &theme, text));
        }
    }
}

/// The advice and what it is about, broken into lines that fit.
pub(super) fn caption_lines(input: &StandPlanInput) -> Vec<TextLine> {
    let StandPlanInput { plan, theme, text, .. } = *input;
    if !input.captioned {
        return Vec::new();
    }
    let mut lines = Vec::new();
    let mut set = |words: &str, size: f64, weight: Weight, colour| {
        for line in broken(words, size, weight, input.width) {
            lines.push(TextLine::new(line, size, weight, colour));
        }
    };
    set(&plan.sentence(input.units), 1.15 * text, Weight::Bold, theme.ink);
    for said in plan.view_sentences(input.units) {
        set(&said, text, Weight::Regular, theme.ink);
    }
    if let Some(unseen) = plan.unseen_sentence() {
        set(&format!("From where you stand now: {unseen}."), text, Weight::Regular, theme.doubt);
    }
    for doubt in plan.doubt_sentences(input.units) {
        set(&format!("Doubt: {doubt}."), text, Weight::Regular, theme.doubt);
    }
    set(
        &format!(
            "± is half of the 95 % interval, expected for level strides; {JUDGED_BY}. It is an \
             estimate, not a permit to jump. {}",
            plan.safety(input.units)
        ),
        0.92 * text,
        Weight::Regular,
        theme.muted,
    );
    lines
}

/// `words` in lines no wider than `room`; a number stays with its ± and its unit.
fn broken(words: &str, size: f64, weight: Weight, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = vec![String::new()];
    for word in kept_together(words) {
        let Some(line) = lines.last_mut() else { continue };
        let longer = if line.is_empty() { word.clone() } else { format!("{line} {word}") };
        if line.is_empty() || width_of(&longer, size, weight) <= room {
            *line = longer;
        } else {
            lines.push(word);
        }
    }
    lines
}

/// Words between which a line may end: those that belong to one number are joined by a space that
/// does not break.
fn kept_together(words: &str) -> Vec<String> {
    let mut kept: Vec<String> = Vec::new();
    for word in words.split(' ').filter(|word| !word.is_empty()) {
        let unit = word.trim_end_matches(|c: char| !c.is_alphanumeric());
        let is_unit = matches!(unit, "m" | "cm" | "ft" | "in");
        match kept.last_mut() {
            Some(last) if last.ends_with('±') || is_unit && last.ends_with(char::is_numeric) => {
                last.push('\u{a0}');
                last.push_str(word);
            }
            _ => kept.push(word.to_owned()),
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_stays_with_its_unit() {
        let kept = kept_together("to ± 12 cm, in 18 m (5 ft 7 in) away");
        let nbsp = |text: &str| text.replace('_', "\u{a0}");
        let wanted = ["to", "±_12_cm,", "in", "18_m", "(5_ft", "7_in)", "away"];
        assert_eq!(kept, wanted.map(nbsp));
    }
}
