//! The caption of a still: which stride, when, at what pace, who.

use super::area::{Area, Spot};
use super::seen::View;
use super::still::{Names, StillInput};
use super::svg::{Anchor, Paint, Svg};
use super::text_line::{CAP_HEIGHT, DESCENT, TextLine, Weight, shortened};
use super::theme::{PLATE_OPACITY, PictureSizes, Theme};
use crate::marks::Event;
use crate::quantity::{Seconds, Unit, written, written_pace, written_time};
use crate::stride::{PlacedFootfall, StrideRow};

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

/// "Stride −3 of 7 · 3.53 s · 345 ± 9 m/min".
fn happening(input: &StillInput, now: Option<&PlacedFootfall>, until: f64) -> String {
    let mut parts = Vec::new();
    let stride = stride_at(input, until);
    let earlier = |footfall: &&PlacedFootfall| footfall.time_s <= until + 1e-9;
    let newest = now.or_else(|| input.approach.footfalls.iter().rfind(earlier));
    match newest.map(|footfall| footfall.event) {
        Some(Event::TakeOff) => parts.push("Take-off".to_owned()),
        Some(Event::Landing) => parts.push("Landing".to_owned()),
        Some(Event::Away) => parts.push("After the fence".to_owned()),
        Some(Event::Stride) | None => {
            if let Some(stride) = stride {
                let count = input.approach.strides.len();
                parts.push(format!("Stride \u{2212}{} of {count}", stride.number.unsigned_abs()));
            }
        }
    }
    if until.is_finite() {
        parts.push(written_time(Seconds::new(until)));
    }
    // The pace of the stride just finished: the one under way has none yet.
    let finished = input.approach.strides.iter().rev().find(|row| ends(input, row) <= until + 1e-9);
    if let Some(speed) = finished.and_then(|row| row.speed_m_per_s.as_ref()) {
        parts.push(written_pace(speed).to_string());
    } else if let Some(row) = finished {
        parts.push(written(&row.tempo_strides_per_min, input.units).to_string());
    }
    parts.join(" · ")
}

fn stride_at<'a>(input: &StillInput<'a>, until: f64) -> Option<&'a StrideRow> {
    let rows = &input.approach.strides;
    rows.iter().find(|row| until + 1e-9 < ends(input, row)).or(rows.last())
}

fn ends(input: &StillInput, row: &StrideRow) -> f64 {
    let found = input.approach.footfalls.iter().find(|f| f.footfall == row.to_footfall);
    found.map_or(f64::INFINITY, |footfall| footfall.time_s)
}
