//! The caption of a still: which stride, when, at what pace, who.

use super::area::{Area, Spot};
use super::seen::View;
use super::still::{Names, StillInput};
use super::svg::{Anchor, Paint, Svg};
use super::text_line::{CAP_HEIGHT, DESCENT, TextLine, Weight, shortened};
use super::theme::{PLATE_OPACITY, PictureSizes, Theme};
use crate::marks::Event;
use crate::quantity::{LengthUnits, Seconds, Unit, written, written_pace, written_time};
use crate::stride::{ApproachMeasurement, PlacedFootfall, StrideRow};

/// The plate bottom left.
#[derive(Clone, Debug)]
pub(super) struct Caption {
    pub area: Area,
    lines: Vec<TextLine>,
}

impl Caption {
    /// `None` when the picture is too small to carry one.
    pub fn of(
        input: &StillInput,
        view: &View,
        now: Option<&PlacedFootfall>,
        until: f64,
    ) -> Option<Self> {
        let sizes = &view.sizes;
        let inside = view.inside();
        let room = inside.width() - 2.0 * sizes.padding;
        let theme = &input.theme;
        let mut lines = Vec::new();
        let mut add = |text: String, weight, colour| {
            let text = shortened(&text, sizes.small, weight, room);
            if !text.is_empty() {
                lines.push(TextLine::new(text, sizes.small, weight, colour));
            }
        };
        if let Some(names) = names(input) {
            add(names, Weight::Regular, theme.muted);
        }
        add(happening(input, now, until), Weight::Bold, theme.ink);
        let widest = lines.iter().map(TextLine::width).fold(0.0, f64::max);
        let height = lines.len() as f64 * line_height(sizes) + 1.2 * sizes.padding;
        let width = widest + 2.0 * sizes.padding;
        let area = Area::at(inside.left, inside.bottom - height, width, height);
        (!lines.is_empty() && view.frame().contains(&area)).then_some(Self { area, lines })
    }

    /// The plate and its text.
    pub fn draw(&self, svg: &mut Svg, sizes: &PictureSizes, theme: &Theme) {
        svg.rect(&self.area, sizes.corner, &Paint::glaze(theme.card, PLATE_OPACITY));
        let mut base = self.area.top + 0.6 * sizes.padding;
        for line in &self.lines {
            base += line_height(sizes);
            let at = Spot::new(
                self.area.left + sizes.padding,
                base - 0.5 * (line_height(sizes) - sizes.small * CAP_HEIGHT),
            );
            svg.text(line, at, Anchor::Start);
        }
    }
}

fn line_height(sizes: &PictureSizes) -> f64 {
    sizes.small * (CAP_HEIGHT + 2.0 * DESCENT + 0.1)
}

fn names(input: &StillInput) -> Option<String> {
    if input.names == Names::LeftOff {
        return None;
    }
    let named: Vec<&str> = [&input.round.horse, &input.round.rider]
        .into_iter()
        .map(|name| name.trim())
        .filter(|name| !name.is_empty())
        .collect();
    (!named.is_empty()).then(|| named.join(" · "))
}

/// "Stride −3 of 7 · 3.53 s · 345 ± 9 m/min": number and pace are those of the stride that ended
/// last, as are the lengths drawn.
fn happening(input: &StillInput, now: Option<&PlacedFootfall>, until: f64) -> String {
    let approach = input.approach;
    let earlier = |footfall: &&PlacedFootfall| footfall.time_s <= until + 1e-9;
    let newest = now.or_else(|| approach.footfalls.iter().rfind(earlier));
    let ended = approach.last_ended(until);
    let pace = ended.map(|row| pace(row, input.units));
    let time = until.is_finite().then(|| written_time(Seconds::new(until)));
    let (what, pace) = match newest.map(|footfall| footfall.event) {
        Some(Event::TakeOff) => (Some("Take-off".to_owned()), named(ended, pace)),
        Some(Event::Landing) => (Some("Landing".to_owned()), named(ended, pace)),
        Some(Event::Away) => (Some("After the fence".to_owned()), named(ended, pace)),
        Some(Event::Stride) | None => (stride_said(approach, ended, until), pace),
    };
    [what, time, pace].into_iter().flatten().collect::<Vec<_>>().join(" · ")
}

/// The pace with the stride it was taken over, where the caption names no stride otherwise.
fn named(ended: Option<&StrideRow>, pace: Option<String>) -> Option<String> {
    Some(format!("stride {} at {}", number(ended?), pace?))
}

/// The stride that ended last; before any has, where the first one starts.
fn stride_said(
    approach: &ApproachMeasurement,
    ended: Option<&StrideRow>,
    until: f64,
) -> Option<String> {
    let count = approach.strides.len();
    if let Some(ended) = ended {
        return Some(format!("Stride {} of {count}", number(ended)));
    }
    let first = approach.strides.first()?;
    let start = approach.footfall_time_s(&first.from_footfall);
    Some(if start.is_some_and(|start| start <= until + 1e-9) {
        format!("Stride {} of {count} begins", number(first))
    } else {
        format!("Before stride {} of {count}", number(first))
    })
}

fn number(row: &StrideRow) -> String {
    format!("\u{2212}{}", row.number.unsigned_abs())
}

/// The speed, or where no length was measured the tempo.
fn pace(row: &StrideRow, units: LengthUnits) -> String {
    let speed = row.speed_m_per_s.as_ref().map(written_pace);
    speed.unwrap_or_else(|| written(&row.tempo_strides_per_min, units)).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, SEVEN};
    use crate::draw::still::Moment;
    use crate::draw::still_tests::input;
    use crate::scene::PictureSize;

    fn said(approach: &ApproachMeasurement, footfall: &str) -> String {
        let picture = PictureSize { width: 1920, height: 1080 };
        let camera = sample::camera(picture, 0.0, 24.0);
        let round = sample::round();
        let input = StillInput {
            moment: Moment::Footfall(footfall),
            ..input(&camera, picture, approach, &round)
        };
        let now = approach.footfalls.iter().find(|f| f.footfall == footfall).unwrap();
        happening(&input, Some(now), now.time_s)
    }

    fn pace_of(approach: &ApproachMeasurement, number: i32) -> String {
        let row = approach.strides.iter().find(|row| row.number == number).unwrap();
        written_pace(row.speed_m_per_s.as_ref().unwrap()).to_string()
    }

    #[test]
    fn number_and_pace_are_of_the_stride_that_just_ended() {
        let approach = sample::approach(SEVEN);
        let (six, five) = (pace_of(&approach, -6), pace_of(&approach, -5));
        assert_ne!(six, five, "the sample's strides differ, or this test proves nothing");
        // Footfall h2 ends stride −6; the fore that follows is still before the end of −5.
        assert_eq!(said(&approach, "h2"), format!("Stride −6 of 7 · 2.42 s · {six}"));
        assert_eq!(said(&approach, "e2"), format!("Stride −6 of 7 · 2.55 s · {six}"));
        assert_eq!(said(&approach, "h3"), format!("Stride −5 of 7 · 3.03 s · {five}"));
    }

    #[test]
    fn the_first_footfall_says_where_the_first_stride_starts_and_has_no_pace() {
        let approach = sample::approach(SEVEN);
        assert_eq!(said(&approach, "g0"), "Before stride −7 of 7 · 1.11 s");
        assert_eq!(said(&approach, "h0"), "Stride −7 of 7 begins · 1.20 s");
    }

    #[test]
    fn at_the_fence_the_pace_says_which_stride_it_is_of() {
        let approach = sample::approach(SEVEN);
        let (two, last) = (pace_of(&approach, -2), pace_of(&approach, -1));
        // The trailing hind leaves first: stride −1 ends with the leading one.
        assert_eq!(said(&approach, "g7"), format!("Take-off · 5.45 s · stride −2 at {two}"));
        assert_eq!(said(&approach, "h7"), format!("Take-off · 5.47 s · stride −1 at {last}"));
        assert_eq!(said(&approach, "l1"), format!("Landing · 6.02 s · stride −1 at {last}"));
    }

    #[test]
    fn a_stride_without_length_gives_its_tempo() {
        let mut approach = sample::approach(SEVEN);
        approach.strides[1].speed_m_per_s = None;
        assert!(said(&approach, "h2").ends_with(" strides/min"), "{}", said(&approach, "h2"));
    }
}
