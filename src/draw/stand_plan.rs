//! Where to stand, from above and to scale: track, poles, fence, expected prints with their 95 %
//! ellipses, the phone here and at the better place with what each sees and how far it is from
//! track and fence, the ± of each stride.

use super::area::{Area, Spot, clip_shape};
use super::hoof_print::{PrintLines, PrintPlace, Trust, draw_print};
use super::plan_legend::{fence_sign, scale_bar};
use super::stand_labels::{draw_caption, draw_figures, draw_labels};
use super::stand_legend::{caption_lines, draw_legend, foot_height};
use super::stand_map::{StandMap, contacts};
use super::stand_measures::draw_measures;
use super::svg::{Drawing, Paint, Svg};
use super::theme::{Colour, PLATE_OPACITY, Theme};
use crate::marks::{Limb, PoleEnd};
use crate::quantity::LengthUnits;
use crate::scene::GroundPoint;
use crate::stand::{Advice, Expectation, ExpectedContact, Phone, StandPlan};

/// What the picture needs to know.
#[derive(Clone, Copy, Debug)]
pub struct StandPlanInput<'a> {
    /// The plan.
    pub plan: &'a StandPlan,
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
    /// Whether the advice stands below; where the words stand beside the picture it does not.
    pub captioned: bool,
}

/// A place that is drawn.
#[derive(Clone, Copy, Debug)]
pub(super) struct DrawnPlace<'a> {
    /// What is known from there.
    pub from: &'a Expectation,
    /// Whether it is the one to stand at: filled and bold; otherwise open.
    pub advised: bool,
    /// "now" and "better" where both are drawn.
    pub name: &'static str,
}

impl<'a> StandPlanInput<'a> {
    /// Where she stands, and the place that is advised.
    pub(super) fn places(&self) -> Vec<DrawnPlace<'a>> {
        let plan = self.plan;
        let stays = matches!(plan.advice, Advice::Stay { .. });
        let (now, better) = match (&plan.here, plan.advised()) {
            (Some(_), Some(_)) => ("now", "better"),
            _ => ("phone", "stand here"),
        };
        let here = plan.here.as_ref().map(|from| DrawnPlace { from, advised: stays, name: now });
        let there = plan.advised().map(|from| DrawnPlace { from, advised: true, name: better });
        here.into_iter().chain(there).collect()
    }
}

/// The picture with the places of its parts, so that tests can see that nothing collides.
#[derive(Clone, Debug)]
pub struct StandPicture {
    /// The drawing.
    pub drawing: Drawing,
    /// The part of it that is ground.
    pub sand: Area,
    /// Where text lies on the sand.
    pub labels: Vec<Area>,
    /// Where hoof prints and phones lie.
    pub signs: Vec<Area>,
}

/// One standard deviation to the ellipse that holds 95 %: √(χ² of 2 degrees at 0.95).
const TO_95_PERCENT: f64 = 2.447_747;

/// The picture from above.
pub fn stand_picture(input: &StandPlanInput) -> StandPicture {
    let StandPlanInput { plan, theme, text, .. } = *input;
    let lines = caption_lines(input);
    let map = StandMap::fit(input, foot_height(input, lines.len()));
    let height = map.sand.height() + foot_height(input, lines.len());
    let mut svg = Svg::new(input.width, height, &plan.sentence(input.units));
    svg.rect(&map.sand, 0.5 * text, &Paint::fill(theme.sand));
    let places = input.places();
    // Lit is what the phone will see; of two places the one that is advised.
    if let Some(place) = places.last() {
        let wedge = map.wedge(&place.from.phone, place.from.view);
        svg.polygon(&clip_shape(&wedge, &map.sand), &Paint::glaze(theme.card, 0.6));
    }
    for place in &places {
        draw_edges(&mut svg, &map, input, place);
    }
    draw_ground(&mut svg, &map, input);
    for place in &places {
        for contact in &place.from.contacts {
            draw_ellipse(&mut svg, &map, input, contact, place.advised);
        }
    }
    let measures = draw_measures(&mut svg, &map, input);
    let prints = draw_prints(&mut svg, &map, input);
    draw_way(&mut svg, &map, input);
    let mut signs: Vec<Area> = prints.iter().map(|print| print.area(0.0)).collect();
    for place in &places {
        signs.push(draw_phone(&mut svg, &map, input, &place.from.phone, place.advised));
    }
    let scale = draw_scale(&mut svg, &map, input);
    let mut labels = draw_figures(&mut svg, &map, input);
    let mut keep_clear = [signs.clone(), labels.clone()].concat();
    keep_clear.extend(scale);
    labels.extend(draw_labels(&mut svg, &map, input, measures, keep_clear));
    draw_legend(&mut svg, input, map.sand.bottom);
    draw_caption(&mut svg, input, &lines, map.sand.bottom);
    StandPicture { drawing: svg.finish(), sand: map.sand, labels, signs }
}

/// Colour of what belongs to a place. Neither is a limb's: prints keep theirs.
pub(super) fn colour_of(better: bool, theme: &Theme) -> Colour {
    if better { theme.ink } else { theme.muted }
}

/// The scale bar on a plate, for edges of a view may run there.
fn draw_scale(svg: &mut Svg, map: &StandMap, input: &StandPlanInput) -> Option<Area> {
    let StandPlanInput { theme, text, units, .. } = *input;
    let bar = |svg: &mut Svg| scale_bar(svg, &map.sand, map.per_metre, units, &theme, text);
    let place = bar(&mut Svg::new(map.sand.width(), map.sand.height(), ""))?;
    svg.rect(&place, 0.3 * text, &Paint::glaze(theme.sand, PLATE_OPACITY));
    bar(svg)
}

/// The edges of what a phone sees.
fn draw_edges(svg: &mut Svg, map: &StandMap, input: &StandPlanInput, place: &DrawnPlace) {
    let StandPlanInput { theme, text, .. } = *input;
    let DrawnPlace { from, advised, .. } = *place;
    let colour = colour_of(advised, &theme);
    let wedge = map.wedge(&from.phone, from.view);
    let apex = wedge[0];
    let mut paint = Paint::stroke(colour, 0.09 * text);
    if !advised {
        paint = paint.dashed(0.55 * text, 0.4 * text);
    }
    for end in [wedge[1], wedge[wedge.len() - 1]] {
        if let Some((enter, leave)) = map.sand.clip(apex, end) {
            svg.line(apex.towards(end, enter), apex.towards(end, leave), &paint);
        }
    }
}

/// Track, poles and fence.
fn draw_ground(svg: &mut Svg, map: &StandMap, input: &StandPlanInput) {
    let StandPlanInput { plan, theme, text, .. } = *input;
    let lesson = &plan.lesson;
    let poles = &lesson.poles;
    for pole in 1..=poles.count {
        let ends = PoleEnd::BOTH.map(|end| map.spot(poles.end(pole, end).below()));
        let width = (poles.diameter_m * map.per_metre).max(0.28 * text);
        svg.line(ends[0], ends[1], &Paint::stroke(theme.line, width + 0.2 * text));
        svg.line(ends[0], ends[1], &Paint::stroke(theme.card, width));
    }
    let track = Spot::new(map.sand.left, map.spot(GroundPoint::new(0.0, 0.0)).y);
    let end = Spot::new(map.sand.right, track.y);
    let dashes = Paint::stroke(theme.line, 0.09 * text).dashed(0.5 * text, 0.35 * text);
    svg.line(track.moved((1.0, 0.0), 0.4 * text), end.moved((1.0, 0.0), -0.4 * text), &dashes);
    fence_sign(svg, lesson.base().map(|at| map.spot(at)), &theme, 1.1 * text);
}

fn draw_ellipse(
    svg: &mut Svg,
    map: &StandMap,
    input: &StandPlanInput,
    contact: &ExpectedContact,
    better: bool,
) {
    let StandPlanInput { theme, text, .. } = *input;
    let Some(edge) = ellipse_edge(map, contact) else { return };
    svg.polygon(&clip_shape(&edge, &map.sand), &ellipse_paint(better, &theme, text));
}

/// The ellipse that holds 95 % of where a contact will be found, on the drawing.
pub(super) fn ellipse_edge(map: &StandMap, contact: &ExpectedContact) -> Option<Vec<Spot>> {
    let ellipse = contact.ellipse?;
    let middle = map.spot(contact.place);
    let (sin, cos) = ellipse.turn_rad.sin_cos();
    let (major, minor) = ((cos, -sin), (sin, cos));
    let half = |sd: f64| sd * TO_95_PERCENT * map.per_metre;
    let edge: Vec<Spot> = (0..40)
        .map(|i| {
            let (sin, cos) = (f64::from(i) / 40.0 * std::f64::consts::TAU).sin_cos();
            let at = middle.moved(major, half(ellipse.major_sd_m) * cos);
            at.moved(minor, half(ellipse.minor_sd_m) * sin)
        })
        .collect();
    edge.iter().all(|spot| spot.is_finite()).then_some(edge)
}

/// Dashed from here, filled from the better place.
pub(super) fn ellipse_paint(better: bool, theme: &Theme, text: f64) -> Paint {
    let colour = colour_of(better, theme);
    match better {
        true => Paint::glaze(theme.card, 0.7).outlined(colour, 0.08 * text),
        false => Paint::stroke(colour, 0.09 * text).dashed(0.3 * text, 0.25 * text),
    }
}

fn draw_prints(svg: &mut Svg, map: &StandMap, input: &StandPlanInput) -> Vec<PrintPlace> {
    let StandPlanInput { plan, theme, text, .. } = *input;
    let length = (0.4 * map.per_metre).clamp(0.85 * text, 1.5 * text);
    let lines = PrintLines { ink: 0.09 * text, casing: 0.04 * text };
    let hinds = plan.lesson.strides.count as usize + 1;
    contacts(input)
        .enumerate()
        .map(|(at, contact)| {
            let limb = if at < hinds { Limb::LeadingHind } else { Limb::TrailingFore };
            let place = PrintPlace::flat(map.spot(contact), map.ahead(), length);
            draw_print(svg, &place, limb, Trust::Fits, lines, &theme);
            place
        })
        .collect()
}

/// From here to the better place, where they are far enough apart for an arrow.
pub(super) fn way(map: &StandMap, input: &StandPlanInput) -> Option<(Spot, Spot)> {
    let spot = |phone: &Phone| map.spot(phone.place().below());
    let (from, to) = (spot(&input.plan.here.as_ref()?.phone), spot(&input.plan.better()?.phone));
    let (length, text) = (from.distance(to), input.text);
    let ends = || (from.towards(to, text / length), from.towards(to, 1.0 - 1.1 * text / length));
    (length >= 3.0 * text).then(ends)
}

/// An arrow along that way.
fn draw_way(svg: &mut Svg, map: &StandMap, input: &StandPlanInput) {
    let StandPlanInput { theme, text, .. } = *input;
    let Some((from, to)) = way(map, input) else { return };
    draw_arrow(svg, (from, to), 0.7 * text, &Paint::stroke(theme.ink, 0.12 * text));
}

/// A line with a head of this length at its end.
pub(super) fn draw_arrow(svg: &mut Svg, (from, to): (Spot, Spot), head: f64, paint: &Paint) {
    svg.line(from, to, paint);
    let length = from.distance(to).max(f64::MIN_POSITIVE);
    let ahead = ((to.x - from.x) / length, (to.y - from.y) / length);
    let aside = (-ahead.1, ahead.0);
    for side in [0.57, -0.57] {
        svg.line(to, to.moved(ahead, -head).moved(aside, side * head), paint);
    }
}

/// A phone on its stand: open where she stands, filled at the better place.
fn draw_phone(
    svg: &mut Svg,
    map: &StandMap,
    input: &StandPlanInput,
    phone: &Phone,
    better: bool,
) -> Area {
    let StandPlanInput { theme, text, .. } = *input;
    let at = map.spot(phone.place().below());
    phone_sign(svg, at, better, &theme, text);
    Area::around(at, 1.9 * text, 2.0 * text)
}

/// The sign of a phone, its lens towards the track, which is above it.
pub(super) fn phone_sign(svg: &mut Svg, at: Spot, better: bool, theme: &Theme, text: f64) {
    let colour = colour_of(better, theme);
    let body = [(-0.75, -0.45), (0.75, -0.45), (0.75, 0.2), (-0.75, 0.2)];
    let lens = [(-0.3, 0.2), (0.3, 0.2), (0.42, 0.7), (-0.42, 0.7)];
    for shape in [lens, body] {
        let spots = shape.map(|(x, y)| Spot::new(at.x + x * text, at.y - y * text));
        let fill = if better { colour } else { theme.card };
        svg.polygon(&spots, &Paint::fill(fill).outlined(theme.card, 0.4 * text));
        svg.polygon(&spots, &Paint::fill(fill).outlined(colour, 0.14 * text));
    }
}

#[cfg(test)]
mod tests;
