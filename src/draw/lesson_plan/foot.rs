//! The scale bar and what the signs mean.

use super::LessonPlanInput;
use super::block::{Sizes, draw_hoof, print_length};
use crate::draw::area::{Area, Spot};
use crate::draw::svg::{Anchor, Paint, Svg};
use crate::draw::text_line::{CAP_HEIGHT, TextLine, Weight};
use crate::draw::theme::Colour;
use crate::marks::Limb;
use crate::quantity::{LengthUnits, METRES_PER_FOOT};

/// Height of the foot: scale bar and signs, then the sentence about them.
pub(super) fn foot_height(input: &LessonPlanInput) -> f64 {
    3.6 * input.text
}

/// Draws it below `top`.
pub(super) fn draw_foot(
    svg: &mut Svg,
    input: &LessonPlanInput,
    top: f64,
    sizes: &Sizes,
    has_strides: bool,
) {
    let (theme, text) = (&input.theme, input.text);
    let middle = top + 0.9 * text;
    let mut at = draw_scale(svg, input, middle, sizes.per_metre) + 2.4 * text;
    if has_strides {
        let length = print_length(input, sizes);
        let signs: [(Limb, Colour, &str); 3] = [
            (Limb::LeadingFore, theme.landing, "landing"),
            (Limb::LeadingHind, theme.ink, "stride"),
            (Limb::LeadingHind, theme.take_off, "take-off"),
        ];
        for (limb, colour, words) in signs {
            draw_hoof(svg, Spot::new(at + 0.7 * text, middle), limb, colour, length);
            at = small(svg, input, words, Spot::new(at + 1.7 * text, middle)) + 1.5 * text;
        }
    }
    let tick = Spot::new(at + 0.3 * text, middle);
    let paint = Paint::stroke(theme.muted, 0.09 * text);
    svg.line(tick.moved((0.0, -1.0), 0.35 * text), tick.moved((0.0, 1.0), 0.35 * text), &paint);
    small(svg, input, "walked pace of 3 ft", Spot::new(at + 1.0 * text, middle));
    let mut said = "Along the way everything is to scale.".to_owned();
    if sizes.is_shortened {
        said.push_str(" Poles and rails are drawn shorter than they are.");
    }
    if has_strides {
        said.push_str(" Hoof prints are drawn larger than life.");
    }
    small(svg, input, &said, Spot::new(0.0, top + 2.6 * text));
}

fn small(svg: &mut Svg, input: &LessonPlanInput, words: &str, at: Spot) -> f64 {
    let size = 0.92 * input.text;
    let line = TextLine::new(words, size, Weight::Regular, input.theme.muted);
    svg.text(&line, Spot::new(at.x, at.y + size * CAP_HEIGHT / 2.0), Anchor::Start);
    at.x + line.width()
}

/// Five metres or fifteen feet in alternating parts; where its words end.
fn draw_scale(svg: &mut Svg, input: &LessonPlanInput, middle: f64, per_metre: f64) -> f64 {
    let (part_m, words) = match input.units {
        LengthUnits::Metres => (1.0, "5 m"),
        LengthUnits::Feet => (3.0 * METRES_PER_FOOT, "15 ft"),
    };
    let (part, high) = (part_m * per_metre, 0.5 * input.text);
    for k in 0..5 {
        let area = Area::at(f64::from(k) * part, middle - high / 2.0, part, high);
        let fill = if k % 2 == 0 { input.theme.ink } else { input.theme.card };
        svg.rect(&area, 0.0, &Paint::fill(fill).outlined(input.theme.ink, 0.08 * input.text));
    }
    small(svg, input, words, Spot::new(5.0 * part + 0.6 * input.text, middle))
}
