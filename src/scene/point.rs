//! Points, one type per space, so that a pixel cannot pass for a metre.

use nalgebra::{Vector2, Vector3};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A point of the upright picture, in pixels; (0, 0) is the outer corner of the first pixel.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FramePoint {
    /// Pixels to the right.
    pub x: f64,
    /// Pixels down.
    pub y: f64,
}

/// A point on the ground plane, in metres. No marks file holds one; where it is handed out its
/// keys carry the unit, as those of every other number do.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct GroundPoint {
    /// Metres along the ground frame's first axis.
    #[serde(rename = "x_m")]
    pub x: f64,
    /// Metres along its second axis, to the left of the first.
    #[serde(rename = "y_m")]
    pub y: f64,
}

/// A point in space over the ground plane, in metres.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ScenePoint {
    /// Metres along the ground frame's first axis.
    #[serde(rename = "x_m")]
    pub x: f64,
    /// Metres along its second axis.
    #[serde(rename = "y_m")]
    pub y: f64,
    /// Metres above the ground plane.
    #[serde(rename = "z_m")]
    pub z: f64,
}

/// Size of the upright, square-pixel picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct PictureSize {
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
}

impl FramePoint {
    /// The point at pixel coordinates (`x`, `y`).
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// Distance to `other` in pixels.
    pub fn distance(self, other: Self) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }

    /// As a vector, for linear algebra.
    pub fn vector(self) -> Vector2<f64> {
        Vector2::new(self.x, self.y)
    }
}

impl GroundPoint {
    /// The point at (`x`, `y`) metres.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// Distance to `other` in metres.
    pub fn distance(self, other: Self) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }

    /// The point `height` metres above this one.
    pub const fn at_height(self, height: f64) -> ScenePoint {
        ScenePoint { x: self.x, y: self.y, z: height }
    }
}

impl ScenePoint {
    /// The point at (`x`, `y`, `z`) metres.
    pub const fn new(x: f64, y: f64, z: f64) -> Self {
        Self { x, y, z }
    }

    /// The ground point straight below.
    pub const fn below(self) -> GroundPoint {
        GroundPoint { x: self.x, y: self.y }
    }

    /// As a vector, for linear algebra.
    pub fn vector(self) -> Vector3<f64> {
        Vector3::new(self.x, self.y, self.z)
    }
}

impl From<Vector3<f64>> for ScenePoint {
    fn from(v: Vector3<f64>) -> Self {
        Self::new(v.x, v.y, v.z)
    }
}

impl PictureSize {
    /// The middle of the picture: the principal point unless somebody knows better.
    pub fn centre(self) -> FramePoint {
        FramePoint::new(f64::from(self.width) / 2.0, f64::from(self.height) / 2.0)
    }

    /// Whether `point` lies on the picture.
    pub fn holds(self, point: FramePoint) -> bool {
        (0.0..=f64::from(self.width)).contains(&point.x)
            && (0.0..=f64::from(self.height)).contains(&point.y)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn distances_are_those_of_the_right_triangle() {
        let (a, b) = (FramePoint::new(1.0, 7.0), FramePoint::new(4.0, 3.0));
        assert_eq!(a.distance(b), 5.0);
        assert_eq!(GroundPoint::new(1.0, 7.0).distance(GroundPoint::new(-4.0, -5.0)), 13.0);
        assert_eq!(a.vector(), Vector2::new(1.0, 7.0));
    }

    #[test]
    fn a_point_stands_over_its_ground() {
        let over = GroundPoint::new(2.0, 3.0).at_height(1.5);
        assert_eq!(over, ScenePoint::new(2.0, 3.0, 1.5));
        assert_eq!(over.below(), GroundPoint::new(2.0, 3.0));
        assert_eq!(ScenePoint::from(over.vector()), over);
    }

    #[test]
    fn a_picture_holds_its_edges_and_nothing_beyond() {
        let size = PictureSize { width: 40, height: 30 };
        assert_eq!(size.centre(), FramePoint::new(20.0, 15.0));
        for (x, y) in [(0.0, 0.0), (40.0, 30.0), (3.0, 29.0)] {
            assert!(size.holds(FramePoint::new(x, y)));
        }
        for (x, y) in [(-0.1, 5.0), (40.1, 5.0), (5.0, -0.1), (5.0, 30.1)] {
            assert!(!size.holds(FramePoint::new(x, y)));
        }
    }
}
