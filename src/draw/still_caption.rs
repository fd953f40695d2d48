//! The caption of a still: which stride, when, at what pace, who.

use super::area::{Area, Spot};
use super::seen::{View, is_left_out};
use super::still::{Names, StillInput};
use super::svg::{Anchor, Paint, Svg};
use super::text_line::{CAP_HEIGHT, DESCENT, TextLine, Weight, shortened};
use super::theme::{PLATE_OPACITY, PictureSizes, Theme};
use crate::marks::Event;
use crate::quantity::{LengthUnits, Seconds, Unit, written, written_speed, written_time};
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

/// "Stride −3, third before the fence · speed 345 ± 9 m/min · at 3.53 s": number and speed are
/// those of the stride that ended last, as are the lengths drawn.
fn happening(input: &StillInput, now: Option<&PlacedFootfall>, until: f64) -> String {
    let approach = input.approach;
    let earlier = |footfall: &&PlacedFootfall| footfall.time_s <= until + 1e-9;
    let newest = now.or_else(|| approach.footfalls.iter().rfind(earlier));
    let ended = approach.last_ended(until);
    let at_fence = match newest.map(|footfall| footfall.event) {
        Some(Event::TakeOff) => Some("Take-off"),
        Some(Event::Landing) => Some("Landing"),
        Some(Event::Away) => Some("After the fence"),
        Some(Event::Stride) | None => None,
    };
    let what = at_fence.map(str::to_owned).or_else(|| stride_said(approach, ended, until));
    let left_out = now.is_some_and(|now| is_left_out(approach, &now.footfall, input.suspects));
    let left_out = left_out.then(|| "the mark of this hoof was left out".to_owned());
    // At the fence the caption names no stride otherwise.
    let of =
        ended.filter(|_| at_fence.is_some()).map_or_else(String::new, |row| match row.number {
            -1 => " in the last stride".to_owned(),
            _ => format!(" in stride {}", number(row)),
        });
    let pace = ended.map(|row| pace(row, &of, input.units));
    let time = until.is_finite().then(|| format!("at {}", written_time(Seconds::new(until))));
    [what, left_out, pace, time].into_iter().flatten().collect::<Vec<_>>().join(" · ")
}

/// The stride that ended last; before any has, where the first one starts.
fn stride_said(
    approach: &ApproachMeasurement,
    ended: Option<&StrideRow>,
    until: f64,
) -> Option<String> {
    if let Some(ended) = ended {
        let from_fence = ordinal(ended.number.unsigned_abs());
        return Some(format!("Stride {}, {from_fence} before the fence", number(ended)));
    }
    let first = approach.strides.first()?;
    let start = approach.footfall_time_s(&first.from_footfall);
    Some(if start.is_some_and(|start| start <= until + 1e-9) {
        format!("Here stride {} starts, the first one measured", number(first))
    } else {
        "Before the first stride measured".to_owned()
    })
}

fn number(row: &StrideRow) -> String {
    format!("\u{2212}{}", row.number.unsigned_abs())
}

/// "the last", "second", …, "13th".
fn ordinal(number: u32) -> String {
    const WORDS: [&str; 12] = [
        "the last", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth",
        "tenth", "eleventh", "twelfth",
    ];
    let known = usize::try_from(number).ok().and_then(|n| WORDS.get(n.checked_sub(1)?));
    known.map_or_else(|| format!("{number}th"), |word| (*word).to_owned())
}

/// The speed, or where no length was measured the tempo; `of` says in which stride.
fn pace(row: &StrideRow, of: &str, units: LengthUnits) -> String {
    match &row.speed_m_per_s {
        Some(speed) => format!("speed{of} {}", written_speed(speed, units)),
        None => format!("tempo{of} {}", written(&row.tempo_strides_per_min, units)),
    }
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
        written_speed(row.speed_m_per_s.as_ref().unwrap(), LengthUnits::Metres).to_string()
    }

    #[test]
    fn number_and_pace_are_of_the_stride_that_just_ended() {
        let approach = sample::approach(SEVEN);
        let (six, five) = (pace_of(&approach, -6), pace_of(&approach, -5));
        assert_ne!(six, five, "the sample's strides differ, or this test proves nothing");
        // Footfall h2 ends stride −6; the fore that follows is still before the end of −5.
        let sixth = format!("Stride −6, sixth before the fence · speed {six}");
        assert_eq!(said(&approach, "h2"), format!("{sixth} · at 2.42 s"));
        assert_eq!(said(&approach, "e2"), format!("{sixth} · at 2.55 s"));
        assert_eq!(
            said(&approach, "h3"),
            format!("Stride −5, fifth before the fence · speed {five} · at 3.03 s")
        );
    }

    #[test]
    fn the_first_footfall_says_where_the_first_stride_starts_and_has_no_pace() {
        let approach = sample::approach(SEVEN);
        assert_eq!(said(&approach, "g0"), "Before the first stride measured · at 1.11 s");
        assert_eq!(
            said(&approach, "h0"),
            "Here stride −7 starts, the first one measured · at 1.20 s"
        );
    }

    #[test]
    fn at_the_fence_the_pace_says_which_stride_it_is_of() {
        let approach = sample::approach(SEVEN);
        let (two, last) = (pace_of(&approach, -2), pace_of(&approach, -1));
        // The trailing hind leaves first: stride −1 ends with the leading one.
        assert_eq!(
            said(&approach, "g7"),
            format!("Take-off · speed in stride −2 {two} · at 5.45 s")
        );
        let last = format!("speed in the last stride {last}");
        assert_eq!(said(&approach, "h7"), format!("Take-off · {last} · at 5.47 s"));
        assert_eq!(said(&approach, "l1"), format!("Landing · {last} · at 6.02 s"));
    }

    #[test]
    fn a_stride_without_length_gives_its_tempo() {
        let mut approach = sample::approach(SEVEN);
        approach.strides[1].speed_m_per_s = None;
        assert!(said(&approach, "h2").contains(" · tempo 9"), "{}", said(&approach, "h2"));
    }

    #[test]
    fn a_mark_that_was_left_out_is_not_passed_over() {
        let approach = sample::approach(SEVEN);
        let camera = sample::camera(PictureSize { width: 1920, height: 1080 }, 0.0, 24.0);
        let round = sample::round();
        let suspects = [sample::suspect("h3")];
        let picture = PictureSize { width: 1920, height: 1080 };
        let input =
            StillInput { suspects: &suspects, ..input(&camera, picture, &approach, &round) };
        let now = approach.footfalls.iter().find(|f| f.footfall == "h3").unwrap();
        assert!(
            happening(&input, Some(now), now.time_s).contains("the mark of this hoof was left out")
        );
    }

    #[test]
    fn strides_are_counted_in_words() {
        assert_eq!([1, 2, 12, 13].map(ordinal), ["the last", "second", "twelfth", "13th"]);
    }
}
