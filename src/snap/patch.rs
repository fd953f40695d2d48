//! The pixels about a click, in coordinates along and across the pole.

use image::GrayImage;
use nalgebra::Vector2;

use crate::scene::FramePoint;

/// Coordinates along (t, into the pole) and across (u, to the right of that as the picture is
/// seen, y down) a pole.
#[derive(Clone, Copy, Debug)]
pub(super) struct Axes {
    pub(super) origin: Vector2<f64>,
    pub(super) along: Vector2<f64>,
}

impl Axes {
    pub(super) fn new(origin: FramePoint, direction: f64) -> Self {
        Self { origin: origin.vector(), along: Vector2::new(direction.cos(), direction.sin()) }
    }

    pub(super) fn across(&self) -> Vector2<f64> {
        Vector2::new(-self.along.y, self.along.x)
    }

    pub(super) fn direction(&self) -> f64 {
        self.along.y.atan2(self.along.x)
    }

    pub(super) fn picture(&self, t: f64, u: f64) -> FramePoint {
        let at = self.origin + self.along * t + self.across() * u;
        FramePoint::new(at.x, at.y)
    }

    fn local(&self, x: f64, y: f64) -> (f64, f64) {
        let d = Vector2::new(x, y) - self.origin;
        (d.dot(&self.along), d.dot(&self.across()))
    }
}

/// What part of the axes' plane is looked at.
#[derive(Clone, Copy, Debug)]
pub(super) struct Window {
    pub(super) t: (f64, f64),
    pub(super) u: (f64, f64),
}

/// One pixel.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pixel {
    pub(super) t: f64,
    pub(super) u: f64,
    pub(super) level: f64,
    /// Column and row, to know neighbours by.
    pub(super) at: (i32, i32),
}

/// The pixels of a window.
#[derive(Clone, Debug)]
pub(super) struct Patch {
    pub(super) axes: Axes,
    pub(super) window: Window,
    pub(super) pixels: Vec<Pixel>,
    /// The level that the pixels' levels are counted from.
    pub(super) base: f64,
    /// Share of the window that lies on the picture.
    pub(super) covered: f64,
}

impl Patch {
    /// Levels are counted from the median of the patch, so that nothing depends on how bright
    /// the picture is.
    pub(super) fn cut(luma: &GrayImage, axes: Axes, window: Window) -> Self {
        let corners = [
            (window.t.0, window.u.0),
            (window.t.1, window.u.0),
            (window.t.0, window.u.1),
            (window.t.1, window.u.1),
        ]
        .map(|(t, u)| axes.picture(t, u));
        let (mut low, mut high) = ((f64::MAX, f64::MAX), (f64::MIN, f64::MIN));
        for corner in corners {
            low = (low.0.min(corner.x), low.1.min(corner.y));
            high = (high.0.max(corner.x), high.1.max(corner.y));
        }
        let mut pixels = Vec::new();
        let mut wanted = 0_u32;
        for row in low.1.floor() as i32..=high.1.ceil() as i32 {
            for column in low.0.floor() as i32..=high.0.ceil() as i32 {
                let (t, u) = axes.local(f64::from(column) + 0.5, f64::from(row) + 0.5);
                let inside = (window.t.0..=window.t.1).contains(&t)
                    && (window.u.0..=window.u.1).contains(&u);
                if !inside {
                    continue;
                }
                wanted += 1;
                let (Ok(x), Ok(y)) = (u32::try_from(column), u32::try_from(row)) else { continue };
                if let Some(pixel) = luma.get_pixel_checked(x, y) {
                    let level = f64::from(pixel.0[0]);
                    pixels.push(Pixel { t, u, level, at: (column, row) });
                }
            }
        }
        let middle = median(pixels.iter().map(|pixel| pixel.level).collect());
        for pixel in &mut pixels {
            pixel.level -= middle;
        }
        let covered = pixels.len() as f64 / f64::from(wanted.max(1));
        Self { axes, window, pixels, base: middle, covered }
    }
}

/// Middle value; 0 of nothing.
pub(super) fn median(mut values: Vec<f64>) -> f64 {
    let middle = values.len() / 2;
    if values.is_empty() {
        return 0.0;
    }
    *values.select_nth_unstable_by(middle, f64::total_cmp).1
}
