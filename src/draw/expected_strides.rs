//! Before a hoof is marked: how well a stride would be known, laid on the ground where it would be.

use super::area::{Area, Spot};
use super::still_ground::cased;
use super::svg::{Anchor, Drawing, Paint, Svg};
use super::text_line::{CAP_HEIGHT, TextLine, Weight};
use super::theme::{PLATE_OPACITY, PictureSizes, Theme};
use crate::quantity::{LengthUnits, written_tight};
use crate::scene::PictureSize;
use crate::stride::ExpectedStride;

/// A dashed line for each stride with its ± below, the size of the picture.
pub fn draw_expected_strides(
    strides: &[ExpectedStride],
    picture: PictureSize,
    units: LengthUnits,
    theme: Theme,
) -> Drawing {
    let (width, height) = (f64::from(picture.width), f64::from(picture.height));
    let mut svg = Svg::new(width, height, "How well a stride would be known at each place");
    let sizes = PictureSizes::of(picture);
    for stride in strides {
        let (from, to) =
            (Spot::new(stride.from.x, stride.from.y), Spot::new(stride.to.x, stride.to.y));
        cased(&mut svg, &[from, to], theme.muted, sizes.hair, &sizes, &theme);
        for end in [from, to] {
            let tick = [-0.3, 0.3].map(|by| end.moved((0.0, 1.0), by * sizes.text));
            cased(&mut svg, &tick, theme.muted, sizes.hair, &sizes, &theme);
        }
        let written = written_tight(&stride.length_m, units);
        let words = format!("± {} {}", written.plus_minus, written.unit);
        let line = TextLine::new(words.trim_end(), sizes.small, Weight::Regular, theme.ink);
        // Strides far away are shorter on the picture than their words: those are left out.
        if line.width() > (to.x - from.x).abs() {
            continue;
        }
        let middle =
            Spot::new(f64::midpoint(from.x, to.x), f64::midpoint(from.y, to.y) + 1.4 * sizes.text);
        let (half, tall) = (line.width() / 2.0 + sizes.padding, 0.75 * sizes.text);
        let plate = Area {
            left: middle.x - half,
            right: middle.x + half,
            top: middle.y - tall,
            bottom: middle.y + tall,
        };
        svg.rect(&plate, sizes.corner, &Paint::glaze(theme.card, PLATE_OPACITY));
        let base = middle.moved((0.0, 1.0), sizes.small * CAP_HEIGHT / 2.0);
        svg.text(&line, base, Anchor::Middle);
    }
    svg.finish()
}
