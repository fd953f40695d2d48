//! Measures on the picture of where to stand: how far the place is from track and fence, how the
//! poles lie, what the phone sees, which way the horse goes. Lines are drawn here; their words are
//! placed with the phones' names, so that none covers another.

use super::area::Spot;
use super::placement::Wanted;
use super::stand_map::StandMap;
use super::stand_plan::{DrawnPlace, StandPlanInput, draw_arrow};
use super::svg::{Paint, Svg};
use super::text_line::{CAP_HEIGHT, TextLine, Weight};
use crate::marks::PoleEnd;
use crate::quantity::{Metres, Unit, written_laid, written_place};
use crate::scene::GroundPoint;
use crate::stand::along_words;

/// Words that want a place.
pub(super) struct Label {
    pub words: TextLine,
    pub wanted: Wanted,
    /// An arrow drawn beside the words: the way it points.
    pub arrow: Option<(f64, f64)>,
}

impl Label {
    /// Beside a line, or beside a point when both its ends are that.
    pub fn new(words: TextLine, line: (Spot, Spot), side: (f64, f64), gap: f64) -> Self {
        let text = words.size();
        let wanted = Wanted {
            line,
            width: words.width() + 0.8 * text,
            height: text * CAP_HEIGHT + 0.7 * text,
            side,
            gap,
        };
        Self { words, wanted, arrow: None }
    }

    fn with_arrow(self, way: (f64, f64)) -> Self {
        let width = self.wanted.width + ARROW * self.words.size();
        Self { arrow: Some(way), wanted: Wanted { width, ..self.wanted }, ..self }
    }
}

/// Which way of the drawing leads away from the fence.
pub(super) fn away_from_fence(at: Spot, fence: Spot) -> f64 {
    if at.x > fence.x { 1.0 } else { -1.0 }
}

/// Room of an arrow beside words, in sizes of the type.
pub(super) const ARROW: f64 = 2.6;

/// What was drawn.
pub(super) struct Measures {
    /// Words that want a place.
    pub labels: Vec<Label>,
    /// Lines that they had better not cover.
    pub lines: Vec<(Spot, Spot)>,
}

/// Measures being drawn.
struct Measured<'a, 'b> {
    svg: &'a mut Svg,
    map: &'a StandMap,
    input: &'a StandPlanInput<'b>,
    labels: Vec<Label>,
    lines: Vec<(Spot, Spot)>,
}

/// Draws the lines and returns the words that belong to them.
pub(super) fn draw_measures(svg: &mut Svg, map: &StandMap, input: &StandPlanInput) -> Measures {
    let mut drawn = Measured { svg, map, input, labels: Vec::new(), lines: Vec::new() };
    if let Some(place) = input.places().last() {
        drawn.place(place);
        drawn.field(place);
    }
    drawn.poles();
    drawn.way_of_the_horse();
    Measures { labels: drawn.labels, lines: drawn.lines }
}

impl Measured<'_, '_> {
    fn paint(&self) -> Paint {
        Paint::stroke(self.input.theme.ink, 0.07 * self.input.text)
    }

    fn words(&self, words: String) -> TextLine {
        TextLine::new(words, self.input.text, Weight::Regular, self.input.theme.ink)
    }

    /// A line between two spots with a stroke across either end.
    fn between(&mut self, (from, to): (Spot, Spot)) {
        let (text, paint) = (self.input.text, self.paint());
        self.svg.line(from, to, &paint);
        let length = from.distance(to).max(f64::MIN_POSITIVE);
        let across = (-(to.y - from.y) / length, (to.x - from.x) / length);
        for end in [from, to] {
            self.svg.line(end.moved(across, -0.35 * text), end.moved(across, 0.35 * text), &paint);
        }
    }

    /// A pale line from a thing to where it is measured.
    fn leads(&mut self, from: Spot, to: Spot) {
        let StandPlanInput { theme, text, .. } = *self.input;
        self.svg.line(
            from,
            to,
            &Paint::stroke(theme.line, 0.06 * text).dashed(0.15 * text, 0.25 * text),
        );
    }

    /// From the track to the phone, and along it from the fence.
    fn place(&mut self, place: &DrawnPlace) {
        let StandPlanInput { plan, text, units, .. } = *self.input;
        let phone = &place.from.phone;
        let at = self.map.spot(phone.place().below());
        let fence = self.map.spot(GroundPoint::new(0.0, 0.0));
        // The phone is drawn over its end.
        let away = (Spot::new(at.x, fence.y), at);
        self.between(away);
        let metres = written_place(Metres::new(phone.distance_m), units);
        // Below the rows of figures, away from the fence.
        let upper = away.0.towards(away.1, 0.6);
        let words = self.words(format!("{metres} from the track"));
        let side = (away_from_fence(at, fence), 0.0);
        self.labels.push(Label::new(words, (upper, away.1), side, 0.4 * text));
        // Along the track it is measured below the phone.
        let y = at.y + 1.5 * text;
        let along = (Spot::new(at.x, y), Spot::new(fence.x, y));
        if (at.x - fence.x).abs() > 0.8 * text {
            let post = plan.lesson.fence_width_m / 2.0 * self.map.per_metre + 0.4 * text;
            self.leads(fence.moved((0.0, 1.0), post), along.1);
            self.leads(at.moved((0.0, 1.0), 0.5 * text), along.0);
            self.between(along);
            self.lines.push(along);
        }
        let words = self.words(along_words(phone.before_fence_m, units));
        self.labels.push(Label::new(words, along, (0.0, 1.0), 0.35 * text));
    }

    /// How wide it sees.
    fn field(&mut self, place: &DrawnPlace) {
        let text = self.input.text;
        let phone = &place.from.phone;
        let at = self.map.spot(phone.place().below());
        let radius = 3.4 * text;
        let view = place.from.view;
        let arc: Vec<Spot> = (0..=24)
            .map(|step| {
                let share = f64::from(step) / 24.0;
                let (sin, cos) = (view.from_rad + (view.to_rad - view.from_rad) * share).sin_cos();
                at.moved((cos, -sin), self.map.onward * radius)
            })
            .collect();
        let degrees = format!("{:.0}° wide", phone.field_deg);
        let words =
            if phone.turns() { format!("{degrees}, turned with the horse") } else { degrees };
        if !phone.turns() {
            self.svg.polyline(&arc, &self.paint());
        }
        let words = self.words(words);
        self.labels.push(Label::new(words, (arc[8], arc[16]), (0.0, -1.0), 0.3 * text));
    }

    /// How far the last two poles are apart, and the last one from the fence; beyond their ends, away
    /// from the track.
    fn poles(&mut self) {
        let StandPlanInput { plan, text, units, .. } = *self.input;
        let poles = plan.lesson.poles;
        let fence = self.map.spot(GroundPoint::new(0.0, 0.0));
        let ends = PoleEnd::BOTH.map(|end| self.map.spot(poles.end(poles.count, end).below()));
        let (upper, lower) = (ends[0].y.min(ends[1].y), ends[0].y.max(ends[1].y));
        // Of poles across the track the far ends: below stand the figures.
        let is_above = fence.y - upper > lower - fence.y - text;
        let out = if is_above { -1.0 } else { 1.0 };
        let end_y = if is_above { upper } else { lower };
        let y = end_y + 1.0 * out * text;
        let last = Spot::new(ends[0].x, y);
        let up = (0.0, out);
        let laid = |metres: f64| written_laid(Metres::new(metres), units);
        if poles.count > 1 {
            let before = self.map.spot(poles.end(poles.count - 1, PoleEnd::Left).below());
            let line = (Spot::new(before.x, y), last);
            self.between(line);
            let words = self.words(format!("{} apart", laid(poles.spacing_m.value)));
            self.labels.push(Label::new(words, line, up, 0.35 * text));
        }
        if poles.before_fence_m.abs() > 0.05 {
            let line = (last, Spot::new(fence.x, y));
            let post = plan.lesson.fence_width_m / 2.0 * self.map.per_metre + 0.4 * text;
            self.leads(fence.moved((0.0, out), post), line.1.moved((0.0, out), 0.4 * text));
            self.between(line);
            let words = self.words(format!("{} to the fence", laid(poles.before_fence_m.abs())));
            self.labels.push(Label::new(words, line, up, 0.35 * text));
        }
    }

    /// An arrow where the horse comes from.
    fn way_of_the_horse(&mut self) {
        let StandPlanInput { theme, text, .. } = *self.input;
        let onward = self.map.onward;
        let words = TextLine::new("horse", text, Weight::Bold, theme.ink);
        let half = (words.width() + ARROW * text) / 2.0 + 1.2 * text;
        let edge = if onward > 0.0 { self.map.sand.left } else { self.map.sand.right };
        let track = self.map.spot(GroundPoint::new(0.0, 0.0)).y;
        let at = Spot::new(edge + onward * half, track);
        let label = Label::new(words, (at, at), (0.0, 1.0), 0.9 * text);
        self.labels.push(label.with_arrow(self.map.ahead()));
    }
}

/// The arrow of a label at the end of its plate that it points to; returns the middle of the words.
pub(super) fn draw_label_arrow(
    svg: &mut Svg,
    input: &StandPlanInput,
    middle: Spot,
    width: f64,
    way: (f64, f64),
) -> Spot {
    let text = input.text;
    let tip = middle.moved(way, width / 2.0 - 0.5 * text);
    let paint = Paint::stroke(input.theme.ink, 0.16 * text);
    draw_arrow(svg, (tip.moved(way, -2.1 * text), tip), 0.6 * text, &paint);
    middle.moved(way, -ARROW * text / 2.0)
}
