//! What the signs of the plan mean, and its scale bar.

use super::area::{Area, Spot};
use super::hoof_print::{PrintLines, PrintPlace, Trust, draw_print};
use super::legend_rows::{draw_legend_rows, legend_rows};
use super::plan::{PlanInput, limbs};
use super::plan_map::PlanMap;
use super::seen::is_left_out;
use super::svg::{Anchor, Paint, Svg};
use super::text_line::{CAP_HEIGHT, TextLine, Weight};
use super::theme::Theme;
use crate::marks::Limb;
use crate::quantity::{LengthUnits, written_tick};
use crate::stride::PlacedFootfall;

/// One sign and its words.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Entry {
    Print(Limb),
    Suspect,
    Ellipse,
    Pole,
    Fence,
    Track,
}

impl Entry {
    fn words(self) -> &'static str {
        match self {
            Self::Print(limb) => limb.words(),
            Self::Suspect => "mark left out",
            Self::Ellipse => "place, 95 %",
            Self::Pole => "pole",
            Self::Fence => "fence",
            Self::Track => "track",
        }
    }
}

fn entries(input: &PlanInput) -> Vec<Entry> {
    let mut all: Vec<Entry> = limbs(input.approach).into_iter().map(Entry::Print).collect();
    let own = |footfall: &PlacedFootfall| {
        footfall.place.is_some() && is_left_out(input.approach, &footfall.footfall, input.suspects)
    };
    if input.approach.footfalls.iter().any(own) {
        all.push(Entry::Suspect);
    }
    let placed = |f: &PlacedFootfall| f.place.is_some() && f.ellipse.is_some();
    if input.approach.footfalls.iter().any(placed) {
        all.push(Entry::Ellipse);
    }
    if !input.poles.is_empty() {
        all.push(Entry::Pole);
    }
    let fence = &input.approach.fence;
    if fence.take_off_base.iter().chain(&fence.landing_base).any(Option::is_some) {
        all.push(Entry::Fence);
    }
    if input.approach.track_line.len() > 1 {
        all.push(Entry::Track);
    }
    all
}

/// The entries in rows that fit the width.
fn rows(input: &PlanInput) -> Vec<Vec<(Entry, f64)>> {
    let entries = entries(input).into_iter().map(|entry| (entry, words(input, entry).width()));
    legend_rows(entries, input.width, input.text)
}

fn words(input: &PlanInput, entry: Entry) -> TextLine {
    TextLine::new(entry.words(), 0.92 * input.text, Weight::Regular, input.theme.muted)
}

/// Height of the legend below the sand.
pub(super) fn legend_height(input: &PlanInput) -> f64 {
    0.4 * input.text + rows(input).len() as f64 * 1.7 * input.text
}

/// The legend, its rows below `top`.
pub(super) fn draw_legend(svg: &mut Svg, input: &PlanInput, top: f64) {
    let sign = |svg: &mut Svg, entry, at| draw_sign(svg, input, entry, at);
    draw_legend_rows(svg, &rows(input), (top, input.text), |entry| words(input, entry), sign);
}

fn draw_sign(svg: &mut Svg, input: &PlanInput, entry: Entry, at: Spot) {
    let (text, theme) = (input.text, &input.theme);
    let across = [at.moved((1.0, 0.0), -0.8 * text), at.moved((1.0, 0.0), 0.8 * text)];
    let place = PrintPlace::flat(at, (1.0, 0.0), 1.2 * text);
    let lines = PrintLines { ink: 0.09 * text, casing: 0.0 };
    match entry {
        Entry::Print(limb) => draw_print(svg, &place, limb, Trust::Fits, lines, theme),
        Entry::Suspect => {
            let limb = input.approach.reference_limb;
            draw_print(svg, &place, limb, Trust::Suspect, lines, theme);
        }
        Entry::Ellipse => {
            let ring: Vec<Spot> = (0..40)
                .map(|i| {
                    let (sin, cos) = (f64::from(i) / 40.0 * std::f64::consts::TAU).sin_cos();
                    Spot::new(at.x + 0.8 * text * cos, at.y + 0.45 * text * sin)
                })
                .collect();
            svg.polygon(&ring, &Paint::fill(theme.card).outlined(theme.muted, 0.06 * text));
        }
        Entry::Pole => pole_sign(svg, across, theme, text),
        Entry::Fence => fence_sign(svg, across, theme, text),
        Entry::Track => {
            let dashes = Paint::stroke(theme.line, 0.09 * text).dashed(0.5 * text, 0.35 * text);
            svg.line(across[0], across[1], &dashes);
        }
    }
}

/// A pole in the legend.
pub(super) fn pole_sign(svg: &mut Svg, ends: [Spot; 2], theme: &Theme, text: f64) {
    svg.line(ends[0], ends[1], &Paint::stroke(theme.line, 0.46 * text));
    svg.line(ends[0], ends[1], &Paint::stroke(theme.card, 0.24 * text));
}

/// A fence seen from above: its ground line between two uprights.
pub(super) fn fence_sign(svg: &mut Svg, ends: [Spot; 2], theme: &Theme, text: f64) {
    svg.line(ends[0], ends[1], &Paint::stroke(theme.take_off, 0.24 * text));
    for end in ends {
        let post = Area::around(end, 0.5 * text, 0.5 * text);
        svg.rect(&post, 0.08 * text, &Paint::fill(theme.ink));
    }
}

/// The scale bar at the foot of the sand, left; returns the place it takes.
pub(super) fn draw_scale(svg: &mut Svg, map: &PlanMap, input: &PlanInput) -> Option<Area> {
    scale_bar(svg, &map.sand, map.per_metre, input.units, &input.theme, input.text)
}

/// A scale bar at the foot of `sand`, left, `per_metre` units of the drawing a metre.
pub(super) fn scale_bar(
    svg: &mut Svg,
    sand: &Area,
    per_metre: f64,
    units: LengthUnits,
    theme: &Theme,
    text: f64,
) -> Option<Area> {
    let unit_m = match units {
        LengthUnits::Metres => 1.0,
        LengthUnits::Feet => 1.0 / units.from_metres(1.0),
    };
    let room = 0.3 * sand.width();
    let count = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0]
        .into_iter()
        .find(|n| n * unit_m * per_metre >= 4.5 * text)
        .unwrap_or(50.0);
    let length = count * unit_m * per_metre;
    if length > room.max(8.0 * text) {
        return None;
    }
    let left = Spot::new(sand.left + text, sand.bottom - 0.9 * text);
    // Halves in turn dark and pale, so that it reads as a measure and not as a rail.
    let half = length / 2.0;
    let height = 0.36 * text;
    for (i, fill) in [theme.ink, theme.card].into_iter().enumerate() {
        let piece = Area::at(left.x + half * i as f64, left.y - height, half, height);
        svg.rect(&piece, 0.0, &Paint::fill(fill).outlined(theme.ink, 0.07 * text));
    }
    let symbol = units.symbol();
    let words = TextLine::new(
        format!("{} {symbol}", written_tick(count, 1.0)),
        text,
        Weight::Regular,
        theme.ink,
    );
    let at =
        Spot::new(left.x + length + 0.5 * text, left.y - height / 2.0 + text * CAP_HEIGHT / 2.0);
    svg.text(&words, at, Anchor::Start);
    let width = length + text + words.width();
    Some(Area::at(left.x, left.y - text, width, 1.3 * text).grown(0.3 * text))
}
