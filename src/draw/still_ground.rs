//! What lies on the ground of a still besides prints: poles, the fence's base, raw marks.

use super::area::{Area, Spot};
use super::seen::View;
use super::still::{RawMark, StillInput};
use super::svg::{Anchor, Paint, Svg};
use super::text_line::{CAP_HEIGHT, TextLine, Weight};
use super::theme::{Colour, PictureSizes, Theme};
use crate::marks::MarkAddress;
use crate::stride::PlacedFootfall;

/// A line with its pale casing.
pub(super) fn cased(
    svg: &mut Svg,
    spots: &[Spot],
    colour: Colour,
    width: f64,
    sizes: &PictureSizes,
    theme: &Theme,
) {
    svg.polyline(spots, &Paint::stroke(theme.card, width + 2.0 * sizes.casing));
    svg.polyline(spots, &Paint::stroke(colour, width));
}

/// The surveyed outlines of the poles, faint.
pub(super) fn draw_poles(svg: &mut Svg, view: &View, input: &StillInput) {
    let StillInput { theme, .. } = input;
    let sizes = &view.sizes;
    for pole in input.poles {
        let Some(outline) = view.pole(pole) else { continue };
        let pale = Paint::stroke(theme.card, sizes.hair + 1.6 * sizes.casing).faint(0.55);
        svg.polygon(&outline, &pale);
        svg.polygon(&outline, &Paint::stroke(theme.ink, sizes.hair).faint(0.75));
    }
}

/// The base lines of the fence: take-off side and landing side.
pub(super) fn draw_fence(svg: &mut Svg, view: &View, input: &StillInput) {
    let StillInput { theme, approach, .. } = input;
    let sizes = &view.sizes;
    let fence = &approach.fence;
    let mut bases = vec![(fence.take_off_base, theme.take_off)];
    if fence.landing_base != fence.take_off_base {
        bases.push((fence.landing_base, theme.landing));
    }
    for (base, colour) in bases {
        let [Some(left), Some(right)] = base else { continue };
        for part in view.ground_line(left, right) {
            cased(svg, &part, colour, sizes.line, sizes, theme);
        }
    }
}

/// The base lines on the picture, for labels to keep off.
pub(super) fn fence_lines(view: &View, input: &StillInput) -> Vec<(Spot, Spot)> {
    let fence = &input.approach.fence;
    let seen = [fence.take_off_base, fence.landing_base].into_iter().filter_map(|base| {
        let [left, right] = base;
        Some((view.spot(left?)?, view.spot(right?)?))
    });
    seen.collect()
}

/// Where suspect marks stand with ring and query, for labels to keep off.
pub(super) fn queried_marks(input: &StillInput, sizes: &PictureSizes) -> Vec<Area> {
    let suspect = |raw: &&RawMark| input.suspects.iter().any(|one| one.mark == raw.mark);
    let reach = 2.0 * (3.0 * sizes.print.0 * 0.36 + sizes.small);
    let around = |raw: &RawMark| Area::around(Spot::new(raw.at.x, raw.at.y), reach, reach);
    input.raw_marks.iter().filter(suspect).map(around).collect()
}

/// Where the crosses stand, for the scale bar to keep off.
pub(super) fn raw_marks(input: &StillInput, sizes: &PictureSizes) -> Vec<Area> {
    let side = 0.8 * sizes.print.0;
    let around = |raw: &RawMark| Area::around(Spot::new(raw.at.x, raw.at.y), side, side);
    input.raw_marks.iter().map(around).collect()
}

/// Small crosses where marks were placed, open in the middle; suspect ones in a ring with a query.
/// The mark of the moment's hoof has its print and brackets, and gets no cross over the contact.
pub(super) fn draw_raw_marks(
    svg: &mut Svg,
    sizes: &PictureSizes,
    input: &StillInput,
    now: Option<&PlacedFootfall>,
) {
    let theme = &input.theme;
    let arm = sizes.print.0 * 0.36;
    for raw in input.raw_marks {
        let at = Spot::new(raw.at.x, raw.at.y);
        let suspect = input.suspects.iter().any(|suspect| suspect.mark == raw.mark);
        let colour = if suspect { theme.doubt } else { theme.ink };
        let of_now = matches!(&raw.mark, MarkAddress::Footfall { approach, footfall }
            if *approach == input.approach.approach
                && now.is_some_and(|now| now.place.is_some() && now.footfall == *footfall));
        if of_now && !suspect {
            continue;
        }
        for way in [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)] {
            let ends = [at.moved(way, 0.4 * arm), at.moved(way, 1.1 * arm)];
            cased(svg, &ends, colour, sizes.hair, sizes, theme);
        }
        if suspect {
            let width = sizes.line;
            svg.circle(at, 1.7 * arm, &Paint::stroke(theme.card, width + 2.0 * sizes.casing));
            svg.circle(at, 1.7 * arm, &Paint::stroke(theme.doubt, width));
            let up = std::f64::consts::FRAC_1_SQRT_2;
            draw_query(svg, at.moved((up, -up), 3.0 * arm), sizes, theme);
        }
    }
}

/// The sign of a doubt: a query on a round plate.
pub(super) fn draw_query(svg: &mut Svg, at: Spot, sizes: &PictureSizes, theme: &Theme) {
    let radius = 0.62 * sizes.small;
    svg.circle(at, radius, &Paint::fill(theme.card).outlined(theme.doubt, sizes.hair));
    let sign = TextLine::new("?", sizes.small, Weight::Bold, theme.doubt);
    svg.text(&sign, at.moved((0.0, 1.0), sizes.small * CAP_HEIGHT / 2.0), Anchor::Middle);
}
