//! The outline of a pole's end and of its shadow, and the light on it.

use super::step::step;

/// How many numbers make a shape.
pub(super) const COUNT: usize = 11;

/// The outline in pixels, and the light. Coordinates of its own: `s` along the pole from where
/// the window's origin falls on it, `w` across from the centre line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Shape {
    /// The centre line passes the origin of the window this far across.
    pub(super) middle: f64,
    /// Angle between the centre line and the window's own axis.
    pub(super) turn: f64,
    /// Half the thickness at the origin.
    pub(super) half: f64,
    /// What the half thickness gains a pixel: perspective.
    pub(super) taper: f64,
    /// Where the middle of the end face lies along the pole.
    pub(super) end: f64,
    /// How far the end bulges beyond it, as a share of the half thickness: the rim of a round
    /// end face that is seen at a slant is half an ellipse. 0 for a square cut.
    pub(super) bulge: f64,
    /// How far the shadow is shifted from the pole, along and across.
    pub(super) shadow_s: f64,
    pub(super) shadow_w: f64,
    /// Standard deviation of the blur.
    pub(super) blur: f64,
    /// Brightness across, as a share of that in the middle: its slope and its bend.
    pub(super) tilt: f64,
    pub(super) bend: f64,
}

/// How far below the pole its contact with the ground shows, in half thicknesses: somewhat less
/// than one, because light gets in under the edge of that dark line.
const CONTACT: f64 = 0.85;

/// A pixel in the pole's own coordinates.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place {
    pub(super) s: f64,
    /// Half the thickness there.
    half: f64,
    /// −1 and 1 at the sides.
    pub(super) share: f64,
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
            self.shadow_s,
            self.shadow_w,
            self.blur,
            self.tilt,
            self.bend,
        ]
    }

    pub(super) fn from_values(v: [f64; COUNT]) -> Self {
        let [middle, turn, half, taper, end, bulge, shadow_s, shadow_w, blur, tilt, bend] = v;
        Self { middle, turn, half, taper, end, bulge, shadow_s, shadow_w, blur, tilt, bend }
    }

    /// The nearest shape that can be.
    pub(super) fn possible(mut self) -> Self {
        self.half = self.half.clamp(0.8, 14.0);
        self.bulge = self.bulge.clamp(0.0, 1.0);
        self.blur = self.blur.clamp(0.28, 1.5);
        self.taper = self.taper.clamp(-0.12, 0.12);
        self.tilt = self.tilt.clamp(-0.45, 0.45);
        self.bend = self.bend.clamp(-0.45, 0.3);
        self
    }

    /// Whether it could only be fitted by what no pole is: so blurred, so pointed or so thick.
    pub(super) fn is_at_a_limit(&self) -> bool {
        self.blur > 1.45 || self.taper.abs() > 0.115 || self.half > 13.5
    }

    /// Half the thickness at the end.
    pub(super) fn half_at_end(&self) -> f64 {
        (self.half + self.taper * self.end).max(0.3)
    }

    /// The middle of the end face, along and across the window.
    pub(super) fn end_in_window(&self) -> (f64, f64) {
        let (sin, cos) = self.turn.sin_cos();
        (self.end * cos - self.middle * sin, self.end * sin + self.middle * cos)
    }

    /// A place of the window in the pole's own coordinates.
    pub(super) fn place(&self, t: f64, u: f64) -> Place {
        let (sin, cos) = self.turn.sin_cos();
        self.own(t * cos + u * sin, u * cos - t * sin - self.middle)
    }

    fn own(&self, s: f64, w: f64) -> Place {
        let half = (self.half + self.taper * s).max(0.3);
        Place { s, half, share: w / half }
    }

    /// How much of a pixel the pole covers.
    pub(super) fn pole(&self, place: Place) -> f64 {
        let Place { s, half, share } = place;
        let reach = 4.0 * self.blur;
        let beside = half * (share.abs() - 1.0);
        if beside > reach || s < self.end - self.bulge * half - reach {
            return 0.0;
        }
        let w = share * half;
        let sides = step(half - w, self.blur) - step(-half - w, self.blur);
        if s > self.end + reach {
            return sides;
        }
        let share = share.clamp(-0.97, 0.97);
        let rim = (1.0 - share * share).sqrt();
        let slant = self.bulge * share / rim;
        let inside = s - self.end + self.bulge * half * rim;
        sides * step(inside / (1.0 + slant * slant).sqrt(), self.blur)
    }

    /// How much of a pixel the shadow would cover if the pole were not before it.
    pub(super) fn shadow(&self, place: Place) -> f64 {
        self.pole(self.own(place.s - self.shadow_s, place.share * place.half - self.shadow_w))
    }

    /// How much of a pixel the dark line where the pole meets the ground would cover. `down` is
    /// the picture's downward direction in the window: the ground that the pole lies on is seen
    /// half a thickness below its centre line.
    pub(super) fn contact(&self, place: Place, down: (f64, f64)) -> f64 {
        let (sin, cos) = self.turn.sin_cos();
        let far = CONTACT * self.half_at_end();
        let (s, w) = (far * (down.0 * cos + down.1 * sin), far * (down.1 * cos - down.0 * sin));
        // That line is soft and round at its end, whatever the pole's end looks like.
        let line = Self { bulge: 1.0, ..*self };
        line.pole(self.own(place.s - s, place.share * place.half - w))
    }

    /// Light on the pole, as a share of that in its middle, less 1.
    pub(super) fn light(&self, share: f64) -> f64 {
        self.tilt * share + self.bend * (share * share - 1.0 / 3.0)
    }

    /// Where on the end face a place lies, along: −1 and 1 at the rim.
    pub(super) fn along_face(&self, place: Place) -> f64 {
        (place.s - self.end) / (self.bulge.max(0.05) * place.half)
    }

    /// How much of what is seen of the pole at a place is its end face, when that looks towards
    /// the camera.
    pub(super) fn face(&self, place: Place) -> f64 {
        if place.s <= self.end {
            return 1.0;
        }
        let (along, across) = (self.along_face(place), place.share);
        let out = along.hypot(across);
        if out < 0.05 {
            return 1.0;
        }
        // Distance to the rim to the first order.
        let slope = (along / self.bulge.max(0.05)).hypot(across);
        step((1.0 - out) * out * place.half / slope, self.blur)
    }
}
