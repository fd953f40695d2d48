//! Where a fixed thing seen in one frame must be in another.

use nalgebra::{DVector, Matrix2, Matrix2xX, Rotation3, Vector2, Vector3};

use super::between::RelativeMotion;
use super::bundle::{COMMON, KeyPose};
use super::error::MotionGap;
use super::motion::CameraMotion;
use crate::quantity::FrameNumber;
use crate::scene::{FramePoint, Lens, PictureSize};

/// Step of the differences that carry the motion's covariance over, in standard deviations: small
/// enough for the curve to be straight, far above rounding.
const STEP_SDS: f64 = 0.1;

/// A picture point that was foretold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Predicted {
    /// Where, pixels.
    pub at: FramePoint,
    /// Its covariance from the camera's motion alone, px².
    pub covariance: Matrix2<f64>,
}

impl CameraMotion {
    /// Where the thing at `point` of frame `from` is in frame `to`: far away, or at `distance`
    /// nominal metres from the camera of `from`.
    ///
    /// Errors: as of [`CameraMotion::between`], or the other frame does not look there.
    pub fn predict(
        &self,
        point: FramePoint,
        from: FrameNumber,
        to: FrameNumber,
        distance: Option<f64>,
    ) -> Result<Predicted, MotionGap> {
        if from == to {
            return Ok(Predicted { at: point, covariance: Matrix2::zeros() });
        }
        let nearness = distance.map_or(0.0, |distance| 1.0 / distance);
        self.between(&[from, to])?
            .predict(self.picture, point, nearness)
            .ok_or(MotionGap::OutOfSight { frame: to })
    }
}

impl RelativeMotion {
    /// Of the second frame.
    fn predict(&self, picture: PictureSize, point: FramePoint, nearness: f64) -> Option<Predicted> {
        let size = COMMON + self.model.count();
        let at = self.seen(picture, point, nearness, &DVector::zeros(size))?;
        let mut derivatives = Matrix2xX::zeros(size);
        for column in 0..size {
            let step = STEP_SDS * self.covariance[(column, column)].max(0.0).sqrt();
            if step > 0.0 {
                let mut change = DVector::zeros(size);
                change[column] = step;
                let ahead = self.seen(picture, point, nearness, &change)?;
                let behind = self.seen(picture, point, nearness, &-change)?;
                derivatives.set_column(column, &((ahead - behind) / (2.0 * step)));
            }
        }
        let covariance = &derivatives * &self.covariance * derivatives.transpose();
        Some(Predicted {
            at: FramePoint::new(at.x, at.y),
            covariance: Matrix2::new(
                covariance[(0, 0)],
                covariance[(0, 1)],
                covariance[(1, 0)],
                covariance[(1, 1)],
            ),
        })
    }

    /// Where it is seen with all unknowns off by `change`.
    fn seen(
        &self,
        picture: PictureSize,
        point: FramePoint,
        nearness: f64,
        change: &DVector<f64>,
    ) -> Option<Vector2<f64>> {
        let (turn, log_zoom, shift): (&Rotation3<f64>, f64, Vector3<f64>) =
            (self.turns.get(1)?, *self.log_zooms.get(1)?, *self.shifts.get(1)?);
        let pose =
            KeyPose { turn: *turn, log_zoom, shift }.stepped(self.model, |i| change[COMMON + i]);
        let log_focal = self.log_focal + change[0];
        let lens =
            Lens { focal_px: log_focal.exp(), centre: picture.centre(), k1: self.k1 + change[1] };
        let toward = super::chain::ray(&lens, point.vector());
        let seen = pose.turn * (toward - nearness * pose.shift);
        let other = Lens { focal_px: (log_focal + pose.log_zoom).exp(), ..lens };
        (seen.z > 1e-6).then(|| other.frame_from_ideal(seen.xy() / seen.z).vector())
    }
}
