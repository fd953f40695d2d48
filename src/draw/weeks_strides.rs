//! The strides of many approaches to one fence over one another: first and last as points with
//! whiskers, over the median and spread of all.

use super::area::{Area, Spot};
use super::stride_axis::{StrideAxis, enclosing_ticks};
use super::svg::{Anchor, Drawing, Paint, Svg};
use super::text_line::{TextLine, Weight};
use super::theme::Theme;
use crate::quantity::{Estimate, LengthUnits, Metres, Unit, written_tick};
use crate::weeks::{DatedApproach, FenceWeeks, MIDDLE_HALF_FROM};

/// What the chart needs to know.
#[derive(Clone, Copy, Debug)]
pub struct WeeksStridesInput<'a> {
    /// The approaches to one fence.
    pub weeks: &'a FenceWeeks,
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
}

/// How first and last are told apart: by place, fill and line, not by colour alone.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Which {
    First,
    Last,
}

/// Points, medians and spread on the stride axis.
pub fn weeks_strides(input: &WeeksStridesInput) -> Drawing {
    let WeeksStridesInput { weeks, theme, text, width, height, .. } = *input;
    let mut svg = Svg::new(width, height, &format!("Strides of all approaches to {}", weeks.fence));
    let most = weeks.strides.first().map_or(1, |stride| stride.number.unsigned_abs() as usize);
    let axis = StrideAxis::new(StrideAxis::GUTTER * text, width, most, text);
    let area = Area {
        left: axis.left(),
        right: axis.right(),
        top: 4.6 * text,
        bottom: height - 1.9 * text,
    };
    draw_heading(&mut svg, input);
    let (low, high) = ends(weeks);
    let most = (area.height() / (2.0 * text)).clamp(4.0, 10.0) as usize;
    let (ticks, step) =
        enclosing_ticks(input.units.from_metres(low), input.units.from_metres(high), most);
    let (low, high) = (ticks[0], ticks[ticks.len() - 1]);
    let scale = input.units.from_metres(1.0);
    let y = |metres: f64| area.bottom - (metres * scale - low) / (high - low) * area.height();
    for tick in &ticks {
        let at = y(tick / scale);
        axis.draw_rule(&mut svg, at, &Paint::stroke(theme.line, 0.04 * text).faint(0.45));
        let label = TextLine::new(written_tick(*tick, step), text, Weight::Regular, theme.muted);
        svg.text(&label, Spot::new(axis.left() - 0.5 * text, at + 0.36 * text), Anchor::End);
    }
    draw_spread(&mut svg, input, &axis, &y);
    let approaches = &weeks.approaches;
    if let Some(first) = approaches.first().filter(|_| approaches.len() > 1) {
        draw_approach(&mut svg, input, &axis, &y, (first, Which::First));
    }
    if let Some(last) = approaches.last() {
        draw_approach(&mut svg, input, &axis, &y, (last, Which::Last));
    }
    axis.draw_rule(&mut svg, area.bottom, &Paint::stroke(theme.ink, 0.09 * text));
    axis.draw_numbers(&mut svg, area.bottom, &theme);
    axis.draw_fence(&mut svg, area.bottom, &theme);
    svg.finish()
}

/// Shortest and longest of what is drawn, metres.
fn ends(weeks: &FenceWeeks) -> (f64, f64) {
    let shown = [weeks.approaches.first(), weeks.approaches.last()];
    let lengths = shown.into_iter().flatten().flat_map(|one| &one.strides);
    let lengths = lengths.filter_map(|stride| stride.length_m.as_ref());
    let whiskers = lengths.flat_map(|length| [length.low95.get(), length.high95.get()]);
    let middle_half = middle_half(weeks);
    let spreads = weeks.strides.iter().map(|stride| stride.spread_m(middle_half));
    let all = whiskers.chain(spreads.flat_map(|(low, high)| [low.get(), high.get()]));
    let (low, high) =
        all.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), one| (l.min(one), h.max(one)));
    if low > high { (3.0, 4.0) } else { (low, high.max(low + 0.4)) }
}

fn middle_half(weeks: &FenceWeeks) -> bool {
    weeks.approaches.len() >= MIDDLE_HALF_FROM
}

/// Title and legend.
fn draw_heading(svg: &mut Svg, input: &WeeksStridesInput) {
    let WeeksStridesInput { weeks, theme, text, units, .. } = *input;
    let title = TextLine::new("Stride length", text, Weight::Bold, theme.ink).then(
        format!(", {}", units.symbol()),
        text,
        Weight::Regular,
        theme.muted,
    );
    svg.text(&title, Spot::new(0.0, text), Anchor::Start);
    let small = 0.92 * text;
    let base = 2.7 * text;
    let mut left = 0.0;
    let mut say = |svg: &mut Svg, words: String, sign: &dyn Fn(&mut Svg, f64)| {
        sign(svg, left + 0.8 * text);
        let words = TextLine::new(words, small, Weight::Regular, theme.muted);
        svg.text(&words, Spot::new(left + 1.9 * text, base), Anchor::Start);
        left += 3.4 * text + words.width();
    };
    let middle = base - 0.33 * text;
    let (first, last) = (weeks.approaches.first(), weeks.approaches.last());
    let several = weeks.approaches.len() > 1;
    if let Some(first) = first.filter(|_| several) {
        say(svg, format!("first, {}", first.date_words()), &|svg, x| {
            draw_point(svg, Spot::new(x, middle), Which::First, input);
        });
    }
    if let Some(last) = last {
        let words = if several { "last" } else { "the only one" };
        say(svg, format!("{words}, {}", last.date_words()), &|svg, x| {
            draw_point(svg, Spot::new(x, middle), Which::Last, input);
        });
    }
    if !several {
        return;
    }
    say(svg, "median".to_owned(), &|svg, x| draw_median(svg, (x, middle), 0.7 * text, input));
    let spread =
        if middle_half(weeks) { "middle half of all" } else { "shortest to longest of all" };
    say(svg, spread.to_owned(), &|svg, x| {
        let swatch = Area::around(Spot::new(x, middle), 1.5 * text, 0.8 * text);
        svg.rect(&swatch, 0.1 * text, &Paint::fill(theme.sand).outlined(theme.line, 0.04 * text));
    });
}

fn draw_spread(
    svg: &mut Svg,
    input: &WeeksStridesInput,
    axis: &StrideAxis,
    y: &dyn Fn(f64) -> f64,
) {
    let WeeksStridesInput { weeks, theme, text, .. } = *input;
    if weeks.approaches.len() < 2 {
        return;
    }
    let half = 0.40 * axis.pitch();
    for stride in &weeks.strides {
        let middle = axis.middle(stride.number);
        let (low, high) = stride.spread_m(middle_half(weeks));
        let sand = Area {
            left: middle - half,
            right: middle + half,
            top: y(high.get()),
            bottom: y(low.get()),
        };
        svg.rect(&sand, 0.2 * text, &Paint::fill(theme.sand).outlined(theme.line, 0.04 * text));
        draw_median(svg, (middle, y(stride.median_m.get())), half, input);
    }
}

fn draw_median(svg: &mut Svg, (x, y): (f64, f64), half: f64, input: &WeeksStridesInput) {
    let paint = Paint::stroke(input.theme.ink, 0.13 * input.text);
    svg.line(Spot::new(x - half, y), Spot::new(x + half, y), &paint);
}

fn draw_approach(
    svg: &mut Svg,
    input: &WeeksStridesInput,
    axis: &StrideAxis,
    y: &dyn Fn(f64) -> f64,
    (approach, which): (&DatedApproach, Which),
) {
    let WeeksStridesInput { weeks, theme, text, .. } = *input;
    let aside = match which {
        _ if weeks.approaches.len() < 2 => 0.0,
        Which::First => -0.17 * axis.pitch(),
        Which::Last => 0.17 * axis.pitch(),
    };
    let lengths = approach.strides.iter().filter_map(|s| Some((s.number, s.length_m?)));
    let points: Vec<(i32, Estimate<Metres>)> = lengths.collect();
    let spot = |(number, length): &(i32, Estimate<Metres>)| {
        Spot::new(axis.middle(*number) + aside, y(length.value.get()))
    };
    let line = Paint::stroke(colour(which, &theme), 0.12 * text);
    let line = if which == Which::First { line.dashed(0.45 * text, 0.4 * text) } else { line };
    // Joined only from one stride to the next, never over a gap.
    for pair in points.windows(2).filter(|pair| pair[1].0 - pair[0].0 == 1) {
        svg.line(spot(&pair[0]), spot(&pair[1]), &line);
    }
    for point in &points {
        let at = spot(point);
        let (low, high) = (y(point.1.low95.get()), y(point.1.high95.get()));
        let whisker = Paint::stroke(colour(which, &theme), 0.11 * text);
        svg.line(Spot::new(at.x, low), Spot::new(at.x, high), &whisker);
        for end in [low, high] {
            let cap = 0.24 * text;
            svg.line(Spot::new(at.x - cap, end), Spot::new(at.x + cap, end), &whisker);
        }
        draw_point(svg, at, which, input);
    }
}

fn colour(which: Which, theme: &Theme) -> super::theme::Colour {
    match which {
        Which::First => theme.trailing,
        Which::Last => theme.leading,
    }
}

/// The first is an open ring, the last a full disc.
fn draw_point(svg: &mut Svg, at: Spot, which: Which, input: &WeeksStridesInput) {
    let WeeksStridesInput { theme, text, .. } = *input;
    let colour = colour(which, &theme);
    let paint = match which {
        Which::First => Paint::fill(theme.card).outlined(colour, 0.16 * text),
        Which::Last => Paint::fill(colour).outlined(theme.card, 0.1 * text),
    };
    svg.circle(at, 0.36 * text, &paint);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weeks::by_fence;
    use crate::weeks::sample::{entry, evenly};

    fn drawn(count: usize, units: LengthUnits) -> String {
        let entries = (0..count).map(|i| {
            entry(&format!("{i}"), Some("2026-04-04"), "oxer", &evenly(3.3 + 0.02 * i as f64))
        });
        let weeks = by_fence(entries.collect()).remove(0);
        let theme = Theme::LIGHT;
        let (width, height, text) = (340.0, 200.0, 8.0);
        weeks_strides(&WeeksStridesInput { weeks: &weeks, units, theme, width, height, text }).svg
    }

    #[test]
    fn first_and_last_have_a_point_a_stride_and_the_legend_says_what_is_what() {
        for units in [LengthUnits::Metres, LengthUnits::Feet] {
            let svg = drawn(3, units);
            // Six strides of both, and one of each in the legend.
            assert_eq!(svg.matches("<circle").count(), 14);
            assert!(svg.contains("shortest to longest of all") && svg.contains("first, 2026"));
        }
        assert!(drawn(5, LengthUnits::Metres).contains("middle half of all"));
    }

    #[test]
    fn a_single_approach_has_neither_median_nor_spread() {
        let svg = drawn(1, LengthUnits::Metres);
        assert_eq!(svg.matches("<circle").count(), 7);
        assert!(svg.contains("the only one") && !svg.contains("median"));
    }
}
