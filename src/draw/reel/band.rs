//! The band below the picture: who, what happens, the headline once take-off was reached, the scale
//! of the ground, and the stride bars so far.

use crate::draw::area::{Area, Spot};
use crate::draw::still::Names;
use crate::draw::stride_axis::StrideAxis;
use crate::draw::stride_bars::{BarsScale, StrideBarsInput, draw_bars};
use crate::draw::svg::{Anchor, Drawing, Paint, Svg};
use crate::draw::text_line::{TextLine, Weight, shortened, width_of};
use crate::draw::theme::{PictureSizes, Theme};
use crate::draw::tolerance::Band;
use crate::marks::Round;
use crate::quantity::{LengthUnits, METRES_PER_FOOT, written_speed};
use crate::scene::PictureSize;
use crate::stride::ApproachMeasurement;
use crate::survey::Suspect;

/// What the band needs to know.
#[derive(Clone, Copy, Debug)]
pub struct BandInput<'a> {
    /// The approach.
    pub approach: &'a ApproachMeasurement,
    /// Marks that do not fit.
    pub suspects: &'a [Suspect],
    /// Who rode.
    pub round: &'a Round,
    /// Whether names may be shown.
    pub names: Names,
    /// What has happened up to here (capture time, seconds) is shown.
    pub until_s: f64,
    /// The sentence that tells the whole approach; `None` before take-off.
    pub headline: Option<&'a str>,
    /// Pixels of a metre along the track at the take-off place.
    pub metre_px: Option<f64>,
    /// The scale of the bars of all approaches of the reel; `None` for its own.
    pub scale: Option<BarsScale>,
    /// Metres or feet.
    pub units: LengthUnits,
    /// Colours.
    pub theme: Theme,
    /// Size of the band, pixels.
    pub size: PictureSize,
    /// Size of the canvas, which says how large the type is.
    pub canvas: PictureSize,
}

/// The band as a drawing of its own size, on paper.
pub fn band(input: &BandInput) -> Drawing {
    let (width, height) = (f64::from(input.size.width), f64::from(input.size.height));
    let mut svg = Svg::new(width, height, "What has happened so far, and the stride lengths");
    let whole = Area::at(0.0, 0.0, width, height);
    svg.rect(&whole, 0.0, &Paint::fill(input.theme.paper));
    let sizes = PictureSizes::of(input.canvas);
    let inside = Area {
        left: sizes.margin,
        right: width - sizes.margin,
        top: 0.5 * sizes.margin,
        bottom: height - 0.4 * sizes.margin,
    };
    let (words, chart) = if width > 2.6 * height {
        let at = inside.left + WORDS * inside.width();
        (Area { right: at - sizes.margin, ..inside }, Area { left: at, ..inside })
    } else {
        let at = inside.top + 7.4 * sizes.small;
        (Area { bottom: at - sizes.margin, ..inside }, Area { top: at, ..inside })
    };
    draw_words(&mut svg, input, &words, &sizes);
    draw_chart(&mut svg, input, &chart, sizes.small);
    svg.finish()
}

/// Share of the width that the words have beside the chart.
const WORDS: f64 = 0.34;

/// The least size of the line of names, of that of other small words.
const LEAST_NAMES: f64 = 0.8;

fn draw_words(svg: &mut Svg, input: &BandInput, area: &Area, sizes: &PictureSizes) {
    let BandInput { theme, .. } = *input;
    let mut base = area.top;
    let mut add = |svg: &mut Svg, text: &str, size: f64, weight, colour| {
        let text = shortened(text, size, weight, area.width());
        base += 1.32 * size;
        let line = TextLine::new(text, size, weight, colour);
        svg.text(&line, Spot::new(area.left, base - 0.3 * size), Anchor::Start);
    };
    if let Some(names) = names(input) {
        // A little smaller rather than cut: the fence's name stands last.
        let needed = width_of(&names, sizes.small, Weight::Regular);
        // A hair less than the width: what fits to the last digit is cut by rounding.
        let share = (0.99 * area.width() / needed).clamp(LEAST_NAMES, 1.0);
        add(svg, &names, share * sizes.small, Weight::Regular, theme.muted);
    }
    match input.headline {
        Some(headline) => {
            for line in lines(headline, sizes.text, area.width()) {
                add(svg, &line, sizes.text, Weight::Bold, theme.ink);
            }
        }
        None => {
            let happening = happening(input);
            add(svg, &happening, sizes.text, Weight::Bold, theme.ink);
        }
    }
    if input.headline.is_none()
        && let Some(speed) = speed(input)
    {
        add(svg, &speed, sizes.small, Weight::Regular, theme.muted);
    }
    draw_metre(svg, input, area, sizes);
}

/// A bar as long as a metre (three feet) at take-off, with its words after it; over it, where there is room,
/// what the band in the chart is.
fn draw_metre(svg: &mut Svg, input: &BandInput, area: &Area, sizes: &PictureSizes) {
    let BandInput { theme, metre_px, .. } = *input;
    let shaded = Band::of(input.approach, None, input.units).map(|band| band.words);
    if let Some(shaded) = shaded.filter(|_| area.height() > 7.5 * sizes.small) {
        let shaded = shortened(&shaded, sizes.small, Weight::Regular, area.width());
        let line = TextLine::new(shaded, sizes.small, Weight::Regular, theme.muted);
        let at = Spot::new(area.left, area.bottom - 1.75 * sizes.small);
        svg.text(&line, at, Anchor::Start);
    }
    let (metres, words) = match input.units {
        LengthUnits::Metres => (1.0, "1 m at take-off"),
        LengthUnits::Feet => (3.0 * METRES_PER_FOOT, "3 ft at take-off"),
    };
    let word = TextLine::new(words, sizes.small, Weight::Regular, theme.ink);
    let Some(length) = metre_px.map(|metre_px| metres * metre_px) else { return };
    let gap = 0.5 * sizes.small;
    if length + gap + word.width() > area.width() {
        return;
    }
    let y = area.bottom - 0.45 * sizes.small;
    let (start, end) = (Spot::new(area.left, y), Spot::new(area.left + length, y));
    svg.line(start, end, &Paint::stroke(theme.ink, sizes.line));
    for spot in [start, end] {
        let tick = [-0.3, 0.3].map(|by| spot.moved((0.0, 1.0), by * sizes.small));
        svg.line(tick[0], tick[1], &Paint::stroke(theme.ink, sizes.hair));
    }
    svg.text(&word, Spot::new(end.x + gap, y + 0.36 * sizes.small), Anchor::Start);
}

fn draw_chart(svg: &mut Svg, input: &BandInput, area: &Area, text: f64) {
    let BandInput { approach, suspects, units, theme, until_s, scale, .. } = *input;
    let bars = StrideBarsInput {
        approach,
        suspects,
        tolerance: None,
        brackets: &[],
        units,
        theme,
        width: area.width(),
        height: area.height(),
        text,
        until_s: Some(until_s),
        scale,
    };
    let left = area.left + StrideAxis::GUTTER * text;
    let strides = scale.map_or(approach.strides.len(), |scale| scale.strides);
    let axis = StrideAxis::new(left, area.right, strides, text);
    // Value and ± stand over the bars, the strides' numbers below.
    let place = Area {
        left: axis.left(),
        right: axis.right(),
        top: area.top + 2.9 * text,
        bottom: area.bottom - 1.5 * text,
    };
    let band = Band::of(approach, None, units);
    let unit = TextLine::new(units.symbol(), text, Weight::Regular, theme.muted);
    svg.text(&unit, Spot::new(left - 0.5 * text, place.top - 0.6 * text), Anchor::End);
    draw_bars(svg, &bars, &axis, &place, band.as_ref());
    axis.draw_numbers(svg, place.bottom, &theme);
    axis.draw_fence(svg, place.bottom, &theme);
}

fn names(input: &BandInput) -> Option<String> {
    let round = input.round;
    let fence = input.approach.fence.name.trim();
    // The date tells two approaches apart that are shown one above the other.
    let date = round.date.as_deref().unwrap_or_default().trim();
    let (horse, rider) = match input.names {
        Names::LeftOff => ("", ""),
        Names::Shown => (round.horse.trim(), round.rider.trim()),
    };
    let kept = [date, horse, rider, fence];
    let kept: Vec<&str> = kept.into_iter().filter(|name| !name.is_empty()).collect();
    (!kept.is_empty()).then(|| kept.join(" · "))
}

/// "Stride −3": the stride that ended last; before the first, that none has.
fn happening(input: &BandInput) -> String {
    match input.approach.last_ended(input.until_s) {
        Some(row) => format!("Stride \u{2212}{}", row.number.unsigned_abs()),
        None => "Coming to the first stride measured".to_owned(),
    }
}

/// The speed of that stride.
fn speed(input: &BandInput) -> Option<String> {
    let row = input.approach.last_ended(input.until_s)?;
    let speed = row.speed_m_per_s.as_ref()?;
    Some(format!("speed {}", written_speed(speed, input.units)))
}

/// `text` in lines no wider than `room`, broken between words.
fn lines(text: &str, size: f64, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ') {
        match lines.last_mut() {
            Some(line) if width_of(&format!("{line} {word}"), size, Weight::Bold) <= room => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, SEVEN};

    fn drawn(until_s: f64, headline: Option<&str>, names: Names) -> String {
        let approach = sample::approach(SEVEN);
        let round = sample::round();
        let input = BandInput {
            approach: &approach,
            suspects: &[],
            round: &round,
            names,
            until_s,
            headline,
            metre_px: Some(80.0),
            scale: None,
            units: LengthUnits::Metres,
            theme: Theme::LIGHT,
            size: PictureSize { width: 1920, height: 280 },
            canvas: PictureSize { width: 1920, height: 1080 },
        };
        band(&input).svg
    }

    #[test]
    fn bars_build_up_and_the_headline_comes_last() {
        let values = |svg: &str| svg.matches(">\u{b1}").count();
        let counts = [0.0, 1.9, 2.5, 99.0].map(|until| values(&drawn(until, None, Names::Shown)));
        assert_eq!(counts, [0, 1, 2, 7]);
        let early = drawn(2.5, None, Names::Shown);
        assert!(early.contains("Stride \u{2212}6") && early.contains("1 m at take-off"));
        let late = drawn(99.0, Some("Seven strides; take-off 1.78 m"), Names::Shown);
        assert!(late.contains("Seven strides;") && !late.contains("Stride \u{2212}1"));
    }

    #[test]
    fn names_can_be_left_off() {
        assert!(drawn(0.0, None, Names::Shown).contains("Juniper"));
        let without = drawn(0.0, None, Names::LeftOff);
        assert!(!without.contains("Juniper") && !without.contains("Holt"));
    }
}
