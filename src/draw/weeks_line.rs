//! One number of every approach in the order of dates, as points with whiskers.

use super::area::{Area, Spot};
use super::stride_axis::{StrideAxis, enclosing_ticks};
use super::svg::{Anchor, Drawing, Paint, Svg};
use super::text_line::{TextLine, Weight, width_of};
use super::theme::{Colour, Theme};
use crate::quantity::{Estimate, LengthUnits, Metres, Percent, Unit, written_tick};
use crate::weeks::FenceWeeks;

/// Which number is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WeeksNumber {
    /// Standard deviation of the strides over their mean.
    Variation,
    /// Take-off distance.
    TakeOff,
}

/// What the chart needs to know.
#[derive(Clone, Copy, Debug)]
pub struct WeeksLineInput<'a> {
    /// The approaches to one fence.
    pub weeks: &'a FenceWeeks,
    /// Which number.
    pub number: WeeksNumber,
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

/// A value with the ends of its interval, in the unit of the axis.
type Point = Option<[f64; 3]>;

/// The points, evenly spaced, with as many dates below as fit.
pub fn weeks_line(input: &WeeksLineInput) -> Drawing {
    let WeeksLineInput { weeks, number, units, theme, width, height, text } = *input;
    let (title, unit, colour, least) = match number {
        WeeksNumber::Variation => ("Variation of the strides", "%", theme.ink, 2.0),
        WeeksNumber::TakeOff => {
            ("Take-off", units.symbol(), theme.take_off, units.from_metres(0.3))
        }
    };
    let mut svg = Svg::new(width, height, &format!("{title} of all approaches to {}", weeks.fence));
    let heading = TextLine::new(title, text, Weight::Bold, theme.ink).then(
        format!(", {unit}"),
        text,
        Weight::Regular,
        theme.muted,
    );
    svg.text(&heading, Spot::new(0.0, text), Anchor::Start);
    let points = points(weeks, number, units);
    let area = Area {
        left: StrideAxis::GUTTER * text,
        right: width - 0.5 * text,
        top: 2.2 * text,
        bottom: height - 1.9 * text,
    };
    let known = points.iter().flatten();
    let (low, high) = known
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), p| (low.min(p[1]), high.max(p[2])));
    if low > high {
        let none = TextLine::new("not known of any approach", text, Weight::Regular, theme.muted);
        svg.text(&none, area.middle(), Anchor::Middle);
        return svg.finish();
    }
    let stretch = (least - (high - low)).max(0.0) / 2.0;
    let bottom = if number == WeeksNumber::Variation { 0.0 } else { low - stretch };
    let (ticks, step) = enclosing_ticks(bottom, high + stretch, 4);
    let (low, high) = (ticks[0], ticks[ticks.len() - 1]);
    let y = |value: f64| area.bottom - (value - low) / (high - low) * area.height();
    for tick in &ticks {
        let at = y(*tick);
        let rule = Paint::stroke(theme.line, 0.04 * text).faint(0.45);
        svg.line(Spot::new(area.left, at), Spot::new(area.right, at), &rule);
        let label = TextLine::new(written_tick(*tick, step), text, Weight::Regular, theme.muted);
        svg.text(&label, Spot::new(area.left - 0.5 * text, at + 0.36 * text), Anchor::End);
    }
    let pitch = area.width() / points.len() as f64;
    let x = |i: usize| area.left + (i as f64 + 0.5) * pitch;
    draw_points(&mut svg, &points, (&x, &y), (colour, text.min(2.4 * pitch)), &theme);
    draw_unknown(&mut svg, &points, &x, &area, input);
    draw_dates(&mut svg, input, &x, area.bottom);
    svg.finish()
}

fn points(weeks: &FenceWeeks, number: WeeksNumber, units: LengthUnits) -> Vec<Point> {
    let variation = |e: Estimate<Percent>| [e.value.get(), e.low95.get(), e.high95.get()];
    let take_off = |e: Estimate<Metres>| {
        [e.value, e.low95, e.high95].map(|metres| units.from_metres(metres.get()))
    };
    let approaches = weeks.approaches.iter();
    approaches
        .map(|one| match number {
            WeeksNumber::Variation => Some(variation(one.levelness.as_ref()?.variation_percent)),
            WeeksNumber::TakeOff => Some(take_off(one.take_off.as_ref()?.distance_m)),
        })
        .collect()
}

fn draw_points(
    svg: &mut Svg,
    points: &[Point],
    (x, y): (&dyn Fn(usize) -> f64, &dyn Fn(f64) -> f64),
    (colour, text): (Colour, f64),
    theme: &Theme,
) {
    let spot = |i: usize| points[i].map(|p| Spot::new(x(i), y(p[0])));
    for i in 1..points.len() {
        // Never joined over an approach of which the number is not known.
        if let (Some(from), Some(to)) = (spot(i - 1), spot(i)) {
            svg.line(from, to, &Paint::stroke(colour, 0.07 * text).faint(0.6));
        }
    }
    for (i, point) in points.iter().enumerate() {
        let Some([value, low, high]) = *point else { continue };
        let (at, low, high) = (Spot::new(x(i), y(value)), y(low), y(high));
        let whisker = Paint::stroke(colour, 0.11 * text);
        svg.line(Spot::new(at.x, low), Spot::new(at.x, high), &whisker);
        for end in [low, high] {
            let cap = 0.24 * text;
            svg.line(Spot::new(at.x - cap, end), Spot::new(at.x + cap, end), &whisker);
        }
        svg.circle(at, 0.32 * text, &Paint::fill(colour).outlined(theme.card, 0.08 * text));
    }
}

/// A dashed upright where the number is not known, with the words where there is room.
fn draw_unknown(
    svg: &mut Svg,
    points: &[Point],
    x: &dyn Fn(usize) -> f64,
    area: &Area,
    input: &WeeksLineInput,
) {
    let WeeksLineInput { theme, text, .. } = *input;
    let small = 0.92 * text;
    let room = width_of("not known", small, Weight::Regular) + text;
    for i in (0..points.len()).filter(|i| points[*i].is_none()) {
        let dashes = Paint::stroke(theme.line, 0.06 * text).dashed(0.3 * text, 0.4 * text);
        svg.line(Spot::new(x(i), area.top + 1.4 * small), Spot::new(x(i), area.bottom), &dashes);
        let words = if area.width() / points.len() as f64 >= room { "not known" } else { "?" };
        let words = TextLine::new(words, small, Weight::Regular, theme.muted);
        svg.text(&words, Spot::new(x(i), area.top + small), Anchor::Middle);
    }
}

/// The first and the last date, and between them as many as keep apart.
fn draw_dates(svg: &mut Svg, input: &WeeksLineInput, x: &dyn Fn(usize) -> f64, base: f64) {
    let WeeksLineInput { weeks, theme, text, width, .. } = *input;
    let small = 0.92 * text;
    let count = weeks.approaches.len();
    let mut taken: Vec<(f64, f64)> = Vec::new();
    let inner = 1..count.saturating_sub(1);
    for i in [0, count - 1].into_iter().chain(inner) {
        let date = weeks.approaches[i].date_words();
        let line = TextLine::new(date, small, Weight::Regular, theme.muted);
        let half = line.width() / 2.0;
        // The outermost move inwards rather than over the edge.
        let middle = x(i).min(width - half).max(half);
        let (left, right) = (middle - half, middle + half);
        let gap = 0.9 * text;
        if taken.iter().any(|(from, to)| left < to + gap && right > from - gap) {
            continue;
        }
        taken.push((left, right));
        let tick = Paint::stroke(theme.line, 0.06 * text);
        svg.line(Spot::new(x(i), base), Spot::new(x(i), base + 0.35 * text), &tick);
        svg.text(&line, Spot::new(middle, base + 1.5 * text), Anchor::Middle);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weeks::by_fence;
    use crate::weeks::sample::{entry, evenly};

    fn drawn(count: usize, number: WeeksNumber, without_take_off: usize) -> String {
        let entries = (0..count).map(|i| {
            let date = format!("2026-04-{:02}", i % 28 + 1);
            let mut one = entry(&format!("{i:03}"), Some(&date), "oxer", &evenly(3.3));
            if i < without_take_off {
                one.approach.take_off = None;
            }
            one
        });
        let weeks = by_fence(entries.collect()).remove(0);
        let (theme, units) = (Theme::LIGHT, LengthUnits::Feet);
        let (width, height, text) = (250.0, 110.0, 7.5);
        let input = WeeksLineInput { weeks: &weeks, number, units, theme, width, height, text };
        weeks_line(&input).svg
    }

    #[test]
    fn every_approach_has_its_point_and_dates_do_not_collide() {
        for count in [1, 2, 3, 12, 300] {
            let svg = drawn(count, WeeksNumber::Variation, 0);
            assert_eq!(svg.matches("<circle").count(), count);
            assert!((1..=6).contains(&svg.matches("2026-04").count()));
        }
    }

    #[test]
    fn an_unknown_take_off_is_said_and_not_drawn() {
        let svg = drawn(3, WeeksNumber::TakeOff, 1);
        assert_eq!((svg.matches("<circle").count(), svg.matches("not known").count()), (2, 1));
        assert!(drawn(3, WeeksNumber::TakeOff, 3).contains("not known of any approach"));
        assert_eq!(drawn(40, WeeksNumber::TakeOff, 2).matches(">?<").count(), 2);
    }
}
