//! Stride lengths, take-off and landing on the plan: dimension lines beside the prints and
//! labels that keep clear of them.

use super::area::{Area, Spot};
use super::placement::{Surroundings, Wanted, place};
use super::plan::{PlanInput, PlanPrint, ellipse};
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
    let mut roomy = true;
    for stride in approach.strides.iter().rev() {
        if let (Some(from), Some(to), Some(length)) =
            (place_of(&stride.from_footfall), place_of(&stride.to_footfall), &stride.length_m)
        {
            let ends = [map.spot(from), map.spot(to)];
            let label = stride_label(input, length);
            roomy &= label.width() + text < ends[0].distance(ends[1]);
            spans.push(PlanSpan { ends, colour: theme.ink, label });
        }
    }
    if !roomy {
        // Without ± where there is no room for it: bars and table have it.
        spans.iter_mut().for_each(|span| span.label.runs.truncate(1));
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

fn stride_label(input: &PlanInput, length: &Estimate<Metres>) -> TextLine {
    let PlanInput { theme, text, units, .. } = *input;
    let tight = written_tight(length, units);
    TextLine::new(tight.value, text, Weight::Bold, theme.ink).then(
        format!(" ± {}", tight.plus_minus),
        0.92 * text,
        Weight::Regular,
        theme.muted,
    )
}

/// Dimension lines and labels; returns the places of the labels.
pub(super) fn draw_labels(
    svg: &mut Svg,
    map: &PlanMap,
    input: &PlanInput,
    prints: &[PlanPrint],
    spans: &[PlanSpan],
    scale: Option<Area>,
) -> Vec<Area> {
    let PlanInput { theme, text, .. } = *input;
    let side = (0.0, map.label_side);
    let out = reach(map, prints).min(2.6 * text) + 0.6 * text;
    // All lines run equally far beside the hooves they join.
    let beside: Vec<[Spot; 2]> =
        spans.iter().map(|span| span.ends.map(|end| end.moved(side, out))).collect();
    for (span, line) in spans.iter().zip(&beside) {
        svg.line(line[0], line[1], &Paint::stroke(span.colour, 0.1 * text));
        for (end, at) in span.ends.iter().zip(line) {
            let tick = Paint::stroke(span.colour, 0.07 * text);
            svg.line(end.moved(side, 0.6 * out), at.moved(side, 0.3 * text), &tick);
        }
    }
    let wanted: Vec<Wanted> = spans
        .iter()
        .zip(&beside)
        .map(|(span, [a, b])| Wanted {
            line: (*a, *b),
            width: span.label.width() + 0.5 * text,
            height: text * CAP_HEIGHT + 0.55 * text,
            side,
            gap: 0.3 * text,
        })
        .collect();
    let mut around = surroundings(map, input, prints);
    around.keep_clear.extend(scale);
    around.lines.extend(beside.iter().map(|line| (line[0], line[1])));
    let placed = place(&wanted, &around);
    for (span, placed) in spans.iter().zip(&placed) {
        let Some(placed) = placed else { continue };
        if let Some((from, to)) = placed.leader {
            svg.line(from, to, &Paint::stroke(span.colour, 0.06 * text));
        }
        svg.rect(&placed.area, 0.3 * text, &Paint::glaze(theme.sand, 0.92));
        let base = placed.area.middle().moved((0.0, 1.0), text * CAP_HEIGHT / 2.0);
        svg.text(&span.label, base, Anchor::Middle);
    }
    placed.into_iter().flatten().map(|placed| placed.area).collect()
}

/// How far the hooves and their ellipses reach to the side of the labels.
fn reach(map: &PlanMap, prints: &[PlanPrint]) -> f64 {
    prints
        .iter()
        .map(|print| {
            let middle = print.place.middle;
            let out = |spot: &Spot| (spot.y - middle.y) * map.label_side;
            let ellipse = ellipse(map, print.footfall, 40).iter().map(out).fold(0.0, f64::max);
            print.place.reach((0.0, 1.0)).max(ellipse)
        })
        .fold(0.0, f64::max)
}

/// Hooves and fence to keep clear of; ellipses and poles to cover only when there is no better
/// place.
fn surroundings(map: &PlanMap, input: &PlanInput, prints: &[PlanPrint]) -> Surroundings {
    let text = input.text;
    let fence = &input.approach.fence;
    let mut keep_clear: Vec<Area> =
        prints.iter().map(|print| print.place.area(0.15 * text)).collect();
    let mut lines: Vec<(Spot, Spot)> =
        input.poles.iter().map(|pole| (map.spot(pole.left), map.spot(pole.right))).collect();
    for base in [fence.take_off_base, fence.landing_base] {
        if let [Some(left), Some(right)] = base {
            let ends = [map.spot(left), map.spot(right)];
            match Area::holding(&ends) {
                // Square to the track it is a thin upright; askew its box would claim too much.
                Some(area) if area.width() < 3.0 * text => keep_clear.push(area.grown(0.35 * text)),
                _ => lines.push((ends[0], ends[1])),
            }
        }
    }
    // A few corners do to keep off them.
    let avoid = prints.iter().map(|print| ellipse(map, print.footfall, 12)).collect();
    Surroundings { inside: map.sand.grown(-0.4 * text), keep_clear, avoid, lines }
}
