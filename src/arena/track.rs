//! The path over the ground, by its length: zero at the ground line, negative before it.

use serde::{Deserialize, Serialize};

use crate::scene::GroundPoint;

/// The way to the fence and over it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Track {
    /// Straight or turning.
    pub shape: TrackShape,
    /// Where it crosses the ground line: to the left of the middle, metres.
    pub offset_m: f64,
    /// How it crosses it: heading to the left of square, degrees.
    pub angle_deg: f64,
}

/// Shapes of an approach. A positive radius turns to the left, a negative one to the right.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum TrackShape {
    /// Straight all the way.
    Straight,
    /// One steady bend up to the fence.
    Bending {
        /// Metres.
        radius_m: f64,
    },
    /// A turn, then straight.
    OffATurn {
        /// Metres.
        radius_m: f64,
        /// Length of the straight before the ground line, metres.
        straight_m: f64,
    },
}

impl Track {
    /// Straight, through the middle, square to the fence.
    pub const STRAIGHT: Self = Self { shape: TrackShape::Straight, offset_m: 0.0, angle_deg: 0.0 };

    /// Bend before the straight (1/m, positive to the left), and where the straight begins.
    fn bend(&self) -> (f64, f64) {
        match self.shape {
            TrackShape::Straight => (0.0, 0.0),
            TrackShape::Bending { radius_m } => (1.0 / radius_m, 0.0),
            TrackShape::OffATurn { radius_m, straight_m } => (1.0 / radius_m, -straight_m),
        }
    }

    /// Length along the track at which the turn is left; `None` on a straight track.
    pub(super) fn leaves_turn_at(&self) -> Option<f64> {
        matches!(self.shape, TrackShape::OffATurn { .. }).then(|| self.bend().1)
    }

    /// Place and heading (radians, to the left of x) at `along` metres from the ground line.
    pub(super) fn at(&self, along: f64) -> (GroundPoint, f64) {
        let heading = self.angle_deg.to_radians();
        let (bend, begins) = self.bend();
        let straight = along.max(begins);
        let (sin, cos) = heading.sin_cos();
        let end = GroundPoint::new(straight * cos, self.offset_m + straight * sin);
        let turned = along - straight;
        if bend == 0.0 || turned == 0.0 {
            return (GroundPoint::new(end.x + turned * cos, end.y + turned * sin), heading);
        }
        let there = heading + bend * turned;
        let (sin_there, cos_there) = there.sin_cos();
        let x = end.x + (sin_there - sin) / bend;
        let y = end.y - (cos_there - cos) / bend;
        (GroundPoint::new(x, y), there)
    }

    /// The point `left` metres to the left of the track at `along`.
    pub(super) fn beside(&self, along: f64, left: f64) -> GroundPoint {
        let (point, heading) = self.at(along);
        let (sin, cos) = heading.sin_cos();
        GroundPoint::new(point.x - left * sin, point.y + left * cos)
    }

    /// Length along the track at which it crosses `x` near the fence, where it is straight.
    pub(super) fn along_at_x(&self, x: f64) -> f64 {
        // Newton on x(along); the heading stays well under a right angle near the fence.
        (0..20).fold(x, |along, _| {
            let (point, heading) = self.at(along);
            along - (point.x - x) / heading.cos().max(0.2)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn length_along_a_turn_is_length_on_the_ground() {
        let shape = TrackShape::OffATurn { radius_m: -9.0, straight_m: 12.0 };
        let track = Track { shape, offset_m: 0.2, angle_deg: 5.0 };
        let mut walked = 0.0;
        let mut last = track.at(-30.0).0;
        for i in 1..=30_000 {
            let here = track.at(-30.0 + f64::from(i) * 1e-3).0;
            walked += last.distance(here);
            last = here;
        }
        assert!((walked - 30.0).abs() < 1e-5, "{walked}");
        assert!(last.distance(GroundPoint::new(0.0, 0.2)) < 1e-9);
        assert!((track.at(track.along_at_x(-2.0)).0.x + 2.0).abs() < 1e-9);
    }
}
