//! Stride lengths as bars with whiskers over the coach's tolerance, and below, on the same axis,
//! tempo and speed.

use super::area::{Area, Spot};
use super::seen::why_no_length;
use super::stride_axis::{StrideAxis, round_ticks};
use super::stride_bracket::{StrideBracket, draw_brackets};
use super::stride_lines::{Series, draw_series};
use super::svg::{Anchor, Drawing, Paint, Svg};
use super::text_line::{TextLine, Weight, width_of};
use super::theme::Theme;
use super::tolerance::{Band, Tolerance};
use crate::quantity::{Estimate, LengthUnits, Metres, Unit, written_tick, written_tight};
use crate::stride::{ApproachMeasurement, StrideRow};
use crate::survey::Suspect;

/// What the bars need to know.
#[derive(Clone, Copy, Debug)]
pub struct StrideBarsInput<'a> {
    /// The approach.
    pub approach: &'a ApproachMeasurement,
    /// Marks that do not fit: why a stride may have no length.
    pub suspects: &'a [Suspect],
    /// The coach's band; `None` for the mean ± 0.30 m.
    pub tolerance: Option<Tolerance>,
    /// Brackets over strides, for changes of pace; empty for none.
    pub brackets: &'a [StrideBracket],
    /// Metres or feet.
    pub units: LengthUnits,
    /// Colours.
    pub theme: Theme,
    /// Width of the drawing, in its own units.
    pub width: f64,
    /// Height of the drawing.
    pub height: f64,
    /// Size of the type, in the same units.
    pub text: f64,
    /// Only strides that have ended by then (capture time, seconds); `None` for all. Scale, band
    /// and places are those of all of them, so that bars build up without moving.
    pub until_s: Option<f64>,
    /// The scale shared with the bars of other approaches; `None` for its own.
    pub scale: Option<BarsScale>,
}

/// A scale on which the bars of several approaches can be held against one another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BarsScale {
    /// Strides the axis has room for: the most of all approaches.
    pub strides: usize,
    /// What the height stands for, metres: the longest stride or band of all of them.
    pub longest_m: f64,
}

impl BarsScale {
    /// The scale on which all of these approaches fit.
    pub fn of<'a>(approaches: impl Iterator<Item = &'a ApproachMeasurement>) -> Self {
        let mut scale = Self { strides: 0, longest_m: 1.0 };
        for approach in approaches {
            let longest =
                longest_m(approach, Band::of(approach, None, LengthUnits::Metres).as_ref());
            scale.strides = scale.strides.max(approach.strides.len());
            scale.longest_m = scale.longest_m.max(longest);
        }
        scale
    }
}

/// The upper end of the longest whisker or of the band, metres.
fn longest_m(approach: &ApproachMeasurement, band: Option<&Band>) -> f64 {
    let longest = lengths(approach).map(|(_, l)| l.high95.get()).fold(1.0, f64::max);
    band.map_or(longest, |b| longest.max(b.middle.get() + b.half.get()))
}

/// Bars, tempo and speed on the stride axis.
pub fn stride_bars(input: &StrideBarsInput) -> Drawing {
    let StrideBarsInput { approach, theme, text, width, height, .. } = *input;
    let title = format!("Stride lengths of the approach to {}", approach.fence.name);
    let mut svg = Svg::new(width, height, &title);
    let axis = StrideAxis::new(StrideAxis::GUTTER * text, width, approach.strides.len(), text);
    // Rows: title, bars, numbers; then tempo, speed, each under its title.
    let over = if input.brackets.is_empty() { 4.3 } else { 7.0 } * text;
    let bars = Area { left: axis.left(), right: axis.right(), top: over, bottom: 0.48 * height };
    let lines_top = bars.bottom + 2.2 * text;
    let row = (height - lines_top) / 2.0;
    let band = Band::of(input.approach, input.tolerance, input.units);
    draw_heading(&mut svg, input, band.as_ref());
    draw_bars(&mut svg, input, &axis, &bars, band.as_ref());
    draw_brackets(&mut svg, input.brackets, &axis, 3.0 * text, text, &theme);
    axis.draw_numbers(&mut svg, bars.bottom, &theme);
    axis.draw_fence(&mut svg, bars.bottom, &theme);
    let rows = [Series::tempo(approach), Series::speed(approach, input.units)];
    for (i, series) in rows.iter().enumerate() {
        let top = lines_top + row * i as f64;
        draw_series(&mut svg, series, &axis, (top, top + row), text, &theme);
    }
    svg.finish()
}

fn lengths(
    approach: &ApproachMeasurement,
) -> impl Iterator<Item = (&StrideRow, &Estimate<Metres>)> {
    approach.strides.iter().filter_map(|row| Some((row, row.length_m.as_ref()?)))
}

fn draw_heading(svg: &mut Svg, input: &StrideBarsInput, band: Option<&Band>) {
    let StrideBarsInput { theme, text, width, .. } = *input;
    let title = TextLine::new("Stride length", text, Weight::Bold, theme.ink).then(
        format!(", {}", input.units.symbol()),
        text,
        Weight::Regular,
        theme.muted,
    );
    svg.text(&title, Spot::new(0.0, text), Anchor::Start);
    if let Some(band) = band {
        let paler = lengths(input.approach).any(|(_, length)| band.excludes(length));
        let words = if paler {
            format!("{}; paler: ± wholly outside", band.words)
        } else {
            band.words.clone()
        };
        let words = TextLine::new(words, 0.92 * text, Weight::Regular, theme.muted);
        let left = width - words.width();
        if left > title.width() + 2.0 * text {
            svg.text(&words, Spot::new(width, text), Anchor::End);
            let swatch = Area::at(left - 1.9 * text, 0.25 * text, 1.5 * text, 0.8 * text);
            svg.rect(
                &swatch,
                0.1 * text,
                &Paint::fill(theme.sand).outlined(theme.line, 0.04 * text),
            );
        }
    }
}

pub(super) fn draw_bars(
    svg: &mut Svg,
    input: &StrideBarsInput,
    axis: &StrideAxis,
    area: &Area,
    band: Option<&Band>,
) {
    let StrideBarsInput { approach, units, theme, text, .. } = *input;
    let longest = input.scale.map_or_else(|| longest_m(approach, band), |scale| scale.longest_m);
    let y = |metres: f64| area.bottom - metres.max(0.0) / longest * area.height();
    if let Some(Band { middle, half, .. }) = band {
        let (middle, half) = (middle.get(), half.get());
        let sand = Area { top: y(middle + half), bottom: y(middle - half), ..*area };
        svg.rect(&sand, 0.0, &Paint::fill(theme.sand));
        axis.draw_rule(
            svg,
            y(middle),
            &Paint::stroke(theme.line, 0.05 * text).dashed(0.3 * text, 0.3 * text),
        );
    }
    // Low bars have room for few numbers beside them.
    let wanted = (area.height() / (1.8 * text)).clamp(1.0, 4.0);
    let (ticks, step) = round_ticks(0.0, units.from_metres(longest), wanted);
    for tick in ticks {
        let at = y(tick / units.from_metres(1.0));
        axis.draw_rule(svg, at, &Paint::stroke(theme.line, 0.04 * text).faint(0.45));
        let label = TextLine::new(written_tick(tick, step), text, Weight::Regular, theme.muted);
        svg.text(&label, Spot::new(axis.left() - 0.5 * text, at + 0.36 * text), Anchor::End);
    }
    for row in approach.strides.iter().filter(|row| has_ended(input, row)) {
        match &row.length_m {
            Some(length) => {
                let outside = band.is_some_and(|band| band.excludes(length));
                draw_bar(svg, input, axis, row, length, (&y, outside));
                draw_value(svg, input, axis, row.number, length, area.top);
            }
            None => {
                let why = why_no_length(approach, row, input.suspects);
                draw_gap(svg, axis, row.number, area, (text, why), &theme);
            }
        }
    }
    axis.draw_rule(svg, area.bottom, &Paint::stroke(theme.ink, 0.09 * text));
}

fn has_ended(input: &StrideBarsInput, row: &StrideRow) -> bool {
    let Some(until) = input.until_s else { return true };
    input.approach.footfall_time_s(&row.to_footfall).is_some_and(|end| end <= until + 1e-9)
}

fn draw_bar(
    svg: &mut Svg,
    input: &StrideBarsInput,
    axis: &StrideAxis,
    row: &StrideRow,
    length: &Estimate<Metres>,
    (y, outside): (&dyn Fn(f64) -> f64, bool),
) {
    let StrideBarsInput { approach, theme, text, .. } = *input;
    let colour = theme.limb(approach.reference_limb);
    let middle = axis.middle(row.number);
    let wide = (0.62 * axis.pitch()).min(4.2 * text);
    let bar = Area {
        left: middle - wide / 2.0,
        right: middle + wide / 2.0,
        top: y(length.value.get()),
        bottom: y(0.0),
    };
    // Outside the band is no fault: the same bar in a paler tone.
    let opacity = if outside { 0.3 } else { 1.0 };
    svg.rect(&bar, 0.0, &Paint::fill(theme.card));
    svg.rect(&bar, 0.0, &Paint::glaze(colour, opacity).outlined(colour, 0.14 * text));
    let (low, high) = (y(length.low95.get()), y(length.high95.get()));
    let cap = (0.2 * wide).min(0.45 * text);
    for paint in [Paint::stroke(theme.card, 0.28 * text), Paint::stroke(theme.ink, 0.12 * text)] {
        svg.line(Spot::new(middle, low), Spot::new(middle, high), &paint);
        for at in [low, high] {
            svg.line(Spot::new(middle - cap, at), Spot::new(middle + cap, at), &paint);
        }
    }
}

/// Value and ± above the bar, all in one row over the chart: beside whiskers, band and rules they
/// would be hard to read.
fn draw_value(
    svg: &mut Svg,
    input: &StrideBarsInput,
    axis: &StrideAxis,
    number: i32,
    length: &Estimate<Metres>,
    top: f64,
) {
    let StrideBarsInput { units, theme, text, .. } = *input;
    let tight = written_tight(length, units);
    let (value, small) = label_sizes(input, axis);
    let (middle, base) = (axis.middle(number), top - 0.6 * text);
    let sub = format!("±{}", tight.plus_minus);
    let sub = TextLine::new(sub, small, Weight::Regular, theme.ink);
    svg.text(&sub, Spot::new(middle, base), Anchor::Middle);
    let line = TextLine::new(tight.value, value, Weight::Bold, theme.ink);
    svg.text(&line, Spot::new(middle, base - 1.1 * text), Anchor::Middle);
}

/// Sizes of value and ± at which the widest of each fits over its bar; one size for all bars.
fn label_sizes(input: &StrideBarsInput, axis: &StrideAxis) -> (f64, f64) {
    let room = axis.pitch() * 0.92;
    let fit = |words: &str, size: f64, weight| {
        let width = width_of(words, size, weight);
        if width > room { size * room / width } else { size }
    };
    lengths(input.approach).fold(
        (1.12 * input.text, 0.92 * input.text),
        |(value, small), (_, l)| {
            let tight = written_tight(l, input.units);
            let sub = format!("±{}", tight.plus_minus);
            (fit(&tight.value, value, Weight::Bold), fit(&sub, small, Weight::Regular))
        },
    )
}

/// A stride without length: an empty, dashed place with the reason over it, a word a line.
fn draw_gap(
    svg: &mut Svg,
    axis: &StrideAxis,
    number: i32,
    area: &Area,
    (text, why): (f64, &str),
    theme: &Theme,
) {
    let middle = axis.middle(number);
    let wide = (0.62 * axis.pitch()).min(4.2 * text);
    let place = Area {
        left: middle - wide / 2.0,
        right: middle + wide / 2.0,
        top: area.bottom - 0.3 * area.height(),
        bottom: area.bottom,
    };
    let dashes = Paint::stroke(theme.line, 0.08 * text).dashed(0.4 * text, 0.35 * text);
    svg.rect(&place, 0.0, &dashes);
    let size = (0.92 * text).min(axis.pitch() * 0.42);
    let words: Vec<TextLine> = why
        .split(' ')
        .map(|word| TextLine::new(word, size, Weight::Regular, theme.muted))
        .collect();
    let widest = words.iter().map(TextLine::width).fold(0.0, f64::max);
    let high = words.len() as f64 * 1.15 * size;
    let base = place.top - 0.45 * text;
    let plate = Area::at(middle - widest / 2.0, base - high, widest, high).grown(0.15 * text);
    svg.rect(&plate, 0.2 * text, &Paint::fill(theme.card));
    for (i, word) in words.iter().rev().enumerate() {
        let at = Spot::new(middle, base - 0.2 * size - i as f64 * 1.15 * size);
        svg.text(word, at, Anchor::Middle);
    }
}
