//! The pinhole camera with one radial distortion term, and its derivatives.
//!
//! Model (the usual one of photogrammetry and of OpenCV's `projectPoints`, against which a test
//! checks it): a scene point is brought into the camera frame, divided by its depth, bent by
//! `1 + k1 r²` and scaled by the focal length about the principal point.

use nalgebra::{Matrix2, Matrix2x3, Rotation3, Vector2, Vector3};
use serde::{Deserialize, Serialize};

use super::point::{FramePoint, GroundPoint, PictureSize, ScenePoint};

/// What bends light: focal length, principal point, one radial term.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Lens {
    /// Focal length in pixels of the upright picture.
    pub focal_px: f64,
    /// Where the optical axis meets the picture.
    pub centre: FramePoint,
    /// First radial distortion coefficient, of normalised coordinates (no unit).
    pub k1: f64,
}

/// Where the camera stands and how it is turned.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Pose {
    /// Turns ground-frame directions into camera-frame directions.
    pub camera_from_ground: Rotation3<f64>,
    /// The camera's place in the ground frame, metres.
    pub position: ScenePoint,
}

/// A camera at one moment.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Camera {
    /// Its lens.
    pub lens: Lens,
    /// Its place and turn.
    pub pose: Pose,
}

/// Why a point has no picture.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum NoPicture {
    /// It is not in front of the camera.
    #[error(
        "cannot project the point: it lies {depth:.2} m in front of the camera (more than 0 needed)"
    )]
    BehindCamera {
        /// Depth along the optical axis, metres.
        depth: f64,
    },
    /// It lies so far aside that the lens's one term would fold it back into the picture.
    #[error(
        "cannot project the point: {degrees:.0}° off the axis is beyond what the lens tells of"
    )]
    BeyondLens {
        /// Angle between the point and the optical axis, degrees.
        degrees: f64,
    },
}

/// A projected point and how it moves with everything it depends on.
#[derive(Clone, Copy, Debug)]
pub struct ProjectionWithDerivative {
    /// The picture point.
    pub point: FramePoint,
    /// Pixels per metre of the scene point, in the ground frame. The camera's position has the
    /// opposite sign.
    pub by_scene: Matrix2x3<f64>,
    /// Pixels per radian of a small turn `d` with `camera_from_ground ← exp(d) camera_from_ground`.
    pub by_turn: Matrix2x3<f64>,
    /// Pixels per unit of ln(focal length).
    pub by_log_focal: Vector2<f64>,
    /// Pixels per unit of `k1`.
    pub by_k1: Vector2<f64>,
}

impl Lens {
    /// A lens without distortion whose picture is `size` and whose horizontal field is
    /// `field_radians`.
    pub fn with_field(size: PictureSize, field_radians: f64) -> Self {
        let focal_px = f64::from(size.width) / 2.0 / (field_radians / 2.0).tan();
        Self { focal_px, centre: size.centre(), k1: 0.0 }
    }

    /// From normalised coordinates (x/z, y/z) to the picture.
    pub fn frame_from_ideal(&self, ideal: Vector2<f64>) -> FramePoint {
        let bent = ideal * (1.0 + self.k1 * ideal.norm_squared());
        FramePoint::new(
            self.centre.x + self.focal_px * bent.x,
            self.centre.y + self.focal_px * bent.y,
        )
    }

    /// Whether a direction lies beyond where a barrel lens's term turns the picture back inwards.
    pub fn folds(&self, ideal: Vector2<f64>) -> bool {
        1.0 + 3.0 * self.k1 * ideal.norm_squared() <= 0.0
    }

    /// From the picture to normalised coordinates: inverts [`Lens::frame_from_ideal`] by Newton
    /// steps on the radius.
    pub fn ideal_from_frame(&self, point: FramePoint) -> Vector2<f64> {
        let bent = Vector2::new(point.x - self.centre.x, point.y - self.centre.y) / self.focal_px;
        let bent_radius = bent.norm();
        if bent_radius == 0.0 || self.k1 == 0.0 {
            return bent;
        }
        let mut radius = bent_radius;
        for _ in 0..50 {
            let slope = 1.0 + 3.0 * self.k1 * radius * radius;
            // Beyond the fold of a strong barrel lens no ray exists; stay at the fold.
            if slope < 0.05 {
                break;
            }
            let step = (radius * (1.0 + self.k1 * radius * radius) - bent_radius) / slope;
            radius -= step;
            if step.abs() < 1e-15 * radius.abs().max(1.0) {
                break;
            }
        }
        bent * (radius / bent_radius)
    }
}

impl Pose {
    /// A camera at `position` looking at `target` with the horizon level.
    pub fn looking_at(position: ScenePoint, target: ScenePoint) -> Self {
        let forward = (target.vector() - position.vector()).normalize();
        let right = forward.cross(&Vector3::z()).normalize();
        let down = forward.cross(&right);
        let rows = nalgebra::Matrix3::from_rows(&[
            right.transpose(),
            down.transpose(),
            forward.transpose(),
        ]);
        Self { camera_from_ground: Rotation3::from_matrix_unchecked(rows), position }
    }

    /// The scene point in the camera frame, metres.
    pub fn camera_from_scene(&self, point: ScenePoint) -> Vector3<f64> {
        self.camera_from_ground * (point.vector() - self.position.vector())
    }
}

impl Camera {
    /// The picture of a scene point.
    pub fn project(&self, point: ScenePoint) -> Result<FramePoint, NoPicture> {
        let in_camera = self.pose.camera_from_scene(point);
        if in_camera.z <= 1e-6 {
            return Err(NoPicture::BehindCamera { depth: in_camera.z });
        }
        let ideal = in_camera.xy() / in_camera.z;
        if self.lens.folds(ideal) {
            let degrees = ideal.norm().atan().to_degrees();
            return Err(NoPicture::BeyondLens { degrees });
        }
        Ok(self.lens.frame_from_ideal(ideal))
    }

    /// The picture of a scene point with all first derivatives.
    pub fn project_with_derivative(
        &self,
        point: ScenePoint,
    ) -> Result<ProjectionWithDerivative, NoPicture> {
        self.project_offset(point.vector() - self.pose.position.vector())
    }

    /// The picture of whatever lies in the direction `offset` from the camera (ground frame, any
    /// length), with all first derivatives; `by_scene` is then pixels per unit of `offset`. A
    /// point at infinity has a direction and no place: that is what this is for. A search passes
    /// through bad lenses, so a fold of the lens is not refused here.
    pub fn project_offset(
        &self,
        offset: Vector3<f64>,
    ) -> Result<ProjectionWithDerivative, NoPicture> {
        let c = self.pose.camera_from_ground * offset;
        if c.z <= 1e-6 {
            return Err(NoPicture::BehindCamera { depth: c.z });
        }
        let ideal = c.xy() / c.z;
        let r2 = ideal.norm_squared();
        let bend = 1.0 + self.lens.k1 * r2;
        let bent = ideal * bend;
        let bent_by_ideal =
            Matrix2::identity() * bend + 2.0 * self.lens.k1 * ideal * ideal.transpose();
        let ideal_by_camera = Matrix2x3::new(
            1.0 / c.z,
            0.0,
            -ideal.x / c.z, //
            0.0,
            1.0 / c.z,
            -ideal.y / c.z,
        );
        let by_camera = self.lens.focal_px * bent_by_ideal * ideal_by_camera;
        Ok(ProjectionWithDerivative {
            point: self.lens.frame_from_ideal(ideal),
            by_scene: by_camera * self.pose.camera_from_ground.matrix(),
            by_turn: -by_camera * super::rotation::skew(c),
            by_log_focal: self.lens.focal_px * bent,
            by_k1: self.lens.focal_px * r2 * ideal,
        })
    }

    /// Direction of the ray through a picture point, in the ground frame (unit length).
    pub fn ray(&self, point: FramePoint) -> Vector3<f64> {
        let ideal = self.lens.ideal_from_frame(point);
        (self.pose.camera_from_ground.inverse() * Vector3::new(ideal.x, ideal.y, 1.0)).normalize()
    }

    /// Where the ray through a picture point meets the plane at `height` over the ground; `None`
    /// when it does not (at or above the horizon).
    pub fn ground_at(&self, point: FramePoint, height: f64) -> Option<GroundPoint> {
        let ray = self.ray(point);
        let drop = height - self.pose.position.z;
        let along = drop / ray.z;
        (along > 0.0 && ray.z.abs() > 1e-6).then(|| {
            GroundPoint::new(
                self.pose.position.x + along * ray.x,
                self.pose.position.y + along * ray.y,
            )
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn camera() -> Camera {
        let size = PictureSize { width: 1920, height: 1080 };
        let mut lens = Lens::with_field(size, 1.05);
        lens.k1 = -0.07;
        let pose =
            Pose::looking_at(ScenePoint::new(1.0, -19.0, 1.6), ScenePoint::new(3.0, 0.5, 0.3));
        Camera { lens, pose }
    }

    #[test]
    fn picture_and_ground_are_inverse() {
        let camera = camera();
        for (x, y) in [(-4.0, 1.0), (0.3, 0.2), (8.0, -2.5)] {
            let point = camera.project(ScenePoint::new(x, y, 0.05)).unwrap();
            let back = camera.ground_at(point, 0.05).unwrap();
            assert!(back.distance(GroundPoint::new(x, y)) < 1e-9, "{back:?}");
        }
    }

    #[test]
    fn bending_is_undone_up_to_the_fold_of_the_lens() {
        // A barrel lens whose fold lies at 1/√0.21 = 2.18, and a pincushion that has none.
        for (k1, farthest) in [(-0.07, 2.1), (0.3, 4.0)] {
            let lens = Lens { k1, ..camera().lens };
            for step in 0..=20 {
                let radius = farthest * f64::from(step) / 20.0;
                let ideal = Vector2::new(0.6 * radius, -0.8 * radius);
                let back = lens.ideal_from_frame(lens.frame_from_ideal(ideal));
                assert!((back - ideal).norm() < 1e-9, "{k1}, {radius}: {back}");
            }
        }
    }

    #[test]
    fn a_place_on_the_picture_that_no_ray_meets_is_looked_at_by_the_fold() {
        // The fold at 2.18 reaches a bent radius of 2/3 · 2.18 = 1.455: 1.5 lies beyond.
        let lens = camera().lens;
        let beyond = FramePoint::new(lens.centre.x - 1.5 * lens.focal_px, lens.centre.y);
        let ideal = lens.ideal_from_frame(beyond);
        assert!((-ideal.x - 2.18).abs() < 0.2 && ideal.y.abs() < 1e-12, "{ideal}");
    }

    #[test]
    fn the_ground_is_met_only_below_the_horizon_and_below_the_camera() {
        // Level, 1.6 m up: the horizon is the middle row.
        let lens = Lens { k1: 0.0, ..camera().lens };
        let eye = ScenePoint::new(0.0, 0.0, 1.6);
        let camera = Camera { lens, pose: Pose::looking_at(eye, ScenePoint::new(0.0, 9.0, 1.6)) };
        let row = |down: f64| FramePoint::new(lens.centre.x, lens.centre.y + down * lens.focal_px);
        // A fall of 0.2 a metre meets the ground after 8 m, and 0.6 m over it after 5 m.
        let met = |height: f64| camera.ground_at(row(0.2), height).unwrap();
        assert!(met(0.0).distance(GroundPoint::new(0.0, 8.0)) < 1e-9);
        assert!(met(0.6).distance(GroundPoint::new(0.0, 5.0)) < 1e-9);
        assert_eq!(camera.ground_at(row(0.0), 0.0), None);
        assert_eq!(camera.ground_at(row(-0.2), 0.0), None);
        // A plane at the eye's height or over it lies nowhere below.
        assert_eq!(camera.ground_at(row(0.2), 1.6), None);
        assert_eq!(camera.ground_at(row(0.2), 2.0), None);
        assert!(camera.ground_at(row(-0.2), 2.0).is_some());
    }

    #[test]
    fn looking_at_keeps_the_horizon_level_and_the_target_in_the_middle() {
        let camera = camera();
        let middle = camera.project(ScenePoint::new(3.0, 0.5, 0.3)).unwrap();
        assert!(middle.distance(FramePoint::new(960.0, 540.0)) < 1e-9);
        let higher = camera.project(ScenePoint::new(3.0, 0.5, 1.3)).unwrap();
        assert!((higher.x - 960.0).abs() < 1e-9 && higher.y < 540.0);
    }

    #[test]
    fn derivatives_agree_with_central_differences() {
        let base = camera();
        let at = ScenePoint::new(6.0, 1.5, 0.4);
        let derived = base.project_with_derivative(at).unwrap();
        let step = 1e-6;
        let difference = |change: &dyn Fn(&mut Camera, &mut ScenePoint, f64)| {
            let project = |h: f64| {
                let (mut camera, mut point) = (base, at);
                change(&mut camera, &mut point, h);
                camera.project(point).unwrap().vector()
            };
            (project(step) - project(-step)) / (2.0 * step)
        };
        let near = |a: Vector2<f64>, b: Vector2<f64>| {
            assert!((a - b).norm() < 1e-5 * b.norm().max(1.0), "{a} against {b}");
        };
        near(derived.by_scene.column(0).into(), difference(&|_, p, h| p.x += h));
        near(derived.by_scene.column(1).into(), difference(&|_, p, h| p.y += h));
        near(derived.by_scene.column(2).into(), difference(&|_, p, h| p.z += h));
        for axis in 0..3 {
            let turned = difference(&|camera, _, h| {
                let mut turn = Vector3::zeros();
                turn[axis] = h;
                camera.pose.camera_from_ground =
                    Rotation3::new(turn) * camera.pose.camera_from_ground;
            });
            near(derived.by_turn.column(axis).into(), turned);
        }
        near(derived.by_log_focal, difference(&|c, _, h| c.lens.focal_px *= h.exp()));
        near(derived.by_k1, difference(&|c, _, h| c.lens.k1 += h));
    }

    #[test]
    fn a_point_behind_the_camera_is_refused_with_its_depth() {
        let refused = camera().project(ScenePoint::new(1.0, -25.0, 1.6)).unwrap_err();
        assert!(matches!(refused, NoPicture::BehindCamera { depth } if depth < -5.0), "{refused}");
    }

    #[test]
    fn a_point_that_a_barrel_lens_would_fold_back_has_no_picture() {
        // k1 −0.07 bends outwards to a radius of 1/√0.21 = 2.18, 65.4° off the axis.
        let camera = camera();
        let aside = |degrees: f64| {
            let ahead = camera.pose.camera_from_ground.inverse() * Vector3::z();
            let right = camera.pose.camera_from_ground.inverse() * Vector3::x();
            let offset = 10.0 * (ahead + degrees.to_radians().tan() * right);
            camera.project(ScenePoint::from(camera.pose.position.vector() + offset))
        };
        assert!(aside(65.0).is_ok());
        let refused = aside(66.0).unwrap_err();
        assert!(
            matches!(refused, NoPicture::BeyondLens { degrees } if (degrees - 66.0).abs() < 1e-6),
            "{refused}"
        );
    }
}
