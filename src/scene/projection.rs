//! What draws on a picture needs of whatever took it.

use std::fmt::Debug;

use nalgebra::Matrix2x3;

use super::camera::{Camera, NoPicture};
use super::point::{FramePoint, ScenePoint};

/// A way from the scene to a picture.
pub trait Projection: Debug {
    /// The picture of a scene point.
    fn project(&self, point: ScenePoint) -> Result<FramePoint, NoPicture>;

    /// The same with its derivative by the point, pixels per metre.
    fn project_with_motion(
        &self,
        point: ScenePoint,
    ) -> Result<(FramePoint, Matrix2x3<f64>), NoPicture>;
}

impl Projection for Camera {
    fn project(&self, point: ScenePoint) -> Result<FramePoint, NoPicture> {
        Self::project(self, point)
    }

    fn project_with_motion(
        &self,
        point: ScenePoint,
    ) -> Result<(FramePoint, Matrix2x3<f64>), NoPicture> {
        self.project_with_derivative(point).map(|derived| (derived.point, derived.by_scene))
    }
}
