//! An approach as a low, wide drawing for the desk: bars with their numbers, pace below them, and
//! the contacts of each limb that was marked, all on the stride axis.

use super::area::{Area, Spot};
use super::footfall_chart::{FootfallChartInput, draw_contacts};
use super::plan::limbs;
use super::stride_axis::StrideAxis;
use super::stride_bars::{StrideBarsInput, draw_bars};
use super::stride_bracket::{StrideBracket, draw_brackets};
use super::svg::{Anchor, Drawing, Svg};
use super::text_line::{TextLine, Weight};
use super::theme::Theme;
use super::tolerance::{Band, Tolerance};
use crate::marks::{Event, Limb};
use crate::quantity::{LengthUnits, written_pace, written_speed};
use crate::stride::ApproachMeasurement;
use crate::survey::Suspect;

/// What the lane needs to know.
#[derive(Clone, Copy, Debug)]
pub struct StrideLaneInput<'a> {
    /// The approach.
    pub approach: &'a ApproachMeasurement,
    /// Marks that do not fit: why a stride may have no length.
    pub suspects: &'a [Suspect],
    /// The coach's band; `None` for the mean ± 0.30 m.
    pub tolerance: Option<Tolerance>,
    /// Brackets over the bars, for changes of pace.
    pub brackets: &'a [StrideBracket],
    /// Metres or feet.
    pub units: LengthUnits,
    /// Colours.
    pub theme: Theme,
    /// Width of the drawing, in its own units.
    pub width: f64,
    /// Size of the type, in the same units.
    pub text: f64,
}

/// Height of the bars, in sizes of the type.
const BARS: f64 = 4.8;
/// From one limb's contacts to the next, in sizes of the type.
const ROW: f64 = 1.35;

/// The lane of an approach.
pub fn stride_lane(input: &StrideLaneInput) -> Drawing {
    let StrideLaneInput { approach, suspects, tolerance, brackets, units, theme, width, text } =
        *input;
    // A limb seen only at the landing has no place on the strides.
    let on_strides = |limb: &Limb| {
        let mut footfalls = approach.footfalls.iter();
        footfalls.any(|f| f.limb == *limb && matches!(f.event, Event::Stride | Event::TakeOff))
    };
    let limbs: Vec<Limb> = limbs(approach).into_iter().filter(on_strides).collect();
    // Numbers above the bars; below them the strides' names, their pace, the contacts.
    let over = if brackets.is_empty() { 0.0 } else { 2.2 * text };
    let top = over + 2.9 * text;
    let bottom = top + BARS * text;
    let paces = bottom + 2.9 * text;
    let contacts = paces + 0.5 * text;
    let height = contacts + ROW * text * limbs.len() as f64 + 0.4 * text;
    let title = format!("The approach to {}, stride by stride", approach.fence.name);
    let mut svg = Svg::new(width, height, &title);
    let axis = StrideAxis::new(StrideAxis::GUTTER * text, width, approach.strides.len(), text);
    let place = Area { left: axis.left(), right: axis.right(), top, bottom };
    let bars = StrideBarsInput {
        approach,
        suspects,
        tolerance,
        brackets,
        units,
        theme,
        width,
        height,
        text,
        until_s: None,
        scale: None,
    };
    let band = Band::of(approach, tolerance, units);
    draw_bars(&mut svg, &bars, &axis, &place, band.as_ref());
    draw_brackets(&mut svg, brackets, &axis, 1.4 * text, text, &theme);
    axis.draw_numbers(&mut svg, bottom, &theme);
    axis.draw_fence(&mut svg, bottom, &theme);
    let unit = TextLine::new(units.symbol(), text, Weight::Regular, theme.muted);
    svg.text(&unit, Spot::new(axis.left() - 0.5 * text, top - 0.6 * text), Anchor::End);
    for row in &approach.strides {
        let Some(speed) = &row.speed_m_per_s else { continue };
        let said = match units {
            LengthUnits::Metres => written_pace(speed),
            LengthUnits::Feet => written_speed(speed, units),
        };
        let words = format!("{} {}", said.value, said.unit);
        let line = TextLine::new(words, 0.92 * text, Weight::Regular, theme.muted);
        svg.text(&line, Spot::new(axis.middle(row.number), paces), Anchor::Middle);
    }
    let rows = FootfallChartInput { approach, theme, width, text };
    for (i, limb) in limbs.into_iter().enumerate() {
        let middle = contacts + ROW * text * (i as f64 + 0.5);
        draw_contacts(&mut svg, &rows, &axis, limb, middle);
    }
    svg.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, SEVEN};

    #[test]
    fn the_lane_is_low_and_says_every_stride() {
        let approach = sample::approach(SEVEN);
        let drawing = stride_lane(&StrideLaneInput {
            approach: &approach,
            suspects: &[],
            tolerance: None,
            brackets: &[],
            units: LengthUnits::Metres,
            theme: Theme::LIGHT,
            width: 1200.0,
            text: 13.0,
        });
        assert!(drawing.height / drawing.width < 0.22, "{}", drawing.height);
        for number in 1..=7 {
            assert!(drawing.svg.contains(&format!(">\u{2212}{number}<")), "stride {number}");
        }
        assert_eq!(drawing.svg.matches(" m/min<").count(), 7);
    }
}
