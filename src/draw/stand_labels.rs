//! Words and figures on the picture of where to stand.

use super::area::{Area, Spot};
use super::placement::{Surroundings, Wanted, place};
use super::stand_legend::legend_height;
use super::stand_map::StandMap;
use super::stand_plan::{StandPlanInput, colour_of, way};
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
    let contacts: Vec<Spot> =
        plan.here.contacts.iter().map(|contact| map.spot(contact.place)).collect();
    let middles: Vec<Spot> = contacts
        .windows(2)
        .take(plan.here.strides.len())
        .map(|pair| pair[0].towards(pair[1], 0.5))
        .collect();
    let row = 1.55 * text;
    let places = places(input);
    let top = row_top(map, input, (places.len() as f64 + 1.0) * row);
    let unit = tight_unit(input, &middles);
    let mut figures = Figures { svg, input, areas: Vec::new() };
    let numbers = plan.here.strides.iter().map(|stride| {
        let number = format!("\u{2212}{}", stride.number.unsigned_abs());
        TextLine::new(number, 0.92 * text, Weight::Regular, theme.muted)
    });
    figures.row(numbers, &middles, top + 0.5 * row);
    let take_off_x = take_off_left(&figures, map, &contacts, &middles);
    figures.begin("take-off", false, Spot::new(take_off_x, top + 0.5 * row));
    let heads_x = contacts[0].x.min(middles[0].x - 3.2 * text) - 0.4 * text;
    for (line, (from, better, name)) in places.into_iter().enumerate() {
        let y = top + (line as f64 + 1.5) * row;
        let halves = from.strides.iter().map(|stride| stride.length_plus_minus_m);
        let labels: Vec<TextLine> = halves.map(|half| figure(input, half, better, unit)).collect();
        figures.row(labels.into_iter(), &middles, y);
        let take_off = half_words(input, from.take_off_plus_minus_m);
        figures.begin(&take_off, better, Spot::new(take_off_x, y));
        let head = unit.map_or_else(|| name.to_owned(), |unit| format!("{name},{unit}"));
        figures.end(&head, better, Spot::new(heads_x, y));
    }
    figures.areas
}

/// Left edge of the take-off's figures: between the hoof it is measured from and the fence, or as near
/// to that as those of the last stride allow.
fn take_off_left(
    figures: &Figures<'_, '_>,
    map: &StandMap,
    contacts: &[Spot],
    middles: &[Spot],
) -> f64 {
    let text = figures.input.text;
    let fence = map.spot(GroundPoint::new(0.0, 0.0)).x;
    let wide = figures.line("take-off", true).width();
    let hoof = contacts.get(middles.len()).map_or(fence, |hoof| hoof.x);
    let wanted = f64::midpoint(hoof, fence) - wide / 2.0;
    // A figure of a stride is about as wide as the word.
    let free = middles.last().map_or(wanted, |last| last.x + wide / 2.0 + 0.9 * text);
    wanted.max(free)
}

/// Where she stands and the better place, as far as there is one.
fn places<'a>(input: &StandPlanInput<'a>) -> Vec<(&'a Expectation, bool, &'static str)> {
    let better = input.there().is_some();
    let now = (&input.plan.here, false, if better { "now" } else { "±" });
    let there = input.plan.best.as_ref().filter(|_| better).map(|there| (there, true, "better"));
    [Some(now), there].into_iter().flatten().collect()
}

fn half_words(input: &StandPlanInput, half: Option<Metres>) -> String {
    half.map_or_else(|| "–".to_owned(), |half| written_half(half, input.units))
}

/// The unit that goes from the figures to their row's head where strides are too close for it.
fn tight_unit(input: &StandPlanInput, middles: &[Spot]) -> Option<&'static str> {
    let room = middles.windows(2).map(|pair| pair[0].distance(pair[1])).reduce(f64::min)?;
    let widest = places(input)
        .into_iter()
        .flat_map(|(from, better, _)| {
            let halves = from.strides.iter().map(|stride| stride.length_plus_minus_m);
            halves.map(move |half| figure(input, half, better, None).width())
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
    areas: Vec<Area>,
}

impl Figures<'_, '_> {
    /// One a stride; where they would run together some are left to the table.
    fn row(&mut self, labels: impl Iterator<Item = TextLine>, middles: &[Spot], y: f64) {
        for (label, middle) in labels.zip(middles) {
            self.draw(&label, Spot::new(middle.x, y));
        }
    }

    fn begin(&mut self, words: &str, better: bool, left: Spot) {
        let label = self.line(words, better);
        self.draw(&label, left.moved((1.0, 0.0), label.width() / 2.0));
    }

    fn end(&mut self, words: &str, better: bool, right: Spot) {
        let label = self.line(words, better);
        self.draw(&label, right.moved((1.0, 0.0), -label.width() / 2.0));
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

/// Which phone is which, and how high it is held.
pub(super) fn draw_phone_labels(
    svg: &mut Svg,
    map: &StandMap,
    input: &StandPlanInput,
    keep_clear: Vec<Area>,
) -> Vec<Area> {
    let StandPlanInput { theme, text, units, .. } = *input;
    let held = |from: &Expectation| written_held(Metres::new(from.phone.height_m), units);
    let mut wanted = Vec::new();
    let mut lines = Vec::new();
    let alone = input.there().is_none();
    for (from, better, name) in places(input) {
        let name = if alone { "phone" } else { name };
        let at = map.spot(from.phone.place().below());
        let label = TextLine::new(name, text, Weight::Bold, colour_of(better, &theme)).then(
            format!(", {} high", held(from)),
            text,
            Weight::Regular,
            theme.ink,
        );
        wanted.push(Wanted {
            line: (at, at),
            width: label.width() + 0.8 * text,
            height: text * CAP_HEIGHT + 0.7 * text,
            // Away from the track.
            side: (0.0, -from.phone.side.sign()),
            gap: 1.0 * text,
        });
        lines.push(label);
    }
    let around = Surroundings {
        inside: map.sand.grown(-0.3 * text),
        keep_clear,
        avoid: way(map, input).map(|way| thin_shape(way, 0.2 * text)).into_iter().collect(),
        lines: Vec::new(),
    };
    let mut areas = Vec::new();
    for (label, placed) in lines.iter().zip(place(&wanted, &around)) {
        let Some(placed) = placed else { continue };
        svg.rect(&placed.area, 0.3 * text, &Paint::glaze(theme.card, PLATE_OPACITY));
        let base = placed.area.middle().moved((0.0, 1.0), text * CAP_HEIGHT / 2.0);
        svg.text(label, base, Anchor::Middle);
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
