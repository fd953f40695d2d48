//! The axis everything that has strides shares: the fence at the right edge as a small drawing of
//! one, strides from −n to −1 towards it, the way the horse comes.

use super::area::{Area, Spot};
use super::svg::{Anchor, Paint, Svg};
use super::text_line::{TextLine, Weight};
use super::theme::Theme;

/// Where each stride stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StrideAxis {
    left: f64,
    right: f64,
    count: u32,
    text: f64,
}

/// Room right of the strides for the fence, in sizes of the type.
const FENCE: f64 = 2.6;

impl StrideAxis {
    /// Room left of the axis for the numbers of the scale, in units of the type's size.
    pub const GUTTER: f64 = 3.6;

    /// `count` strides between `left` and the right edge `right` of the drawing; type of size
    /// `text`.
    pub fn new(left: f64, right: f64, count: usize, text: f64) -> Self {
        let count = u32::try_from(count).unwrap_or(u32::MAX).max(1);
        Self { left, right: right - FENCE * text, count, text }
    }

    /// Width of one stride's place.
    pub fn pitch(&self) -> f64 {
        (self.right - self.left) / f64::from(self.count)
    }

    /// Middle of the place of stride `number` (−1 is the last).
    pub fn middle(&self, number: i32) -> f64 {
        self.right + (f64::from(number) + 0.5) * self.pitch()
    }

    /// Where the strides begin.
    pub fn left(&self) -> f64 {
        self.left
    }

    /// Where the strides end.
    pub fn right(&self) -> f64 {
        self.right
    }

    /// A small fence, two uprights with three rails, standing on `base`.
    pub fn draw_fence(&self, svg: &mut Svg, base: f64, theme: &Theme) {
        let (width, high) = (0.2 * self.text, 2.9 * self.text);
        let (left, right) = (self.right + 0.55 * self.text, self.right + 2.25 * self.text);
        for rail in 1..=3 {
            let y = base - 0.28 * high * f64::from(rail);
            let paint = Paint::stroke(theme.take_off, 0.24 * self.text);
            svg.line(Spot::new(left, y), Spot::new(right, y), &paint);
        }
        for x in [left, right] {
            let upright = Area::at(x - width / 2.0, base - high, width, high);
            svg.rect(&upright, 0.0, &Paint::fill(theme.ink));
        }
    }

    /// The base line at `base` with the strides' numbers below it.
    pub fn draw_numbers(&self, svg: &mut Svg, base: f64, theme: &Theme) {
        for k in 1..=i32::try_from(self.count).unwrap_or(i32::MAX) {
            let number =
                TextLine::new(format!("\u{2212}{k}"), self.text, Weight::Regular, theme.muted);
            svg.text(&number, Spot::new(self.middle(-k), base + 1.3 * self.text), Anchor::Middle);
        }
        let fence = TextLine::new("fence", self.text, Weight::Regular, theme.muted);
        // Not beyond the drawing's edge, which is this far to the right of the axis.
        let middle = self.right + (1.4 * self.text).min(FENCE * self.text - fence.width() / 2.0);
        svg.text(&fence, Spot::new(middle, base + 1.3 * self.text), Anchor::Middle);
    }

    /// A horizontal rule across the strides.
    pub fn draw_rule(&self, svg: &mut Svg, y: f64, paint: &Paint) {
        svg.line(Spot::new(self.left, y), Spot::new(self.right, y), paint);
    }
}

/// Round values between `low` and `high`, about `wanted` of them, and the step between them.
pub(super) fn round_ticks(low: f64, high: f64, wanted: f64) -> (Vec<f64>, f64) {
    let rough = ((high - low) / wanted).max(1e-9);
    let power = 10f64.powf(rough.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|m| m * power)
        .find(|step| *step >= rough * 0.999)
        .unwrap_or(10.0 * power);
    let first = (low / step).ceil() as i64;
    let last = (high / step).floor() as i64;
    ((first..=last.min(first + 20)).map(|i| i as f64 * step).collect(), step)
}

/// Round values that enclose `low` to `high`, as close together as `most` of them allow, and the
/// step between them; `most` is three at least, which any interval can be enclosed by.
pub(super) fn enclosing_ticks(low: f64, high: f64, most: usize) -> (Vec<f64>, f64) {
    let span = (high - low).max(1e-9);
    let power = 10f64.powf(span.log10().floor() - 1.0);
    let steps = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0].map(|m| m * power);
    let ends = |step: f64| {
        // A hair inside, so that a value on a round number needs no further tick.
        let (first, last) = ((low / step + 1e-9).floor(), (high / step - 1e-9).ceil());
        (first as i64, (last as i64).max(first as i64 + 1))
    };
    let fits = |step: &f64| {
        let (first, last) = ends(*step);
        last - first < most.max(3) as i64
    };
    let step = steps.into_iter().find(fits).unwrap_or(200.0 * power);
    let (first, last) = ends(step);
    ((first..=last.min(first + 20)).map(|i| i as f64 * step).collect(), step)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strides_run_towards_the_fence() {
        let axis = StrideAxis::new(10.0, 126.0, 4, 10.0);
        assert_eq!(axis.pitch(), 22.5);
        assert_eq!(axis.middle(-1), 88.75);
        assert_eq!(axis.middle(-4), 21.25);
    }

    #[test]
    fn ticks_are_round() {
        assert_eq!(round_ticks(0.0, 4.3, 4.0), (vec![0.0, 2.0, 4.0], 2.0));
        assert_eq!(round_ticks(322.0, 371.0, 3.0).1, 20.0);
        assert_eq!(round_ticks(92.0, 104.0, 3.0).0, [95.0, 100.0]);
    }

    #[test]
    fn two_to_four_ticks_enclose_whatever_was_measured() {
        assert_eq!(enclosing_ticks(95.3, 102.2, 4), (vec![95.0, 100.0, 105.0], 5.0));
        assert_eq!(enclosing_ticks(229.0, 399.0, 3), (vec![200.0, 300.0, 400.0], 100.0));
        assert_eq!(enclosing_ticks(100.0, 105.0, 3).0, [100.0, 105.0]);
        for (low, high) in [(0.0, 0.001), (12.3, 12.4), (88.0, 131.0), (-3.0, 900.0)] {
            for most in 3..=4 {
                let (ticks, _) = enclosing_ticks(low, high, most);
                assert!((2..=most).contains(&ticks.len()), "{ticks:?}");
                assert!(
                    ticks[0] <= low && *ticks.last().unwrap() >= high,
                    "{low} {high} {ticks:?}"
                );
            }
        }
    }
}
