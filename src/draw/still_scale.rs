//! One metre and one foot on the ground of a still, near the fence.

use super::area::{Area, Spot};
use super::placement::Surroundings;
use super::seen::{View, heading_at};
use super::still::StillInput;
use super::still_ground::cased;
use super::svg::{Anchor, Paint, Svg};
use super::text_line::{CAP_HEIGHT, TextLine, Weight};
use super::theme::{PLATE_OPACITY, PictureSizes, Theme};
use crate::scene::GroundPoint;
use crate::stride::PlacedFootfall;

/// The bar as seen.
#[derive(Clone, Debug)]
pub(super) struct ScaleBar {
    start: Spot,
    foot: Spot,
    metre: Spot,
    /// The plate with the words.
    pub plate: Area,
    words: [TextLine; 2],
}

const FOOT_M: f64 = 0.3048;

impl ScaleBar {
    /// Looks for free ground beside the fence, else beside the newest print; `None` when neither
    /// is on the picture.
    pub fn near_fence(
        input: &StillInput,
        view: &View,
        newest: Option<&PlacedFootfall>,
        around_it: &Surroundings,
    ) -> Option<Self> {
        let fence = &input.approach.fence;
        let corners = fence.take_off_base.iter().chain(&fence.landing_base).flatten();
        let around = corners.copied().chain(newest.and_then(|footfall| footfall.place));
        let mut best: Option<(f64, Self)> = None;
        for (rank, place) in around.enumerate() {
            for step in 0..18 {
                for sign in [-1.0, 1.0] {
                    for back in [-1.3, 0.3, -2.4, 1.6] {
                        let aside = sign * (0.4 + 0.5 * f64::from(step));
                        let Some(bar) = Self::at(input, view, place, back, aside) else { continue };
                        if !bar.is_free(view, around_it) {
                            continue;
                        }
                        // Near the fence, and rather below the track than behind the horse.
                        let last = rank == 4;
                        let price = f64::from(step) + back.abs() + if last { 40.0 } else { 0.0 }
                            - 6.0 * bar.plate.top / view.frame().height();
                        if best.as_ref().is_none_or(|(least, _)| price < *least) {
                            best = Some((price, bar));
                        }
                    }
                }
            }
        }
        best.map(|(_, bar)| bar)
    }

    fn at(
        input: &StillInput,
        view: &View,
        near: GroundPoint,
        back: f64,
        aside: f64,
    ) -> Option<Self> {
        let (sin, cos) = heading_at(input.approach, near).sin_cos();
        let on_ground = |along: f64| {
            view.spot(GroundPoint::new(
                near.x + (back + along) * cos - aside * sin,
                near.y + (back + along) * sin + aside * cos,
            ))
        };
        let (mut start, mut foot, mut metre) =
            (on_ground(0.0)?, on_ground(FOOT_M)?, on_ground(1.0)?);
        if metre.x < start.x {
            // Read from the left whichever way the horse goes.
            (start, foot, metre) = (metre, on_ground(1.0 - FOOT_M)?, start);
        }
        let sizes = &view.sizes;
        let word = |text| TextLine::new(text, sizes.small, Weight::Regular, input.theme.ink);
        let words = [word("1 m"), word("1 ft")];
        let widest = words[0].width().max(words[1].width());
        let height = 2.0 * sizes.small * 1.15 + 1.4 * sizes.padding;
        let plate = Area::at(
            start.x.max(metre.x) + 0.6 * sizes.small,
            metre.y - height / 2.0,
            widest + 2.0 * sizes.padding,
            height,
        );
        Some(Self { start, foot, metre, plate, words })
    }

    /// What labels keep clear of.
    pub fn areas(&self) -> Vec<Area> {
        let spots = [self.start, self.foot, self.metre];
        let rows = self.plate.height() / 2.0;
        let bars = Area::holding(&spots).map(|area| Area {
            top: area.top - rows,
            bottom: area.bottom + rows,
            ..area.grown(0.3 * rows)
        });
        bars.into_iter().chain([self.plate]).collect()
    }

    fn is_free(&self, view: &View, around: &Surroundings) -> bool {
        let long_enough = self.start.distance(self.metre) > 0.8 * view.sizes.print.0;
        let space = view.sizes.small * 0.4;
        long_enough
            && self.areas().iter().all(|area| {
                let roomy = area.grown(space);
                view.inside().contains(area)
                    && !around.keep_clear.iter().any(|other| other.overlaps(&roomy))
                    && !around.lines.iter().any(|(a, b)| roomy.clip(*a, *b).is_some())
            })
    }

    /// Two bars, one above the other, from one start; the words beside them.
    pub fn draw(&self, svg: &mut Svg, sizes: &PictureSizes, theme: &Theme) {
        let apart = sizes.small * 0.575;
        let rows = [(self.metre, -apart), (self.foot, apart)];
        for (end, shift) in rows {
            let [from, to] = [self.start, end].map(|spot| spot.moved((0.0, 1.0), shift));
            cased(svg, &[from, to], theme.ink, sizes.line, sizes, theme);
            for spot in [from, to] {
                let tick = [
                    spot.moved((0.0, 1.0), -0.22 * sizes.small),
                    spot.moved((0.0, 1.0), 0.22 * sizes.small),
                ];
                cased(svg, &tick, theme.ink, sizes.hair, sizes, theme);
            }
        }
        svg.rect(&self.plate, sizes.corner, &Paint::glaze(theme.card, PLATE_OPACITY));
        let middle = self.plate.middle();
        for (word, shift) in self.words.iter().zip([-apart, apart]) {
            let base = Spot::new(
                self.plate.left + sizes.padding,
                middle.y + shift + sizes.small * CAP_HEIGHT / 2.0,
            );
            svg.text(word, base, Anchor::Start);
        }
    }
}
