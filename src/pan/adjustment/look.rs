//! A point seen from a pose, and how its picture moves with everything it depends on.

use nalgebra::{Matrix2, Matrix2x3, SMatrix, Vector2};

use super::bundle::{Bundle, FarPoint, KeyPose};
use super::motion_model::MotionModel;

/// A picture point with its derivatives.
pub(super) struct Look {
    /// Where it is, pixels.
    pub at: Vector2<f64>,
    /// By ln focal length and k1.
    pub by_common: Matrix2<f64>,
    /// By turn (left, radians), ln zoom and shift (nominal metres).
    pub by_pose: SMatrix<f64, 2, 7>,
    /// By the point's two steps sideways (radians) and its `nearness`; the last is zero
    /// where the model has no shifts.
    pub by_point: Matrix2x3<f64>,
}

impl Look {
    /// `None` when the point is not in front of the camera.
    pub fn of(
        bundle: &Bundle,
        model: MotionModel,
        pose: &KeyPose,
        point: &FarPoint,
    ) -> Option<Self> {
        let derived = bundle.camera(pose).project_offset(point.seen_from(pose.shift)).ok()?;
        let (first, second) = point.sideways();
        let mut by_pose = SMatrix::<f64, 2, 7>::zeros();
        by_pose.fixed_columns_mut::<3>(0).copy_from(&derived.by_turn);
        by_pose.set_column(3, &derived.by_log_focal);
        by_pose.fixed_columns_mut::<3>(4).copy_from(&(-point.nearness * derived.by_scene));
        let by_nearness =
            if model.shifts() { -(derived.by_scene * pose.shift) } else { Vector2::zeros() };
        Some(Self {
            at: derived.point.vector(),
            by_common: Matrix2::from_columns(&[derived.by_log_focal, derived.by_k1]),
            by_pose,
            by_point: Matrix2x3::from_columns(&[
                derived.by_scene * first,
                derived.by_scene * second,
                by_nearness,
            ]),
        })
    }

    /// Only where it is.
    pub fn place(bundle: &Bundle, pose: &KeyPose, point: &FarPoint) -> Option<Vector2<f64>> {
        let seen = pose.turn * point.seen_from(pose.shift);
        (seen.z > 1e-6)
            .then(|| bundle.lens(pose.log_zoom).frame_from_ideal(seen.xy() / seen.z).vector())
    }
}
