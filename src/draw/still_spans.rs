//! Measured lengths on a still: strides, take-off and landing, each a dimension line with ticks
//! beside the prints and a label that says the length and its ±.

use super::area::Spot;
use super::placement::{Placed, Wanted};
use super::seen::{View, across_to_base};
use super::still::StillInput;
use super::still_ground::cased;
use super::svg::{Anchor, Paint, Svg};
use super::text_line::{CAP_HEIGHT, TextLine, Weight};
use super::theme::{Colour, PLATE_OPACITY, PictureSizes, Theme};
use crate::quantity::{Estimate, LengthUnits, Metres, written_tight};
use crate::scene::GroundPoint;
use crate::stride::EdgeDistance;

/// One dimension line.
#[derive(Clone, Debug)]
pub(super) struct Span {
    /// The measured points on the picture and how far beside them the line runs.
    ends: [(Spot, f64, f64); 2],
    /// The part of the line on the picture.
    pub shown: Option<(Spot, Spot)>,
    side: (f64, f64),
    colour: Colour,
    label: TextLine,
    /// Take-off or landing.
    pub at_fence: bool,
    /// At least half of it is on the picture, so that a label makes sense.
    half_seen: bool,
    /// When it could first be measured: capture time of its later hoof, seconds.
    pub ended_s: f64,
}

impl Span {
    /// Its label, looking for a place.
    pub fn wanted(&self, sizes: &PictureSizes) -> Option<Wanted> {
        let (from, to) = self.shown.filter(|_| self.half_seen)?;
        Some(Wanted {
            line: (from, to),
            width: self.label.width() + 2.0 * sizes.padding,
            height: plate_height(sizes),
            side: self.side,
            gap: sizes.line / 2.0 + sizes.casing + 0.2 * sizes.text,
        })
    }
}

/// Height of a plate with one line of text.
pub(super) fn plate_height(sizes: &PictureSizes) -> f64 {
    sizes.text * CAP_HEIGHT + 2.4 * sizes.padding
}

/// Everything measured up to `until`: the strides from the last back, then take-off and
/// landing, the order in which their labels choose a place.
pub(super) fn spans_until(input: &StillInput, view: &View, until: f64) -> Vec<Span> {
    let approach = input.approach;
    let theme = &input.theme;
    let done = |id: &str| {
        let footfall = approach.footfalls.iter().find(|footfall| footfall.footfall == id);
        let footfall = footfall.filter(|footfall| footfall.time_s <= until + 1e-9)?;
        Some((footfall.place?, footfall.time_s))
    };
    let mut measured: Vec<Measured> = Vec::new();
    for stride in approach.strides.iter().rev() {
        if let (Some((from, began)), Some((to, ended)), Some(estimate)) =
            (done(&stride.from_footfall), done(&stride.to_footfall), &stride.length_m)
        {
            let label = length(estimate, input.units, &view.sizes, theme);
            measured.push((from, to, theme.ink, label, began.max(ended)));
        }
    }
    let mut edge = |distance: &Option<EdgeDistance>, base, word: &str, colour: Colour| {
        if let Some(distance) = distance
            && let Some((hoof, at)) = done(&distance.footfall)
            && let Some(foot) = across_to_base(approach, base, hoof)
        {
            let length = length(&distance.distance_m, input.units, &view.sizes, theme);
            let mut label =
                TextLine::new(format!("{word} "), view.sizes.small, Weight::Bold, colour);
            label.runs.extend(length.runs);
            measured.push((hoof, foot, colour, label, at));
        }
    };
    edge(&approach.take_off, approach.fence.take_off_base, "take-off", theme.take_off);
    edge(&approach.landing, approach.fence.landing_base, "landing", theme.landing);
    let side = near_side(view, &measured);
    measured
        .into_iter()
        .filter_map(|(from, to, colour, label, ended_s)| {
            let mut ends = [end(input, view, from, side)?, end(input, view, to, side)?];
            let at_fence = colour != theme.ink;
            if at_fence {
                // The far end is a base line of the fence: its tick begins on it.
                ends[1].1 = 0.0;
            }
            Some(Span { at_fence, ended_s, ..span(ends, side, colour, label, view) })
        })
        .collect()
}

/// From, to, colour, label, and when it could first be measured.
type Measured = (GroundPoint, GroundPoint, Colour, TextLine, f64);

fn end(
    input: &StillInput,
    view: &View,
    place: GroundPoint,
    side: (f64, f64),
) -> Option<(Spot, f64, f64)> {
    let print = view.print(input.approach, place)?;
    let reach = print.reach(side) + view.sizes.casing;
    Some((print.middle, reach, reach + 0.75 * view.sizes.small))
}

fn span(
    ends: [(Spot, f64, f64); 2],
    side: (f64, f64),
    colour: Colour,
    label: TextLine,
    view: &View,
) -> Span {
    let [from, to] = ends.map(|(spot, _, out)| spot.moved(side, out));
    let clipped = view.frame().grown(-view.sizes.margin / 2.0).clip(from, to);
    let shown = clipped.map(|(a, b)| (from.towards(to, a), from.towards(to, b)));
    let half_seen = clipped.is_some_and(|(a, b)| b - a >= 0.5);
    Span { ends, shown, side, colour, label, at_fence: false, half_seen, ended_s: f64::INFINITY }
}

/// The side of the track that labels hang on: square to it on the picture, downwards, where the
/// ground is and the horse is not.
fn near_side(view: &View, spans: &[Measured]) -> (f64, f64) {
    let (mut dx, mut dy) = (0.0, 0.0);
    for (from, to, ..) in spans {
        if let (Some(from), Some(to)) = (view.spot(*from), view.spot(*to)) {
            // Landing is measured against the way the horse goes; count every span rightwards.
            let sign = if to.x < from.x { -1.0 } else { 1.0 };
            dx += sign * (to.x - from.x);
            dy += sign * (to.y - from.y);
        }
    }
    let length = dx.hypot(dy);
    if length < 1e-9 { (0.0, 1.0) } else { (-dy / length, dx / length) }
}

fn length(
    estimate: &Estimate<Metres>,
    units: LengthUnits,
    sizes: &PictureSizes,
    theme: &Theme,
) -> TextLine {
    // Feet and inches in their short form: spelt out they would not fit over a stride.
    let written = written_tight(estimate, units);
    let unit = if written.unit.is_empty() { String::new() } else { format!(" {}", written.unit) };
    TextLine::new(written.value, sizes.text, Weight::Bold, theme.ink).then(
        format!(" ± {}{unit}", written.plus_minus),
        sizes.small,
        Weight::Regular,
        theme.muted,
    )
}

/// The dimension line and the ticks from its prints.
pub(super) fn draw_span(svg: &mut Svg, span: &Span, sizes: &PictureSizes, theme: &Theme) {
    let [from, to] = span.ends.map(|(spot, _, out)| spot.moved(span.side, out));
    for (spot, reach, out) in span.ends {
        let tick = [spot.moved(span.side, reach), spot.moved(span.side, out + 2.0 * sizes.line)];
        cased(svg, &tick, span.colour, sizes.hair, sizes, theme);
    }
    cased(svg, &[from, to], span.colour, sizes.line, sizes, theme);
}

/// The plate, its leader and its text.
pub(super) fn draw_label(
    svg: &mut Svg,
    span: &Span,
    placed: &Placed,
    sizes: &PictureSizes,
    theme: &Theme,
) {
    if let Some((from, to)) = placed.leader {
        cased(svg, &[from, to], span.colour, sizes.hair, sizes, theme);
    }
    svg.rect(&placed.area, sizes.corner, &Paint::glaze(theme.card, PLATE_OPACITY));
    let middle = placed.area.middle();
    let base = middle.moved((0.0, 1.0), sizes.text * CAP_HEIGHT / 2.0);
    svg.text(&span.label, base, Anchor::Middle);
}
