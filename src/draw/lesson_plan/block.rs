//! One exercise: its words, its distance, what lies on the sand, walked paces beneath.

use super::LessonPlanInput;
use super::laid::{Laid, Thing};
use crate::draw::area::{Area, Spot};
use crate::draw::hoof_print::PrintPlace;
use crate::draw::svg::{Anchor, Paint, Svg};
use crate::draw::text_line::{TextLine, Weight};
use crate::draw::theme::Colour;
use crate::marks::Limb;
use crate::poles::WALKED_PACE_M;

/// Sand before the first and after the last thing, metres.
const AROUND_M: f64 = 0.8;
/// A pole as it is drawn where there is room, metres: poles are 3 to 4 m (R9, E1).
const POLE_M: f64 = 3.0;
/// Diameter of a pole, metres (E1).
const POLE_THICK_M: f64 = 0.10;
/// Walked paces to a stride (R2, R6, R11): their ticks are long and numbered.
const PACES_TO_A_STRIDE: u32 = 4;

/// Sizes that all exercises share, in units of the drawing.
pub(super) struct Sizes {
    /// To a metre along the way.
    pub per_metre: f64,
    /// Length of a pole as drawn.
    pub pole: f64,
    /// Whether that is shorter than it would be.
    pub is_shortened: bool,
    /// Below a row.
    pub between: f64,
    /// Type.
    text: f64,
}

impl Sizes {
    /// The scale at which the longest exercise fills the width.
    pub fn of(input: &LessonPlanInput, laid: &[Laid]) -> Self {
        let text = input.text;
        let longest = laid.iter().map(Laid::extent_m).fold(0.0, f64::max) + 2.0 * AROUND_M;
        let per_metre = (input.width / longest).min(5.0 * text);
        let most = if laid.len() > 3 { 2.35 * text } else { 9.0 * text };
        let pole = (POLE_M * per_metre).min(most);
        let is_shortened = pole < POLE_M * per_metre - 1e-9;
        Self { per_metre, pole, is_shortened, between: 0.7 * text, text }
    }

    /// Words above the sand.
    fn head(&self) -> f64 {
        3.05 * self.text
    }

    /// The sand.
    fn sand(&self) -> f64 {
        self.pole + 0.7 * self.text
    }

    /// A row with the space below it.
    pub fn row_height(&self) -> f64 {
        self.head() + self.sand() + 1.6 * self.text + self.between
    }
}

/// How wide an exercise with its words is.
pub(super) fn block_width(laid: &Laid, input: &LessonPlanInput, sizes: &Sizes) -> f64 {
    let words = name(laid, input).width().max(other_units(laid, input).width());
    let words = large(laid, input).width() + BESIDE * input.text + words;
    words.max((laid.extent_m() + 2.0 * AROUND_M) * sizes.per_metre)
}

/// Between the distance and the words beside it, sizes of the type.
const BESIDE: f64 = 0.7;

fn name(laid: &Laid, input: &LessonPlanInput) -> TextLine {
    TextLine::new(&laid.name, input.text, Weight::Bold, input.theme.ink)
}

fn other_units(laid: &Laid, input: &LessonPlanInput) -> TextLine {
    TextLine::new(&laid.small, input.text, Weight::Regular, input.theme.ink)
}

fn large(laid: &Laid, input: &LessonPlanInput) -> TextLine {
    TextLine::new(&laid.large, 2.3 * input.text, Weight::Bold, input.theme.ink)
}

/// Draws one exercise into `room`; the ends of its first distance.
pub(super) fn draw_block(
    svg: &mut Svg,
    input: &LessonPlanInput,
    laid: &Laid,
    room: Area,
    sizes: &Sizes,
) -> [Spot; 2] {
    let text = input.text;
    let (large, base) = (large(laid, input), room.top + 1.95 * text);
    let beside = room.left + large.width() + BESIDE * text;
    svg.text(&large, Spot::new(room.left, base), Anchor::Start);
    svg.text(&name(laid, input), Spot::new(beside, base - 1.15 * text), Anchor::Start);
    svg.text(&other_units(laid, input), Spot::new(beside, base), Anchor::Start);
    let long = (laid.extent_m() + 2.0 * AROUND_M) * sizes.per_metre;
    let sand = Area::at(room.left, room.top + sizes.head(), long, sizes.sand());
    svg.rect(&sand, 0.4 * text, &Paint::fill(input.theme.sand));
    let middle = sand.middle().y;
    let at = |along_m: f64| Spot::new(sand.left + (AROUND_M + along_m) * sizes.per_metre, middle);
    draw_way(svg, input, Spot::new(sand.left, middle), at(0.0));
    for (along, thing) in &laid.things {
        match thing {
            Thing::Pole => draw_pole(svg, input, at(*along), sizes),
            Thing::Fence => draw_fence(svg, input, at(*along), sizes),
        }
    }
    draw_strides(svg, input, laid, &at, sizes);
    let ends = [at(0.0), at(laid.aim_m)].map(|end| Spot::new(end.x, sand.top - 0.42 * text));
    draw_span(svg, input, ends);
    draw_paces(svg, input, laid, &at, sand.bottom);
    ends
}

/// The way the horse goes, before the first thing.
fn draw_way(svg: &mut Svg, input: &LessonPlanInput, from: Spot, first: Spot) {
    let text = input.text;
    let paint = Paint::stroke(input.theme.muted, 0.13 * text);
    let (tail, tip) =
        (Spot::new(from.x + 0.35 * text, from.y), first.moved((-1.0, 0.0), 0.55 * text));
    if tip.x - tail.x < 0.3 * text {
        return;
    }
    svg.line(tail, tip, &paint);
    let wing = |side: f64| Spot::new(tip.x - 0.4 * text, tip.y + side * 0.32 * text);
    svg.polyline(&[wing(-1.0), tip, wing(1.0)], &paint);
}

fn draw_pole(svg: &mut Svg, input: &LessonPlanInput, at: Spot, sizes: &Sizes) {
    let text = input.text;
    let width = (POLE_THICK_M * sizes.per_metre).max(0.34 * text);
    let half = sizes.pole / 2.0;
    let (far, near) = (Spot::new(at.x, at.y - half), Spot::new(at.x, at.y + half));
    svg.line(far, near, &Paint::stroke(input.theme.ink, width + 0.2 * text));
    svg.line(far, near, &Paint::stroke(input.theme.card, width));
}

/// Two uprights with a rail between.
fn draw_fence(svg: &mut Svg, input: &LessonPlanInput, at: Spot, sizes: &Sizes) {
    let text = input.text;
    let half = sizes.pole / 2.0;
    let (far, near) = (Spot::new(at.x, at.y - half), Spot::new(at.x, at.y + half));
    svg.line(far, near, &Paint::stroke(input.theme.take_off, 0.34 * text));
    for post in [far, near] {
        let post = Area::around(post, 0.75 * text, 0.75 * text);
        svg.rect(&post, 0.08 * text, &Paint::fill(input.theme.ink));
    }
}

/// Landing, strides and take-off as hoof prints, a low arc over each stride with its number.
fn draw_strides(
    svg: &mut Svg,
    input: &LessonPlanInput,
    laid: &Laid,
    at: &impl Fn(f64) -> Spot,
    sizes: &Sizes,
) {
    let (theme, text) = (&input.theme, input.text);
    let down = 0.75 * text;
    let place = |along: f64| at(along).moved((0.0, 1.0), down);
    for (number, pair) in laid.prints_m.windows(2).enumerate() {
        let (from, to) = (place(pair[0]), place(pair[1]));
        let reach = 0.75 * text;
        let high = 0.85 * text;
        let arc: Vec<Spot> = (0..=16)
            .map(|i| {
                let share = f64::from(i) / 16.0;
                let x = from.x + reach + (to.x - from.x - 2.0 * reach) * share;
                Spot::new(x, from.y - 4.0 * high * share * (1.0 - share))
            })
            .collect();
        svg.polyline(&arc, &Paint::stroke(theme.line, 0.09 * text));
        let words = TextLine::new((number + 1).to_string(), text, Weight::Bold, theme.muted);
        let middle = Spot::new(f64::midpoint(from.x, to.x), from.y - high - 0.22 * text);
        svg.text(&words, middle, Anchor::Middle);
    }
    let last = laid.prints_m.len().saturating_sub(1);
    for (number, along) in laid.prints_m.iter().enumerate() {
        let (limb, colour) = match number {
            0 => (Limb::LeadingFore, theme.landing),
            n if n == last => (Limb::LeadingHind, theme.take_off),
            _ => (Limb::LeadingHind, theme.ink),
        };
        draw_hoof(svg, place(*along), limb, colour, print_length(input, sizes));
    }
}

/// Length of a print: larger than life, so that it can be told.
pub(super) fn print_length(input: &LessonPlanInput, sizes: &Sizes) -> f64 {
    (0.13 * sizes.per_metre).clamp(0.95 * input.text, 1.5 * input.text)
}

pub(super) fn draw_hoof(svg: &mut Svg, at: Spot, limb: Limb, colour: Colour, length: f64) {
    let shape = PrintPlace::flat(at, (1.0, 0.0), length).shape(limb);
    svg.polygon(&shape.edge, &Paint::fill(colour));
}

/// A line between the ends of the distance, with a stop at either.
fn draw_span(svg: &mut Svg, input: &LessonPlanInput, [from, to]: [Spot; 2]) {
    let text = input.text;
    let paint = Paint::stroke(input.theme.ink, 0.12 * text);
    svg.line(from, to, &paint);
    for end in [from, to] {
        svg.line(end.moved((0.0, -1.0), 0.3 * text), end.moved((0.0, 1.0), 0.3 * text), &paint);
    }
}

/// Ticks a walked pace apart beneath the sand, each fourth long and numbered; after the first what
/// they count, as the numbers would read as metres.
fn draw_paces(
    svg: &mut Svg,
    input: &LessonPlanInput,
    laid: &Laid,
    at: &impl Fn(f64) -> Spot,
    top: f64,
) {
    let (theme, text) = (&input.theme, input.text);
    let paint = Paint::stroke(theme.muted, 0.09 * text);
    let mut pace = 0;
    while f64::from(pace) * WALKED_PACE_M <= laid.extent_m() + 1e-6 {
        let x = at(f64::from(pace) * WALKED_PACE_M).x;
        let is_long = pace % PACES_TO_A_STRIDE == 0;
        let long = if is_long { 0.75 } else { 0.4 };
        svg.line(Spot::new(x, top + 0.1 * text), Spot::new(x, top + long * text), &paint);
        if is_long {
            let number = TextLine::new(pace.to_string(), 0.92 * text, Weight::Regular, theme.muted);
            svg.text(&number, Spot::new(x, top + 1.6 * text), Anchor::Middle);
        }
        pace += 1;
    }
    let counted = TextLine::new("walked paces", 0.92 * text, Weight::Regular, theme.muted);
    let from = at(0.0).x + 0.6 * text;
    let fourth = at(f64::from(PACES_TO_A_STRIDE) * WALKED_PACE_M).x - 0.6 * text;
    let is_numbered = pace > PACES_TO_A_STRIDE;
    let counted = if is_numbered && from + counted.width() > fourth {
        TextLine::new("paces", 0.92 * text, Weight::Regular, theme.muted)
    } else {
        counted
    };
    svg.text(&counted, Spot::new(from, top + 1.6 * text), Anchor::Start);
}
