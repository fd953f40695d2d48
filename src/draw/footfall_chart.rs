//! When each limb first touches the ground, stride by stride, on the stride axis: one row a
//! limb, its print where the contact falls within the stride.
//!
//! Only first contacts are marked, so there are no bars of stance.

use super::area::{Area, Spot};
use super::hoof_print::{PrintLines, PrintPlace, Trust, draw_print};
use super::plan::limbs;
use super::stride_axis::StrideAxis;
use super::svg::{Anchor, Drawing, Paint, Svg};
use super::text_line::{TextLine, Weight};
use super::theme::Theme;
use crate::marks::Limb;
use crate::stride::{ApproachMeasurement, StrideRow};

/// What the footfall chart needs to know.
#[derive(Clone, Copy, Debug)]
pub struct FootfallChartInput<'a> {
    /// The approach.
    pub approach: &'a ApproachMeasurement,
    /// Colours.
    pub theme: Theme,
    /// Width of the drawing, in its own units; the same as the bars' to share their axis.
    pub width: f64,
    /// Size of the type, in the same units.
    pub text: f64,
}

/// Rows of contacts by limb.
pub fn footfall_chart(input: &FootfallChartInput) -> Drawing {
    let FootfallChartInput { approach, theme, width, text } = *input;
    let rows = limbs(approach);
    let row_height = 1.9 * text;
    let top = 1.9 * text;
    let bottom = top + row_height * rows.len() as f64;
    let title = format!("First contacts of each limb before {}", approach.fence.name);
    let mut svg = Svg::new(width, bottom + 1.9 * text, &title);
    let axis = StrideAxis::new(StrideAxis::GUTTER * text, width, approach.strides.len(), text);
    let heading = TextLine::new("Footfalls", text, Weight::Bold, theme.ink).then(
        ", first contact within the stride (T trailing, L leading; H hind, F fore)",
        text,
        Weight::Regular,
        theme.muted,
    );
    svg.text(&heading, Spot::new(0.0, text), Anchor::Start);
    for stride in &approach.strides {
        let left = axis.middle(stride.number) - axis.pitch() / 2.0;
        let place = Area { left, right: left + axis.pitch(), top, bottom };
        if stride.number % 2 == 0 {
            svg.rect(&place, 0.0, &Paint::fill(theme.sand));
        }
    }
    for (i, limb) in rows.iter().enumerate() {
        let middle = top + row_height * (i as f64 + 0.5);
        axis.draw_rule(&mut svg, middle, &Paint::stroke(theme.line, 0.05 * text).faint(0.6));
        draw_contacts(&mut svg, input, &axis, *limb, middle);
    }
    axis.draw_numbers(&mut svg, bottom, &theme);
    axis.draw_fence(&mut svg, bottom, &theme);
    svg.finish()
}

/// The contacts of one limb in a row about `middle`, its letters at the left.
pub(super) fn draw_contacts(
    svg: &mut Svg,
    input: &FootfallChartInput,
    axis: &StrideAxis,
    limb: Limb,
    middle: f64,
) {
    let FootfallChartInput { approach, theme, text, .. } = *input;
    let short: String = limb.words().split(' ').filter_map(|word| word.chars().next()).collect();
    let label = TextLine::new(short.to_uppercase(), text, Weight::Regular, theme.muted);
    svg.text(&label, Spot::new(0.0, middle + 0.36 * text), Anchor::Start);
    for footfall in approach.footfalls.iter().filter(|footfall| footfall.limb == limb) {
        if let Some(x) = across(approach, axis, footfall.time_s) {
            let x = x.max(axis.left() - 1.1 * text);
            let place = PrintPlace::flat(Spot::new(x, middle), (1.0, 0.0), 1.35 * text);
            let lines = PrintLines { ink: 0.09 * text, casing: 0.08 * text };
            draw_print(svg, &place, limb, Trust::Fits, lines, &theme);
        }
    }
}

/// Where a moment falls on the axis: within the stride under way. The contact that ends the
/// last stride falls on its right edge.
fn across(approach: &ApproachMeasurement, axis: &StrideAxis, time_s: f64) -> Option<f64> {
    let time_of = |id: &str| approach.footfalls.iter().find(|f| f.footfall == id).map(|f| f.time_s);
    let within = |row: &StrideRow| {
        let (from, to) = (time_of(&row.from_footfall)?, time_of(&row.to_footfall)?);
        let share = (time_s - from) / (to - from);
        let last = row.number == -1;
        // The first hind beat falls just before the reference limb's: keep it on the axis.
        let first = approach.strides.first().is_some_and(|first| first.number == row.number);
        let low = if first { -0.35 } else { 0.0 };
        let high = if last { 1.0 + 1e-9 } else { 1.0 };
        (low..high).contains(&share).then(|| axis.middle(row.number) + (share - 0.5) * axis.pitch())
    };
    approach.strides.iter().find_map(within).filter(|x| x.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, SEVEN};

    #[test]
    fn contacts_fall_within_their_stride() {
        let approach = sample::approach(SEVEN);
        let axis = StrideAxis::new(0.0, 726.0, 7, 10.0);
        // h3 begins stride −4, its fore print comes 0.13 s of 0.61 later.
        let at = |id: &str| {
            let footfall = approach.footfalls.iter().find(|f| f.footfall == id).unwrap();
            across(&approach, &axis, footfall.time_s).unwrap()
        };
        assert!((at("h3") - 300.0).abs() < 1e-6, "{}", at("h3"));
        assert!((at("e3") - (300.0 + 100.0 * 0.13 / 0.61)).abs() < 1e-6);
        let landing = approach.footfalls.last().unwrap();
        assert_eq!(across(&approach, &axis, landing.time_s), None);
    }

    #[test]
    fn every_limb_has_its_row() {
        let approach = sample::approach(SEVEN);
        let input = FootfallChartInput {
            approach: &approach,
            theme: Theme::LIGHT,
            width: 360.0,
            text: 8.0,
        };
        let svg = footfall_chart(&input).svg;
        for row in [">TH<", ">LH<", ">TF<", ">LF<"] {
            assert!(svg.contains(row), "{row}");
        }
    }
}
