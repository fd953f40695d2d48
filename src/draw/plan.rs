//! The approach from above, to scale: hoof prints by limb with their 95 % ellipses, track,
//! poles, fence, stride lengths, scale bar, legend.

use super::area::{Area, Spot, clip_shape};
use super::hoof_print::{PrintLines, PrintPlace, Trust, draw_print};
use super::plan_labels::{draw_labels, spans};
use super::plan_legend::{draw_legend, draw_scale, legend_height};
use super::plan_map::PlanMap;
use super::seen::{heading_at, trust_of};
use super::svg::{Drawing, Paint, Svg};
use super::theme::Theme;
use crate::marks::Limb;
use crate::quantity::LengthUnits;
use crate::stride::{ApproachMeasurement, PlacedFootfall};
use crate::survey::{PlacedPole, Suspect};

/// What the plan needs to know.
#[derive(Clone, Copy, Debug)]
pub struct PlanInput<'a> {
    /// The approach.
    pub approach: &'a ApproachMeasurement,
    /// The surveyed poles.
    pub poles: &'a [PlacedPole],
    /// Marks that do not fit.
    pub suspects: &'a [Suspect],
    /// Metres or feet.
    pub units: LengthUnits,
    /// Colours.
    pub theme: Theme,
    /// Width of the drawing, in its own units.
    pub width: f64,
    /// The most it may be high.
    pub max_height: f64,
    /// Size of the type, in the same units.
    pub text: f64,
}

/// One standard deviation to the ellipse that holds 95 %: √(χ² of 2 degrees at 0.95).
const TO_95_PERCENT: f64 = 2.447_747;

/// A hoof print on the plan.
pub(super) struct PlanPrint<'a> {
    pub footfall: &'a PlacedFootfall,
    pub place: PrintPlace,
    pub trust: Trust,
}

/// A plan with its parts, so that tests can see that nothing collides.
#[derive(Clone, Debug)]
pub struct PlanParts {
    /// The drawing.
    pub drawing: Drawing,
    /// The part of it that is ground.
    pub sand: Area,
    /// Where the hoof prints are.
    pub prints: Vec<Area>,
    /// Where the labels of the lengths are.
    pub labels: Vec<Area>,
    /// The 95 % ellipses, as far as they are on the sand.
    pub ellipses: Vec<Vec<Spot>>,
}

/// The plan view.
pub fn plan(input: &PlanInput) -> Drawing {
    plan_parts(input).drawing
}

/// The plan view with the places of its parts.
pub fn plan_parts(input: &PlanInput) -> PlanParts {
    let PlanInput { approach, theme, text, .. } = *input;
    let legend = legend_height(input);
    let map = PlanMap::fit(input, legend);
    let title = format!("Plan of the hoof prints before {}", approach.fence.name);
    let mut svg = Svg::new(input.width, map.sand.height() + legend, &title);
    svg.rect(&map.sand, 0.5 * text, &Paint::fill(theme.sand));
    draw_poles(&mut svg, &map, input);
    draw_track(&mut svg, &map, input);
    draw_fence(&mut svg, &map, input);
    let prints = prints(&map, input);
    for print in &prints {
        let paint = Paint::glaze(theme.card, 0.7).outlined(theme.muted, 0.07 * text);
        svg.polygon(&ellipse(&map, print.footfall, 40), &paint);
    }
    let scale = draw_scale(&mut svg, &map, input);
    let spans = spans(input, &map, &prints);
    let labels = draw_labels(&mut svg, &map, input, &prints, &spans, scale);
    let lines = PrintLines { ink: 0.09 * text, casing: 0.04 * text };
    for print in &prints {
        let limb = print.footfall.limb;
        draw_print(&mut svg, &print.place, limb, print.trust, lines, &theme);
    }
    draw_legend(&mut svg, input, map.sand.bottom);
    PlanParts {
        drawing: svg.finish(),
        sand: map.sand,
        prints: prints.iter().map(|print| print.place.area(0.0)).collect(),
        labels,
        ellipses: prints.iter().map(|print| ellipse(&map, print.footfall, 40)).collect(),
    }
}

/// The limbs that occur, in the order of the canter's beats.
pub(super) fn limbs(approach: &ApproachMeasurement) -> Vec<Limb> {
    let seen = |limb: &Limb| {
        approach.footfalls.iter().any(|footfall| footfall.limb == *limb && footfall.place.is_some())
    };
    Limb::ALL.into_iter().filter(seen).collect()
}

/// Length of a print: larger than life, so that fill and shape can be told.
pub(super) fn print_length(map: &PlanMap, text: f64) -> f64 {
    (0.4 * map.per_metre).clamp(0.85 * text, 1.5 * text)
}

fn prints<'a>(map: &PlanMap, input: &PlanInput<'a>) -> Vec<PlanPrint<'a>> {
    let approach = input.approach;
    let length = print_length(map, input.text);
    approach
        .footfalls
        .iter()
        .filter_map(|footfall| {
            let at = footfall.place?;
            let along = map.direction(heading_at(approach, at));
            Some(PlanPrint {
                footfall,
                place: PrintPlace::flat(map.spot(at), along, length),
                trust: trust_of(approach, &footfall.footfall, input.suspects),
            })
        })
        .collect()
}

fn draw_poles(svg: &mut Svg, map: &PlanMap, input: &PlanInput) {
    let PlanInput { theme, text, .. } = *input;
    for pole in input.poles {
        let (left, right) = (map.spot(pole.left), map.spot(pole.right));
        let width = (pole.diameter_m * map.per_metre).max(0.28 * text);
        svg.line(left, right, &Paint::stroke(theme.line, width + 0.2 * text));
        svg.line(left, right, &Paint::stroke(theme.card, width));
    }
}

fn draw_track(svg: &mut Svg, map: &PlanMap, input: &PlanInput) {
    let PlanInput { approach, theme, text, .. } = *input;
    let spots: Vec<Spot> = approach.track_line.iter().map(|place| map.spot(*place)).collect();
    let dashes = Paint::stroke(theme.line, 0.09 * text).dashed(0.5 * text, 0.35 * text);
    for pair in spots.windows(2).collect::<Vec<_>>().chunks(4) {
        // In pieces, so that a track that leaves the sand is cut at its edge.
        let piece: Vec<Spot> = pair
            .iter()
            .map(|pair| pair[0])
            .chain(pair.last().map(|pair| pair[1]))
            .filter(|spot| map.sand.holds(*spot))
            .collect();
        svg.polyline(&piece, &dashes);
    }
}

fn draw_fence(svg: &mut Svg, map: &PlanMap, input: &PlanInput) {
    let PlanInput { approach, theme, text, .. } = *input;
    let fence = &approach.fence;
    for (base, colour) in
        [(fence.landing_base, theme.landing), (fence.take_off_base, theme.take_off)]
    {
        if let [Some(left), Some(right)] = base {
            let (left, right) = (map.spot(left), map.spot(right));
            svg.line(left, right, &Paint::stroke(colour, 0.24 * text));
        }
    }
    for corner in fence.take_off_base.iter().chain(&fence.landing_base).flatten() {
        let post = Area::around(map.spot(*corner), 0.55 * text, 0.55 * text);
        svg.rect(&post, 0.08 * text, &Paint::fill(theme.ink));
    }
}

/// The 95 % ellipse of a hoof on the sand, as a shape of so many corners; empty for none.
pub(super) fn ellipse(map: &PlanMap, footfall: &PlacedFootfall, corners: u32) -> Vec<Spot> {
    let (Some(at), Some(ellipse)) = (footfall.place, footfall.ellipse) else { return Vec::new() };
    let middle = map.spot(at);
    let major = map.direction(ellipse.turn_rad);
    let minor = (-major.1, major.0);
    let half = |sd: f64| sd * TO_95_PERCENT * map.per_metre;
    let (long, short) = (half(ellipse.major_sd_m), half(ellipse.minor_sd_m));
    let edge: Vec<Spot> = (0..corners)
        .map(|i| {
            let turn = f64::from(i) / f64::from(corners) * std::f64::consts::TAU;
            let (sin, cos) = turn.sin_cos();
            middle.moved(major, long * cos).moved(minor, short * sin)
        })
        .collect();
    if edge.iter().all(|spot| spot.is_finite()) { clip_shape(&edge, &map.sand) } else { Vec::new() }
}
