//! The bounds of every number in the file. They are wide: they catch a slip of the keyboard
//! (centimetres for metres, a lost point), not an unusual arena.

use super::breach::Rule;

/// Between which values a number must lie, both included.
#[derive(Clone, Copy)]
pub(super) struct Bounds {
    pub what: &'static str,
    pub low: f64,
    pub high: f64,
    pub unit: &'static str,
}

impl Bounds {
    const fn new(what: &'static str, low: f64, high: f64, unit: &'static str) -> Self {
        Self { what, low, high, unit }
    }

    pub(super) fn hold(self, value: f64) -> bool {
        // NaN is in no range.
        (self.low..=self.high).contains(&value)
    }

    pub(super) fn broken_by(self, found: f64) -> Rule {
        let Self { what, low, high, unit } = self;
        Rule::OutOfRange { what, found, low, high, unit }
    }
}

pub(super) const POLE_COUNT: Bounds = Bounds::new("number of poles", 1.0, 100.0, "");
pub(super) const SPACING: Bounds = Bounds::new("spacing", 0.3, 50.0, "m");
pub(super) const POLE_LENGTH: Bounds = Bounds::new("length of a pole", 0.5, 10.0, "m");
pub(super) const DIAMETER: Bounds = Bounds::new("diameter", 0.01, 0.5, "m");
pub(super) const DISTANCE: Bounds = Bounds::new("distance", 0.3, 200.0, "m");
pub(super) const POINT_HEIGHT: Bounds = Bounds::new("height of the points", 0.0, 5.0, "m");
pub(super) const FENCE_WIDTH: Bounds = Bounds::new("width", 0.5, 20.0, "m");
pub(super) const VERTICAL_HEIGHT: Bounds = Bounds::new("height", 0.2, 20.0, "m");
pub(super) const LEAN_SD: Bounds = Bounds::new("lean of the top", 0.0, 1.0, "m");
pub(super) const RAIL_HEIGHT: Bounds = Bounds::new("height of a rail", 0.02, 3.0, "m");
pub(super) const FENCE_HEIGHT: Bounds = Bounds::new("height", 0.0, 3.0, "m");
pub(super) const SPREAD: Bounds = Bounds::new("spread", 0.0, 10.0, "m");
pub(super) const SLOPE: Bounds = Bounds::new("slope", -50.0, 50.0, "%");
pub(super) const SWAY: Bounds = Bounds::new("sway of the camera", 0.0, 5.0, "m");
pub(super) const CAMERA_HEIGHT: Bounds = Bounds::new("height of the camera", 0.05, 50.0, "m");
pub(super) const ROLL: Bounds = Bounds::new("lean of the horizon", -180.0, 180.0, "°");
pub(super) const FOCAL: Bounds = Bounds::new("focal length", 50.0, 200_000.0, "px");
pub(super) const DISTORTION: Bounds = Bounds::new("distortion k1", -2.0, 2.0, "");
pub(super) const CAPTURE: Bounds =
    Bounds::new("captured time per second of playing", 0.001, 100.0, "s");
pub(super) const PICTURE_SIDE: Bounds = Bounds::new("side of the picture", 16.0, 32_768.0, "px");
pub(super) const MARK_SD: Bounds = Bounds::new("placing error", 0.01, 200.0, "px");
pub(super) const FRAME_GAP: Bounds = Bounds::new("gap to the frame before", 1e-6, 60.0, "s");
pub(super) const FRAME_TIME: Bounds = Bounds::new("time", -86_400.0, 864_000.0, "s");
