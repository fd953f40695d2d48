//! Words and figures on the picture of where to stand.

use super::area::{Area, Spot};
use super::placement::{Surroundings, Wanted, place};
use super::stand_legend::legend_height;
use super::stand_map::{FIGURE_ROW, StandMap, contacts, figures_height};
use super::stand_measures::{Label, Measures, away_from_fence, draw_label_arrow};
use super::stand_plan::{DrawnPlace, StandPlanInput, colour_of, ellipse_edge, way};
use super::svg::{Anchor, Paint, Svg};
use super::text_line::{CAP_HEIGHT, TextLine, Weight};
use super::theme::PLATE_OPACITY;
use crate::marks::PoleEnd;
use crate::quantity::{LengthUnits, Metres, Unit, written_half, written_held};
use crate::scene::GroundPoint;
use crate::stand::Expectation;

/// Rows of figures, the strides' numbers first and then a row a place, beside the track where no
/// pole lies; returns where they are.
pub(super) fn draw_figures(svg: &mut Svg, map: &StandMap, input: &StandPlanInput) -> Vec<Area> {
    let StandPlanInput { plan, theme, text, .. } = *input;
    let contacts: Vec<Spot> = contacts(input).map(|contact| map.spot(contact)).collect();
    let numbers: Vec<i32> =
        (1..=plan.lesson.strides.count).rev().map(|back| -(back as i32)).collect();
    let middles: Vec<Spot> =
        contacts.windows(2).take(numbers.len()).map(|pair| pair[0].towards(pair[1], 0.5)).collect();
    let row = FIGURE_ROW * text;
    let places = input.places();
    let top = row_top(map, input, figures_height(input));
    let unit = tight_unit(input, &middles);
    let mut figures = Figures { svg, input, onward: map.onward, areas: Vec::new() };
    let heads = numbers.iter().map(|number| {
        let number = format!("\u{2212}{}", number.unsigned_abs());
        TextLine::new(number, 0.92 * text, Weight::Regular, theme.muted)
    });
    figures.row(heads, &middles, top + 0.5 * row);
    let take_off_x = take_off_edge(&figures, map, &contacts, &middles);
    figures.behind("take-off", false, Spot::new(take_off_x, top + 0.5 * row));
    // Where the horse comes from, clear of the first contact and of its figures.
    let clear = |spot: Spot, by: f64| (spot.x - by * map.onward * text) * map.onward;
    let heads_x = map.onward * clear(contacts[0], 0.4).min(clear(middles[0], 3.6));
    for (line, place) in places.iter().enumerate() {
        let y = top + (line as f64 + 1.5) * row;
        let half = |number: &i32| half_of(place.from, *number);
        let labels: Vec<TextLine> =
            numbers.iter().map(|number| figure(input, half(number), place.advised, unit)).collect();
        figures.row(labels.into_iter(), &middles, y);
        let take_off = half_words(input, place.from.take_off_plus_minus_m);
        figures.behind(&take_off, place.advised, Spot::new(take_off_x, y));
        let name = if places.len() > 1 { place.name } else { "±" };
        let head = unit.map_or_else(|| name.to_owned(), |unit| format!("{name},{unit}"));
        figures.before(&head, place.advised, Spot::new(heads_x, y));
    }
    figures.areas
}

fn half_of(from: &Expectation, number: i32) -> Option<Metres> {
    from.strides.iter().find(|row| row.number == number)?.length_plus_minus_m
}

/// Where the take-off's figures begin, the way the horse goes: between the hoof it is measured from
/// and the fence, or as near to that as those of the last stride allow.
fn take_off_edge(
    figures: &Figures<'_, '_>,
    map: &StandMap,
    contacts: &[Spot],
    middles: &[Spot],
) -> f64 {
    let text = figures.input.text;
    let fence = map.spot(GroundPoint::new(0.0, 0.0)).x;
    let wide = figures.line("take-off", true).width();
    let hoof = contacts.get(middles.len()).map_or(fence, |hoof| hoof.x);
    // Counted the way the horse goes.
    let wanted = f64::midpoint(hoof, fence) * map.onward - wide / 2.0;
    // A figure of a stride is about as wide as the word.
    let free = middles.last().map_or(wanted, |last| last.x * map.onward + wide / 2.0 + 0.9 * text);
    wanted.max(free) * map.onward
}

fn half_words(input: &StandPlanInput, half: Option<Metres>) -> String {
    half.map_or_else(|| "–".to_owned(), |half| written_half(half, input.units))
}

/// The unit that goes from the figures to their row's head where strides are too close for it.
fn tight_unit(input: &StandPlanInput, middles: &[Spot]) -> Option<&'static str> {
    let room = middles.windows(2).map(|pair| pair[0].distance(pair[1])).reduce(f64::min)?;
    let widest = input
        .places()
        .into_iter()
        .flat_map(|DrawnPlace { from, advised, .. }| {
            let halves = from.strides.iter().map(|stride| stride.length_plus_minus_m);
            halves.map(move |half| figure(input, half, advised, None).width())
        })
        .fold(0.0, f64::max);
    let unit = match input.units {
        LengthUnits::Metres => " cm",
        LengthUnits::Feet => " in",
    };
    (widest + 0.6 * input.text > room).then_some(unit)
}

fn figure(
    input: &StandPlanInput,
    half: Option<Metres>,
    better: bool,
    without: Option<&str>,
) -> TextLine {
    let words = half_words(input, half);
    let words = without.and_then(|unit| words.strip_suffix(unit)).unwrap_or(&words).to_owned();
    TextLine::new(words, input.text, weight_of(better), colour_of(better, &input.theme))
}

fn weight_of(better: bool) -> Weight {
    if better { Weight::Bold } else { Weight::Regular }
}

/// Figures being drawn, none over another.
struct Figures<'a, 'b> {
    svg: &'a mut Svg,
    input: &'a StandPlanInput<'b>,
    /// +1 where the horse goes to the right.
    onward: f64,
    areas: Vec<Area>,
}

impl Figures<'_, '_> {
    /// One a stride; where they would run together some are left to the table.
    fn row(&mut self, labels: impl Iterator<Item = TextLine>, middles: &[Spot], y: f64) {
        for (label, middle) in labels.zip(middles) {
            self.draw(&label, Spot::new(middle.x, y));
        }
    }

    /// Words that begin at `edge`, the way the horse goes.
    fn behind(&mut self, words: &str, bold: bool, edge: Spot) {
        let label = self.line(words, bold);
        self.draw(&label, edge.moved((self.onward, 0.0), label.width() / 2.0));
    }

    /// Words that end there.
    fn before(&mut self, words: &str, bold: bool, edge: Spot) {
        let label = self.line(words, bold);
        self.draw(&label, edge.moved((self.onward, 0.0), -label.width() / 2.0));
    }

    fn line(&self, words: &str, better: bool) -> TextLine {
        let colour = colour_of(better, &self.input.theme);
        TextLine::new(words, self.input.text, weight_of(better), colour)
    }

    fn draw(&mut self, label: &TextLine, middle: Spot) {
        let text = self.input.text;
        let area = Area::around(middle, label.width() + 0.5 * text, text * CAP_HEIGHT + 0.6 * text);
        if self.areas.iter().any(|other| other.overlaps(&area)) {
            return;
        }
        self.svg.rect(&area, 0.3 * text, &Paint::glaze(self.input.theme.card, PLATE_OPACITY));
        let base = middle.moved((0.0, 1.0), text * CAP_HEIGHT / 2.0);
        self.svg.text(label, base, Anchor::Middle);
        self.areas.push(area);
    }
}

/// Upper edge of the rows: beyond the fence's end, on the side of the track away from the poles.
fn row_top(map: &StandMap, input: &StandPlanInput, height: f64) -> f64 {
    let text = input.text;
    let lesson = &input.plan.lesson;
    let track = map.spot(GroundPoint::new(0.0, 0.0)).y;
    let ends = PoleEnd::BOTH.map(|end| map.spot(lesson.poles.end(1, end).below()).y);
    let (upper, lower) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
    let reach = (lesson.fence_width_m / 2.0 * map.per_metre).max(1.5 * text) + 0.9 * text;
    let (below, above) = (track + reach, track - reach - height);
    let hits = |top: f64| u8::from(top < lower && top + height > upper);
    let inside = |top: f64| top > map.sand.top && top + height < map.sand.bottom;
    match (inside(below), inside(above)) {
        (true, true) if hits(above) < hits(below) => above,
        (false, true) => above,
        _ => below,
    }
}

/// Which phone is which and how high it is held, and what the measures say, none over another.
pub(super) fn draw_labels(
    svg: &mut Svg,
    map: &StandMap,
    input: &StandPlanInput,
    measures: Measures,
    keep_clear: Vec<Area>,
) -> Vec<Area> {
    let StandPlanInput { theme, text, units, plan, .. } = *input;
    let count = input.places().len();
    let names = input.places().into_iter().map(|place| {
        let phone = &place.from.phone;
        let at = map.spot(phone.place().below());
        let held = written_held(Metres::new(phone.height_m), units);
        let name = TextLine::new(place.name, text, Weight::Bold, colour_of(place.advised, &theme));
        let words = name.then(format!(", {held} high"), text, Weight::Regular, theme.ink);
        // Of the place that is measured the fence's side is taken.
        let is_measured = count == 1 || place.advised;
        let side = (away_from_fence(at, map.spot(GroundPoint::new(0.0, 0.0))), 0.0);
        let side = if is_measured { side } else { (0.0, 1.0) };
        Label::new(words, (at, at), side, 1.1 * text)
    });
    let labels: Vec<Label> = names.chain(measures.labels).collect();
    let poles = &plan.lesson.poles;
    let of_poles = (1..=poles.count).map(|pole| {
        let ends = PoleEnd::BOTH.map(|end| map.spot(poles.end(pole, end).below()));
        thin_shape((ends[0], ends[1]), 0.3 * text)
    });
    let fence = plan.lesson.base().map(|end| map.spot(end));
    let shapes = way(map, input).into_iter().chain([(fence[0], fence[1])]);
    let ellipses = input.places().into_iter().flat_map(|place| &place.from.contacts);
    let ellipses = ellipses.filter_map(|contact| ellipse_edge(map, contact));
    let around = Surroundings {
        inside: map.sand.grown(-0.3 * text),
        keep_clear,
        avoid: shapes
            .map(|line| thin_shape(line, 0.3 * text))
            .chain(of_poles)
            .chain(ellipses)
            .collect(),
        lines: measures.lines,
    };
    let wanted: Vec<Wanted> = labels.iter().map(|label| label.wanted).collect();
    let mut areas = Vec::new();
    for (label, placed) in labels.iter().zip(place(&wanted, &around)) {
        let Some(placed) = placed else { continue };
        if let Some((from, to)) = placed.leader {
            svg.line(from, to, &Paint::stroke(theme.ink, 0.06 * text));
        }
        svg.rect(&placed.area, 0.3 * text, &Paint::glaze(theme.card, PLATE_OPACITY));
        let mut middle = placed.area.middle();
        if let Some(arrow) = label.arrow {
            middle = draw_label_arrow(svg, input, middle, placed.area.width(), arrow);
        }
        let base = middle.moved((0.0, 1.0), text * CAP_HEIGHT / 2.0);
        svg.text(&label.words, base, Anchor::Middle);
        areas.push(placed.area);
    }
    areas
}

/// A line as a shape so far to either side.
fn thin_shape((from, to): (Spot, Spot), half: f64) -> Vec<Spot> {
    let length = from.distance(to).max(f64::MIN_POSITIVE);
    let aside = (-(to.y - from.y) / length, (to.x - from.x) / length);
    vec![
        from.moved(aside, half),
        to.moved(aside, half),
        to.moved(aside, -half),
        from.moved(aside, -half),
    ]
}

/// The sentence below the legend.
pub(super) fn draw_caption(
    svg: &mut Svg,
    input: &StandPlanInput,
    lines: &[TextLine],
    sand_bottom: f64,
) {
    let text = input.text;
    let top = sand_bottom + legend_height(input) + 0.3 * text;
    for (i, line) in lines.iter().enumerate() {
        let base = Spot::new(0.0, top + (i as f64 + 0.8) * 1.75 * text);
        svg.text(line, base, Anchor::Start);
    }
}
