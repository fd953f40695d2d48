//! Stride lengths, take-off and landing on the plan: dimension lines beside the prints and
//! labels that keep clear of them.

use super::area::{Area, Spot};
use super::placement::{Surroundings, Wanted, place};
use super::plan::{PlanInput, PlanPrint};
use super::plan_map::PlanMap;
use super::seen::across_to_base;
use super::svg::{Anchor, Paint, Svg};
use super::text_line::{CAP_HEIGHT, TextLine, Weight};
use super::theme::Colour;
use crate::quantity::{Estimate, Metres, written, written_tight};
use crate::scene::GroundPoint;
use crate::stride::EdgeDistance;

/// A measured length on the plan.
pub(super) struct PlanSpan {
    ends: [Spot; 2],
    colour: Colour,
    label: TextLine,
}

/// The strides from the last back, then take-off and landing: the order in which they choose.
pub(super) fn spans(input: &PlanInput, map: &PlanMap, prints: &[PlanPrint]) -> Vec<PlanSpan> {
    let PlanInput { approach, theme, text, .. } = *input;
    let place_of = |id: &str| -> Option<GroundPoint> {
        prints.iter().find(|print| print.footfall.footfall == id)?.footfall.place
    };
    let mut spans = Vec::new();
    for stride in approach.strides.iter().rev() {
        if let (Some(from), Some(to), Some(length)) =
            (place_of(&stride.from_footfall), place_of(&stride.to_footfall), &stride.length_m)
        {
            let ends = [map.spot(from), map.spot(to)];
            let label = stride_label(input, length, ends[0].distance(ends[1]));
            spans.push(PlanSpan { ends, colour: theme.ink, label });
        }
    }
    let mut edge = |distance: &Option<EdgeDistance>, base, word: &str, colour| {
        if let Some(distance) = distance
            && let Some(hoof) = place_of(&distance.footfall)
            && let Some(foot) = across_to_base(approach, base, hoof)
        {
            let label = TextLine::new(format!("{word} "), text, Weight::Regular, colour);
            let value = TextLine::new(
                written(&distance.distance_m, input.units).to_string(),
                text,
                Weight::Bold,
                colour,
            );
            let runs = label.runs.into_iter().chain(value.runs).collect();
            let ends = [map.spot(hoof), map.spot(foot)];
            spans.push(PlanSpan { ends, colour, label: TextLine { runs } });
        }
    };
    edge(&approach.take_off, approach.fence.take_off_base, "take-off", theme.take_off);
    edge(&approach.landing, approach.fence.landing_base, "landing", theme.landing);
    spans
}

/// With ± where there is room for it, without where there is not: bars and table have it.
fn stride_label(input: &PlanInput, length: &Estimate<Metres>, room: f64) -> TextLine {
    let PlanInput { theme, text, units, .. } = *input;
    let tight = written_tight(length, units);
    let value = TextLine::new(tight.value, text, Weight::Bold, theme.ink);
    let full = value.clone().then(
        format!(" ± {}", tight.plus_minus),
        0.92 * text,
        Weight::Regular,
        theme.muted,
    );
    if full.width() + text < room { full } else { value }
}

/// Dimension lines and labels; the fence's name among them.
pub(super) fn draw_labels(
    svg: &mut Svg,
    map: &PlanMap,
    input: &PlanInput,
    prints: &[PlanPrint],
    spans: &[PlanSpan],
    scale: Option<Area>,
) {
    let PlanInput { theme, text, .. } = *input;
    let side = (0.0, map.label_side);
    let out = prints.iter().map(|print| print.place.reach((0.0, 1.0))).fold(0.0, f64::max);
    let out = out + 0.75 * text;
    let beside = |span: &PlanSpan| {
        let [a, b] = span.ends;
        // One line for all, at the height of the span's own hooves.
        [a.moved(side, out), b.moved(side, out)]
    };
    for span in spans {
        let [a, b] = beside(span);
        let stroke = Paint::stroke(span.colour, 0.1 * text);
        svg.line(a, b, &stroke);
        for (end, at) in span.ends.iter().zip([a, b]) {
            let tick = Paint::stroke(span.colour, 0.07 * text);
            svg.line(end.moved(side, 0.6 * out), at.moved(side, 0.3 * text), &tick);
        }
    }
    let label_height = text * CAP_HEIGHT + 0.55 * text;
    let wanted: Vec<Wanted> = spans
        .iter()
        .map(|span| {
            let [a, b] = beside(span);
            Wanted {
                anchor: a.towards(b, 0.5),
                width: span.label.width() + 0.5 * text,
                height: label_height,
                side,
                gap: 0.3 * text,
            }
        })
        .collect();
    let mut lines: Vec<(Spot, Spot)> = spans.iter().map(|span| beside(span).into()).collect();
    lines.extend(input.poles.iter().map(|pole| (map.spot(pole.left), map.spot(pole.right))));
    let fence = &input.approach.fence;
    for base in [fence.take_off_base, fence.landing_base] {
        if let [Some(left), Some(right)] = base {
            lines.push((map.spot(left), map.spot(right)));
        }
    }
    let mut keep_clear: Vec<Area> =
        prints.iter().map(|print| print.place.area(0.15 * text)).collect();
    keep_clear.extend(scale);
    let around = Surroundings { inside: map.sand.grown(-0.4 * text), keep_clear, lines };
    for (span, placed) in spans.iter().zip(place(&wanted, &around)) {
        let Some(placed) = placed else { continue };
        if let Some((from, to)) = placed.leader {
            svg.line(from, to, &Paint::stroke(span.colour, 0.06 * text));
        }
        svg.rect(&placed.area, 0.3 * text, &Paint::glaze(theme.sand, 0.92));
        let base = placed.area.middle().moved((0.0, 1.0), text * CAP_HEIGHT / 2.0);
        svg.text(&span.label, base, Anchor::Middle);
    }
}
