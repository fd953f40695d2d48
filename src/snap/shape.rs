//! The outline of a pole's end and of its shadow.

use super::step::step;

/// How many numbers make a shape.
pub(super) const COUNT: usize = 9;

/// The outline, in pixels along (t) and across (u) the pole. The centre line is
/// `u = middle + turn · t`, the half thickness `half + taper · t`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Shape {
    pub(super) middle: f64,
    pub(super) turn: f64,
    pub(super) half: f64,
    pub(super) taper: f64,
    /// Where the middle of the end face lies.
    pub(super) end: f64,
    /// How far the end bulges beyond it, as a share of the half thickness: the rim of a round
    /// end face that is seen at a slant is half an ellipse. 0 for a square cut.
    pub(super) bulge: f64,
    /// How far the shadow is shifted from the pole, along and across.
    pub(super) shadow_t: f64,
    pub(super) shadow_u: f64,
    /// Standard deviation of the blur.
    pub(super) blur: f64,
}

impl Shape {
    pub(super) fn values(&self) -> [f64; COUNT] {
        [
            self.middle,
            self.turn,
            self.half,
            self.taper,
            self.end,
            self.bulge,
            self.shadow_t,
            self.shadow_u,
            self.blur,
        ]
    }

    pub(super) fn from_values(v: [f64; COUNT]) -> Self {
        let [middle, turn, half, taper, end, bulge, shadow_t, shadow_u, blur] = v;
        Self { middle, turn, half, taper, end, bulge, shadow_t, shadow_u, blur }
    }

    /// The nearest shape that can be.
    pub(super) fn possible(mut self) -> Self {
        self.half = self.half.clamp(0.8, 14.0);
        self.bulge = self.bulge.clamp(0.0, 1.0);
        self.blur = self.blur.clamp(0.28, 1.5);
        self.taper = self.taper.clamp(-0.12, 0.12);
        self
    }

    /// Across the pole, −1 and 1 at its sides.
    pub(super) fn share(&self, t: f64, u: f64) -> f64 {
        (u - self.middle - self.turn * t) / (self.half + self.taper * t).max(0.3)
    }

    /// How much of a pixel the pole covers.
    pub(super) fn pole(&self, t: f64, u: f64) -> f64 {
        let half = (self.half + self.taper * t).max(0.3);
        let from_middle = u - self.middle - self.turn * t;
        let sides = step(half - from_middle, self.blur) - step(-half - from_middle, self.blur);
        if sides < 1e-4 {
            return 0.0;
        }
        let share = (from_middle / half).clamp(-0.97, 0.97);
        let rim = (1.0 - share * share).sqrt();
        let slant = self.bulge * share / rim;
        let inside = t - self.end + self.bulge * half * rim;
        sides * step(inside / (1.0 + slant * slant).sqrt(), self.blur)
    }

    /// How much of a pixel the shadow would cover if the pole were not before it.
    pub(super) fn shadow(&self, t: f64, u: f64) -> f64 {
        self.pole(t - self.shadow_t, u - self.shadow_u)
    }
}
