//! One metre and one foot on the ground of a still, below the track and clear of the fence.
//!
//! Both bars lie on one small card with their words, so that they cannot be taken for rails. They
//! are as long as a metre and a foot of the track are seen straight above the card: lower down on
//! the picture the ground is nearer, and a metre of it would measure nothing that is drawn.

use super::area::{Area, Spot};
use super::placement::{Surroundings, covers};
use super::seen::{View, heading_at};
use super::still::StillInput;
use super::svg::{Anchor, Paint, Svg};
use super::text_line::{CAP_HEIGHT, TextLine, Weight};
use super::theme::{PLATE_OPACITY, PictureSizes, Theme};
use crate::quantity::METRES_PER_FOOT;
use crate::scene::GroundPoint;
use crate::stride::PlacedFootfall;

/// The bars as seen.
#[derive(Clone, Debug)]
pub(super) struct ScaleBar {
    /// Start and end of each bar, the metre first.
    bars: [(Spot, Spot); 2],
    /// The card.
    pub plate: Area,
    words: [TextLine; 2],
}

impl ScaleBar {
    /// Looks for a free place below the newest print, then along the track; `None` when there is
    /// none.
    pub fn near_track(
        input: &StillInput,
        view: &View,
        newest: Option<&PlacedFootfall>,
        around: &Surroundings,
    ) -> Option<Self> {
        let approach = input.approach;
        let start = newest.and_then(|footfall| footfall.place).or_else(|| {
            let corners = approach.fence.take_off_base.iter().chain(&approach.fence.landing_base);
            corners.flatten().next().copied()
        })?;
        let mut best: Option<(f64, Self)> = None;
        for along in (-40..=12).map(|step| 0.5 * f64::from(step)) {
            let Some(on_track) = Self::at(input, view, start, along) else { continue };
            // Below only: above the track stand the horse and what lies behind it.
            for step in 1..20 {
                // Ahead of the hoof come horse and fence.
                let aside = if along > 0.0 { 0.7 } else { 0.35 } * f64::abs(along);
                let price = 0.6 * f64::from(step) + aside;
                if best.as_ref().is_some_and(|(least, _)| price >= *least) {
                    continue;
                }
                let bar = on_track.moved(0.5 * f64::from(step) * on_track.plate.height());
                if bar.is_free(view, around) {
                    best = Some((price, bar));
                }
            }
        }
        best.map(|(_, bar)| bar)
    }

    fn moved(&self, down: f64) -> Self {
        let move_spot = |spot: Spot| spot.moved((0.0, 1.0), down);
        let plate =
            Area { top: self.plate.top + down, bottom: self.plate.bottom + down, ..self.plate };
        let bars = self.bars.map(|(from, to)| (move_spot(from), move_spot(to)));
        Self { bars, plate, words: self.words.clone() }
    }

    fn at(input: &StillInput, view: &View, near: GroundPoint, along: f64) -> Option<Self> {
        let (sin, cos) = heading_at(input.approach, near).sin_cos();
        let on_ground = |further: f64| {
            let along = along + further;
            view.spot(GroundPoint::new(near.x + along * cos, near.y + along * sin))
        };
        let (mut start, mut metre) = (on_ground(0.0)?, on_ground(1.0)?);
        let mut foot = on_ground(METRES_PER_FOOT)?;
        if metre.x < start.x {
            // Read from the left whichever way the horse goes.
            (start, foot, metre) = (metre, on_ground(1.0 - METRES_PER_FOOT)?, start);
        }
        let sizes = &view.sizes;
        let word = |text| TextLine::new(text, sizes.small, Weight::Bold, input.theme.ink);
        let words = [word("1 m at the track"), word("1 ft")];
        // Each word stands at the end of its bar; the foot lies below the metre.
        // A metre that falls to the right would run into the word below it.
        let apart = 1.25 * sizes.small + (metre.y - start.y).max(0.0);
        let below = |spot: Spot| spot.moved((0.0, 1.0), apart);
        let bars = [(start, metre), (below(start), below(foot))];
        let held = Area::holding(&[start, metre, bars[1].0, bars[1].1])?;
        let right = bars
            .iter()
            .zip(&words)
            .map(|((_, end), word)| end.x + 0.45 * sizes.small + word.width())
            .fold(held.right, f64::max);
        let half = 0.5 * sizes.small;
        let plate = Area { right, top: held.top - half, bottom: held.bottom + half, ..held };
        Some(Self { bars, plate: plate.grown(1.1 * sizes.padding), words })
    }

    fn is_free(&self, view: &View, around: &Surroundings) -> bool {
        let (start, metre) = self.bars[0];
        let long_enough = start.distance(metre) > 0.8 * view.sizes.print.0;
        let roomy = self.plate.grown(0.4 * view.sizes.small);
        long_enough
            && view.inside().contains(&self.plate)
            && !around.keep_clear.iter().any(|other| other.overlaps(&roomy))
            && !around.avoid.iter().any(|shape| covers(&roomy, shape))
            && !around.lines.iter().any(|(a, b)| roomy.clip(*a, *b).is_some())
    }

    /// The card, the bars on it with their ticks, a word at the end of each.
    pub fn draw(&self, svg: &mut Svg, sizes: &PictureSizes, theme: &Theme) {
        svg.rect(&self.plate, sizes.corner, &Paint::glaze(theme.card, PLATE_OPACITY));
        for ((start, end), word) in self.bars.iter().zip(&self.words) {
            svg.line(*start, *end, &Paint::stroke(theme.ink, sizes.line));
            for spot in [start, end] {
                let tick = [-0.24, 0.24].map(|by| spot.moved((0.0, 1.0), by * sizes.small));
                svg.line(tick[0], tick[1], &Paint::stroke(theme.ink, sizes.hair));
            }
            let base =
                Spot::new(end.x + 0.45 * sizes.small, end.y + sizes.small * CAP_HEIGHT / 2.0);
            svg.text(word, base, Anchor::Start);
        }
    }
}
