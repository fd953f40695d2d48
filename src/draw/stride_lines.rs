//! A quantity of each stride as points with whiskers, joined, on the stride axis.

use super::area::{Area, Spot};
use super::stride_axis::{StrideAxis, enclosing_ticks};
use super::svg::{Anchor, Paint, Svg};
use super::text_line::{TextLine, Weight};
use super::theme::Theme;
use crate::quantity::{Estimate, LengthUnits, Unit, written_tick};
use crate::stride::ApproachMeasurement;

/// One quantity, stride by stride.
pub(super) struct Series {
    title: &'static str,
    unit: &'static str,
    /// Stride number, value, low and high end of the 95 % interval.
    points: Vec<(i32, f64, f64, f64)>,
    /// The least span of the axis, so that noise is not blown up.
    least_span: f64,
}

impl Series {
    /// Strides a minute.
    pub fn tempo(approach: &ApproachMeasurement) -> Self {
        let tempos = approach.strides.iter();
        let points = tempos.map(|row| point(row.number, &row.tempo_strides_per_min, 1.0)).collect();
        Self { title: "Tempo", unit: "strides/min", points, least_span: 5.0 }
    }

    /// Metres a minute, or feet a second.
    pub fn speed(approach: &ApproachMeasurement, units: LengthUnits) -> Self {
        let (unit, scale, least_span) = match units {
            LengthUnits::Metres => ("m/min", 60.0, 30.0),
            LengthUnits::Feet => ("ft/s", units.from_metres(1.0), 2.0),
        };
        let points = approach
            .strides
            .iter()
            .filter_map(|row| Some(point(row.number, row.speed_m_per_s.as_ref()?, scale)))
            .collect();
        Self { title: "Speed", unit, points, least_span }
    }
}

fn point<U: Unit>(number: i32, estimate: &Estimate<U>, scale: f64) -> (i32, f64, f64, f64) {
    let [value, low, high] =
        [estimate.value, estimate.low95, estimate.high95].map(|x| x.get() * scale);
    (number, value, low, high)
}

/// The row between `top` and `bottom`: its title, two to four round values, the line.
pub(super) fn draw_series(
    svg: &mut Svg,
    series: &Series,
    axis: &StrideAxis,
    (top, bottom): (f64, f64),
    text: f64,
    theme: &Theme,
) {
    let title = TextLine::new(series.title, text, Weight::Bold, theme.ink).then(
        format!(", {}", series.unit),
        text,
        Weight::Regular,
        theme.muted,
    );
    svg.text(&title, Spot::new(0.0, top + text), Anchor::Start);
    let area = Area {
        left: axis.left(),
        right: axis.right(),
        top: top + 1.9 * text,
        bottom: bottom - 0.9 * text,
    };
    let finite = |p: &&(i32, f64, f64, f64)| p.1.is_finite() && p.2.is_finite() && p.3.is_finite();
    let points: Vec<_> = series.points.iter().filter(finite).collect();
    let Some(first) = points.first() else { return };
    let (low, high) =
        points.iter().fold((first.2, first.3), |(low, high), p| (low.min(p.2), high.max(p.3)));
    let stretch = (series.least_span - (high - low)).max(0.0) / 2.0;
    let most = (area.height() / (1.1 * text) + 1.0).clamp(3.0, 4.0) as usize;
    let (ticks, step) = enclosing_ticks(low - stretch, high + stretch, most);
    let (low, high) = (ticks[0], ticks[ticks.len() - 1]);
    let y = |value: f64| area.bottom - (value - low) / (high - low) * area.height();
    // Where there is no room for all their numbers, the ends have theirs.
    let tight = (ticks.len() - 1) as f64 * 0.9 * text > area.height();
    for (i, tick) in ticks.iter().copied().enumerate() {
        axis.draw_rule(svg, y(tick), &Paint::stroke(theme.line, 0.04 * text).faint(0.45));
        if tight && i > 0 && i + 1 < ticks.len() {
            continue;
        }
        let label = TextLine::new(written_tick(tick, step), text, Weight::Regular, theme.muted);
        svg.text(&label, Spot::new(axis.left() - 0.5 * text, y(tick) + 0.36 * text), Anchor::End);
    }
    let spots: Vec<Spot> = points.iter().map(|p| Spot::new(axis.middle(p.0), y(p.1))).collect();
    // Joined only from one stride to the next, never over a gap.
    for (pair, ends) in points.windows(2).zip(spots.windows(2)) {
        if pair[1].0 - pair[0].0 == 1 {
            svg.line(ends[0], ends[1], &Paint::stroke(theme.ink, 0.12 * text));
        }
    }
    let dot = 0.22 * text;
    for (p, spot) in points.iter().zip(&spots) {
        let (top, bottom) = (Spot::new(spot.x, y(p.3)), Spot::new(spot.x, y(p.2)));
        svg.line(top, bottom, &Paint::stroke(theme.ink, 0.1 * text));
        for at in [top, bottom] {
            // A cap needs a stem to be seen between it and the dot.
            if at.distance(*spot) > 1.5 * dot {
                let cap = [at.moved((1.0, 0.0), -0.26 * text), at.moved((1.0, 0.0), 0.26 * text)];
                svg.line(cap[0], cap[1], &Paint::stroke(theme.ink, 0.1 * text));
            }
        }
        svg.circle(*spot, dot, &Paint::fill(theme.ink));
    }
}
