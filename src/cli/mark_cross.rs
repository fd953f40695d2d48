//! Marks as they were placed, over a picture: small crosses with their names, ends of one thing
//! joined by a thin line. Needs no survey, so that a slip is seen before anything is measured.

use std::fmt::Write;

use super::mark::path_of;
use super::spots::Crop;
use crate::marks::{BaseCorner, MarkAddress, MarksFile, PoleEnd};
use crate::quantity::FrameNumber;

const FONT: f64 = 14.0;
/// The open middle of a cross, and its reach, output pixels.
const GAP: f64 = 3.0;
const REACH: f64 = 10.0;
/// Height of a name's plate.
const PLATE: f64 = 20.0;

/// What is marked on one frame.
#[derive(Default)]
pub(super) struct ShownMarks {
    marks: Vec<ShownMark>,
    /// From end to end of one thing.
    lines: Vec<[(f64, f64); 2]>,
}

struct ShownMark {
    name: String,
    at: (f64, f64),
}

impl ShownMarks {
    /// The marks on a frame but those of hidden hooves, which have no place.
    pub(super) fn of(file: &MarksFile, frame: FrameNumber) -> Self {
        let places = file.places();
        let seen = places.iter().filter(|(place, _)| !is_hidden(place, file));
        let here: Vec<(&MarkAddress, (f64, f64))> = seen
            .flat_map(|(place, marks)| {
                let of_frame = marks.iter().filter(|mark| mark.frame == frame);
                of_frame.map(move |mark| (place, (mark.x, mark.y)))
            })
            .collect();
        let place_of = |wanted: MarkAddress| {
            here.iter().find(|(place, _)| **place == wanted).map(|(_, at)| *at)
        };
        let joined = here.iter().filter_map(|(place, from)| {
            let to = place_of(other_end(place)?)?;
            Some([*from, to])
        });
        let lines = joined.collect();
        let marks = here.iter().map(|(place, at)| ShownMark { name: path_of(place), at: *at });
        Self { marks: marks.collect(), lines }
    }

    /// Names of what is marked.
    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        self.marks.iter().map(|mark| mark.name.as_str())
    }
}

fn is_hidden(place: &MarkAddress, file: &MarksFile) -> bool {
    let MarkAddress::Footfall { approach, footfall } = place else { return false };
    let mut footfalls = file.approach(approach).into_iter().flat_map(|a| &a.footfalls);
    footfalls.any(|known| known.id == *footfall && known.hidden)
}

/// The end that a line is drawn to; each pair is met once, from its left or first end.
fn other_end(place: &MarkAddress) -> Option<MarkAddress> {
    let reference = |id: &String| id.clone();
    Some(match place {
        MarkAddress::PoleEnd { reference: id, pole, end: PoleEnd::Left } => {
            MarkAddress::PoleEnd { reference: reference(id), pole: *pole, end: PoleEnd::Right }
        }
        MarkAddress::Rail { reference: id, rail, end: PoleEnd::Left } => {
            MarkAddress::Rail { reference: reference(id), rail: *rail, end: PoleEnd::Right }
        }
        MarkAddress::DistanceFrom { reference: id } => {
            MarkAddress::DistanceTo { reference: reference(id) }
        }
        MarkAddress::VerticalFoot { reference: id } => {
            MarkAddress::VerticalTop { reference: reference(id) }
        }
        MarkAddress::FenceBase { fence, corner } => {
            let corner = match corner {
                BaseCorner::TakeOffLeft => BaseCorner::TakeOffRight,
                BaseCorner::LandingLeft => BaseCorner::LandingRight,
                BaseCorner::TakeOffRight | BaseCorner::LandingRight => return None,
            };
            MarkAddress::FenceBase { fence: fence.clone(), corner }
        }
        _ => return None,
    })
}

/// Draws them over the part `crop` of the picture, whose upper left corner is drawn at `corner`,
/// each pixel `scale` wide.
pub(super) fn draw_marks(
    svg: &mut String,
    shown: &ShownMarks,
    crop: Crop,
    corner: (f64, f64),
    scale: f64,
) {
    let (wide, high) = (f64::from(crop.width) * scale, f64::from(crop.height) * scale);
    let at = |(x, y): (f64, f64)| {
        (corner.0 + (x - f64::from(crop.x)) * scale, corner.1 + (y - f64::from(crop.y)) * scale)
    };
    // An inner drawing of its own, so that lines to marks outside the part end at its edge.
    let _ = write!(
        svg,
        "<svg x='{0}' y='{1}' width='{wide}' height='{high}' viewBox='{0} {1} {wide} {high}'>",
        corner.0, corner.1
    );
    for [from, to] in &shown.lines {
        let (from, to) = (at(*from), at(*to));
        stroke(svg, from, to, ("#000", 2.4, 0.55));
        stroke(svg, from, to, ("#fff", 1.0, 0.95));
    }
    svg.push_str("</svg>");
    let edges = (corner, (corner.0 + wide, corner.1 + high));
    let inside = |(x, y): (f64, f64)| {
        (edges.0.0..=edges.1.0).contains(&x) && (edges.0.1..=edges.1.1).contains(&y)
    };
    let marks = shown.marks.iter().map(|mark| (mark, at(mark.at)));
    let marks: Vec<(&ShownMark, (f64, f64))> = marks.filter(|(_, at)| inside(*at)).collect();
    for (_, at) in &marks {
        cross(svg, *at);
    }
    let mut taken: Vec<Plate> = marks.iter().map(|(_, at)| Plate::around(*at)).collect();
    for (mark, at) in marks {
        let plate = Plate::beside(at, &mark.name, edges, &taken);
        plate.draw(svg, &mark.name);
        taken.push(plate);
    }
}

fn stroke(
    svg: &mut String,
    from: (f64, f64),
    to: (f64, f64),
    (colour, width, opacity): (&str, f64, f64),
) {
    let _ = write!(
        svg,
        "<line x1='{}' y1='{}' x2='{}' y2='{}' stroke='{colour}' stroke-width='{width}' \
         stroke-opacity='{opacity}'/>",
        from.0, from.1, to.0, to.1
    );
}

/// Four arms, dark at the rim and light inside, that leave the marked pixel free.
fn cross(svg: &mut String, (x, y): (f64, f64)) {
    for style in [("#000", 3.6, 0.9), ("#fff", 1.6, 1.0)] {
        for (dx, dy) in [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)] {
            let arm = |reach: f64| (x + dx * reach, y + dy * reach);
            stroke(svg, arm(GAP), arm(REACH), style);
        }
    }
}

/// Where a name stands.
#[derive(Clone, Copy)]
struct Plate {
    left: f64,
    top: f64,
    wide: f64,
    high: f64,
}

impl Plate {
    /// What a cross covers.
    fn around((x, y): (f64, f64)) -> Self {
        Self { left: x - REACH, top: y - REACH, wide: 2.0 * REACH, high: 2.0 * REACH }
    }

    /// Below the mark or above, to a side or not: where it covers least and stays on the picture.
    fn beside(
        (x, y): (f64, f64),
        name: &str,
        ((left, top), (right, bottom)): ((f64, f64), (f64, f64)),
        taken: &[Self],
    ) -> Self {
        // As wide as the widest letters would be.
        let wide = name.chars().count() as f64 * FONT * 0.56 + 8.0;
        // Below comes first: what stands on the ground is seen above it.
        let lefts = [x - wide / 2.0, x + 12.0, x - 12.0 - wide];
        let tops = [y + 14.0, y - 14.0 - PLATE, y + 36.0, y - 36.0 - PLATE];
        let all = tops.into_iter().flat_map(|top| lefts.map(|left| (left, top)));
        let plates = all.map(|(left, top)| Self { left, top, wide, high: PLATE });
        let cost = |plate: &Self| {
            let covered: f64 = taken.iter().map(|other| plate.overlap(other)).sum();
            let beyond = (left - plate.left).max(0.0)
                + (plate.left + wide - right).max(0.0)
                + (top - plate.top).max(0.0)
                + (plate.top + PLATE - bottom).max(0.0);
            covered + 20.0 * beyond
        };
        let usual = Self { left: lefts[0], top: tops[0], wide, high: PLATE };
        plates.min_by(|a, b| cost(a).total_cmp(&cost(b))).unwrap_or(usual)
    }

    fn overlap(&self, other: &Self) -> f64 {
        let shared = |a: f64, b: f64, c: f64, d: f64| ((a + b).min(c + d) - a.max(c)).max(0.0);
        shared(self.left, self.wide, other.left, other.wide)
            * shared(self.top, self.high, other.top, other.high)
    }

    fn draw(&self, svg: &mut String, name: &str) {
        let _ = write!(
            svg,
            "<rect x='{}' y='{}' width='{}' height='{}' rx='3' fill='#fff' fill-opacity='0.85'/>\
             <text x='{}' y='{}' text-anchor='middle' font-size='{FONT}' fill='#111'>{}</text>",
            self.left,
            self.top,
            self.wide,
            self.high,
            self.left + self.wide / 2.0,
            self.top + 15.0,
            escaped(name)
        );
    }
}

pub(super) fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::marks::sample::sample;

    #[test]
    fn poles_are_joined_and_hidden_hooves_left_out() {
        let mut file = sample();
        let poles = ShownMarks::of(&file, FrameNumber(40));
        assert_eq!(poles.lines[0], [(300.5, 601.0), (280.0, 702.0)]);
        assert_eq!((poles.marks.len(), poles.lines.len()), (4, 2));
        let names = |file: &MarksFile| {
            let shown = ShownMarks::of(file, FrameNumber(118));
            shown.names().map(str::to_owned).collect::<Vec<_>>()
        };
        assert_eq!(names(&file), ["letter-b", "a1/f2"]);
        file.approaches[0].footfalls[1].hidden = true;
        assert_eq!(names(&file), ["letter-b"]);
    }

    #[test]
    fn names_keep_clear_of_each_other_and_of_the_edge() {
        let edges = ((0.0, 0.0), (400.0, 300.0));
        let first = Plate::beside((390.0, 5.0), "rails/1/left", edges, &[]);
        assert!(first.left >= 0.0 && first.left + first.wide <= 400.0 && first.top >= 0.0);
        let second = Plate::beside((388.0, 8.0), "rails/1/right", edges, &[first]);
        assert_eq!(first.overlap(&second), 0.0);
    }
}
