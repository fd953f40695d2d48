//! The strides of one approach as a row of small bars without numbers: several of them, one below
//! the other at one scale and with the fence at the same place, show at a glance how approaches
//! differ.

use super::area::{Area, Spot};
use super::stride_axis::StrideAxis;
use super::svg::{Drawing, Paint, Svg};
use super::theme::Theme;
use super::tolerance::{Band, Tolerance};
use crate::quantity::{LengthUnits, Unit};
use crate::stride::ApproachMeasurement;

/// What a row of small bars needs to know.
#[derive(Clone, Copy, Debug)]
pub struct StrideRowInput<'a> {
    /// The approach.
    pub approach: &'a ApproachMeasurement,
    /// The coach's band; `None` for the mean ± 0.30 m.
    pub tolerance: Option<Tolerance>,
    /// Strides the axis has room for: the most of all rows.
    pub most_strides: usize,
    /// What the row's height stands for, metres: the longest of all rows ([`longest_m`]).
    pub longest_m: f64,
    /// Colours.
    pub theme: Theme,
    /// Width of the drawing, in its own units.
    pub width: f64,
    /// Height of the drawing.
    pub height: f64,
}

/// The upper end of the longest whisker of an approach, metres; zero where no length was measured.
pub fn longest_m(approach: &ApproachMeasurement) -> f64 {
    let lengths = approach.strides.iter().filter_map(|row| row.length_m.as_ref());
    lengths.map(|length| length.high95.get()).fold(0.0, f64::max)
}

/// Widest place of a stride: few strides stand near the fence, they do not fill the row.
const WIDEST_PITCH: f64 = 13.0;

/// The bars, with whiskers, over the band.
pub fn stride_row(input: &StrideRowInput) -> Drawing {
    let StrideRowInput { approach, theme, width, height, .. } = *input;
    let title = format!("Stride lengths of the approach to {}", approach.fence.name);
    let mut svg = Svg::new(width, height, &title);
    let unit = height / 7.0;
    let pitch = WIDEST_PITCH * height / 24.0;
    let axis = StrideAxis::new(0.0, width, input.most_strides, unit);
    let left = axis.right() - pitch.min(axis.pitch()) * input.most_strides.max(1) as f64;
    let axis = StrideAxis::new(left, width, input.most_strides, unit);
    let base = height - 0.3 * unit;
    let y = |metres: f64| base - metres.max(0.0) / input.longest_m.max(1.0) * (base - 0.2 * unit);
    // The words of a band stand in no small row; its unit does not matter.
    let band = Band::of(approach, input.tolerance, LengthUnits::Metres);
    let first = approach.strides.first().map_or(0, |row| row.number);
    if let Some(band) = &band {
        let (middle, half) = (band.middle.get(), band.half.get());
        let left = axis.middle(first) - axis.pitch() / 2.0;
        let sand =
            Area { left, right: axis.right(), top: y(middle + half), bottom: y(middle - half) };
        svg.rect(&sand, 0.0, &Paint::fill(theme.sand));
    }
    let colour = theme.limb(approach.reference_limb);
    for row in &approach.strides {
        let (middle, half) = (axis.middle(row.number), 0.31 * axis.pitch());
        let place =
            |top: f64| Area { left: middle - half, right: middle + half, top, bottom: base };
        let Some(length) = &row.length_m else {
            let dashes = Paint::stroke(theme.line, 0.12 * unit).dashed(0.4 * unit, 0.4 * unit);
            svg.rect(&place(y(0.3 * input.longest_m.max(1.0))), 0.0, &dashes);
            continue;
        };
        let opacity =
            if band.as_ref().is_some_and(|band| band.excludes(length)) { 0.3 } else { 1.0 };
        let bar = place(y(length.value.get()));
        svg.rect(&bar, 0.0, &Paint::fill(theme.card));
        svg.rect(&bar, 0.0, &Paint::glaze(colour, opacity).outlined(colour, 0.16 * unit));
        let (low, high) = (y(length.low95.get()), y(length.high95.get()));
        for paint in [Paint::stroke(theme.card, 0.5 * unit), Paint::stroke(theme.ink, 0.2 * unit)] {
            svg.line(Spot::new(middle, low), Spot::new(middle, high), &paint);
        }
    }
    let ground = Paint::stroke(theme.ink, 0.14 * unit);
    svg.line(Spot::new(left, base), Spot::new(axis.right(), base), &ground);
    axis.draw_fence(&mut svg, base, &theme);
    svg.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, Sample};

    #[test]
    fn every_stride_has_its_bar_whatever_the_number() {
        for strides in [1, 7, 15] {
            let mut approach = sample::approach(Sample { strides, jump: true, all_limbs: false });
            let drawn = |approach: &ApproachMeasurement| {
                stride_row(&StrideRowInput {
                    approach,
                    tolerance: None,
                    most_strides: 15,
                    longest_m: longest_m(approach),
                    theme: Theme::LIGHT,
                    width: 96.0,
                    height: 24.0,
                })
                .svg
            };
            let colour = format!("stroke=\"{}\"", Theme::LIGHT.leading.hex());
            assert_eq!(drawn(&approach).matches(&colour).count(), strides);
            approach.strides[0].length_m = None;
            let svg = drawn(&approach);
            assert_eq!(svg.matches(&colour).count(), strides - 1);
            assert_eq!(svg.matches("stroke-dasharray").count(), 1, "a stride without a length");
        }
    }
}
