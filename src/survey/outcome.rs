//! What a survey found: cameras, places, residuals, suspects, doubts.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::doubt::SurveyDoubt;
use super::posterior::Posterior;
use crate::marks::MarkAddress;
use crate::quantity::FrameNumber;
use crate::scene::{Camera, GroundPoint};

/// The adjusted scene. Ground coordinates are those of the first reference: x the way the horse
/// goes (from pole to pole), y to its left, origin at the first pole (or point).
#[derive(Clone, Debug)]
pub struct Survey {
    /// The camera at every marked frame (the same at all for a fixed camera).
    pub cameras: BTreeMap<FrameNumber, Camera>,
    /// Adjusted ground place of everything marked (for raised points, the place below).
    pub places: BTreeMap<MarkAddress, GroundPoint>,
    /// The poles, with their ends where the survey puts them, marked or not.
    pub poles: Vec<PlacedPole>,
    /// Track of each approach, by its id.
    pub tracks: BTreeMap<String, TrackCurve>,
    /// Fixed frame (origin, heading in radians) that the draws of each track refer to.
    pub track_frames: BTreeMap<String, (GroundPoint, f64)>,
    /// Every mark's residual.
    pub residuals: Vec<MarkResidual>,
    /// Marks that do not fit and were left out.
    pub suspects: Vec<Suspect>,
    /// Reasons to trust it less.
    pub doubts: Vec<SurveyDoubt>,
    /// The joint distribution that numbers are drawn from.
    pub posterior: Posterior,
}

/// A pole where the survey puts it.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedPole {
    /// Its reference's id.
    pub reference: String,
    /// 1 is the one the horse meets first.
    pub pole: u32,
    /// Left end.
    pub left: GroundPoint,
    /// Right end.
    pub right: GroundPoint,
    /// Diameter, metres.
    pub diameter_m: f64,
}

/// The path on the ground: a point, a heading and a bend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrackCurve {
    /// A point of the track.
    pub origin: GroundPoint,
    /// Heading at the origin, radians from the ground frame's x axis, to the left.
    pub heading: f64,
    /// Bend, 1/metre; positive to the left.
    pub bend: f64,
    /// How far along from the origin (metres, negative behind it) the first and last hoof lie.
    pub from_to: (f64, f64),
}

/// How far one mark lies from where the survey expects it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MarkResidual {
    /// Whose mark.
    pub mark: MarkAddress,
    /// On which frame.
    pub frame: FrameNumber,
    /// Marked minus expected, pixels.
    pub dx_px: f64,
    /// Marked minus expected, pixels.
    pub dy_px: f64,
    /// Length of the residual in units of its own standard deviation (which is smaller than the
    /// mark's where the mark steers the survey); `None` for a mark that nothing checks.
    pub in_sds: Option<f64>,
}

/// A mark that does not fit the others.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Suspect {
    /// Whose mark.
    pub mark: MarkAddress,
    /// On which frame.
    pub frame: FrameNumber,
    /// How far it lies from where the others expect it, pixels.
    pub off_px: f64,
    /// The same in standard deviations of that expectation.
    pub off_sds: f64,
}

/// An ellipse of one standard deviation on the ground.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct GroundEllipse {
    /// Half the long axis, metres.
    pub major_sd_m: f64,
    /// Half the short axis, metres.
    pub minor_sd_m: f64,
    /// Turn of the long axis from the x axis, radians, to the left.
    pub turn_rad: f64,
}

/// The same spread along the axes of the ground frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlaceSpread {
    /// Standard deviation along x, metres.
    pub x_sd_m: f64,
    /// Standard deviation along y, metres.
    pub y_sd_m: f64,
    /// How the errors along x and y go together, −1 to 1; `None` where one of them is nil.
    pub correlation: Option<f64>,
}

impl GroundEllipse {
    /// Along the axes instead of along its own.
    pub fn spread(&self) -> PlaceSpread {
        let (sin, cos) = self.turn_rad.sin_cos();
        let (major, minor) = (self.major_sd_m, self.minor_sd_m);
        let x_sd_m = (major * cos).hypot(minor * sin);
        let y_sd_m = (major * sin).hypot(minor * cos);
        let covariance = (major * major - minor * minor) * sin * cos;
        let correlation = covariance / (x_sd_m * y_sd_m);
        let correlation = correlation.is_finite().then(|| correlation.clamp(-1.0, 1.0));
        PlaceSpread { x_sd_m, y_sd_m, correlation }
    }
}

impl TrackCurve {
    /// The point `along` metres from the origin (second order in the bend).
    pub fn at(&self, along: f64) -> GroundPoint {
        let (sin, cos) = self.heading.sin_cos();
        let side = self.bend * along * along / 2.0;
        GroundPoint::new(
            self.origin.x + along * cos - side * sin,
            self.origin.y + along * sin + side * cos,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_ellipse_is_told_along_the_axes_of_the_ground() {
        // Half axes 3 and 1, turned by 30°: var x = 9 · 3/4 + 1/4, var y = 9 / 4 + 3/4,
        // covariance (9 − 1) · sin 30° · cos 30°.
        let turn_rad = 30f64.to_radians();
        let spread = GroundEllipse { major_sd_m: 3.0, minor_sd_m: 1.0, turn_rad }.spread();
        assert!((spread.x_sd_m.powi(2) - 7.0).abs() < 1e-12);
        assert!((spread.y_sd_m.powi(2) - 3.0).abs() < 1e-12);
        let correlation = 8.0 * 0.5 * 0.75f64.sqrt() / 21f64.sqrt();
        assert!((spread.correlation.unwrap() - correlation).abs() < 1e-12);
        // The mirror image has the opposite sign, a circle none, a line is all of it.
        let with = |minor_sd_m: f64, turn_rad: f64| {
            GroundEllipse { major_sd_m: 3.0, minor_sd_m, turn_rad }.spread().correlation
        };
        assert!((with(1.0, -turn_rad).unwrap() + correlation).abs() < 1e-12);
        assert!(with(3.0, 0.7).unwrap().abs() < 1e-12);
        assert!((with(0.0, 0.7).unwrap() - 1.0).abs() < 1e-12);
        assert_eq!(with(0.0, 0.0), None);
    }

    #[test]
    fn a_curve_leaves_its_heading_by_half_its_bend_times_the_square() {
        // From (1, 2) at 30° with a bend of 0.02 per metre: after 5 m 0.25 m to the left.
        let curve = TrackCurve {
            origin: GroundPoint::new(1.0, 2.0),
            heading: 30f64.to_radians(),
            bend: 0.02,
            from_to: (0.0, 5.0),
        };
        let (sin, cos) = (0.5, 0.75f64.sqrt());
        for along in [5.0, -5.0] {
            let expected =
                GroundPoint::new(1.0 + along * cos - 0.25 * sin, 2.0 + along * sin + 0.25 * cos);
            assert!(curve.at(along).distance(expected) < 1e-12);
        }
        assert_eq!(curve.at(0.0), curve.origin);
    }
}
