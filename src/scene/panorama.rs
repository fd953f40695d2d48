//! A picture wider than a lens: all directions from one place, laid out flat or round.

use nalgebra::{Matrix2x3, RowVector3, Vector3};

use super::camera::NoPicture;
use super::point::{FramePoint, PictureSize, ScenePoint};
use super::projection::Projection;

/// How directions are laid out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Layout {
    /// On an upright plane, as a lens does: straight lines stay straight. For fields under 80°.
    Flat,
    /// On an upright cylinder unrolled: a degree is as wide everywhere. For any field.
    Round,
}

/// An upright picture of directions from one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Panorama {
    /// Plane or cylinder.
    pub layout: Layout,
    /// Where it is seen from, metres.
    pub position: ScenePoint,
    /// Direction of `middle_x`: radians from the ground's x axis, to the left.
    pub middle_rad: f64,
    /// The column that looks that way, pixels.
    pub middle_x: f64,
    /// The row of the horizon, pixels.
    pub horizon_y: f64,
    /// Pixels per radian at the middle.
    pub focal_px: f64,
    /// Size of the picture.
    pub size: PictureSize,
}

impl Panorama {
    /// Metres ahead, to the right and up of a scene vector.
    fn axes(&self) -> (Vector3<f64>, Vector3<f64>) {
        let (sin, cos) = self.middle_rad.sin_cos();
        (Vector3::new(cos, sin, 0.0), Vector3::new(sin, -cos, 0.0))
    }

    /// Direction of the ray through a picture point, ground frame (unit length).
    pub fn ray(&self, point: FramePoint) -> Vector3<f64> {
        let (ahead, right) = self.axes();
        let across = (point.x - self.middle_x) / self.focal_px;
        let up = (self.horizon_y - point.y) / self.focal_px;
        let level = match self.layout {
            Layout::Flat => ahead + across * right,
            Layout::Round => across.cos() * ahead + across.sin() * right,
        };
        (level + up * Vector3::z()).normalize()
    }

    /// The same with its left, top corner at another place and another size.
    pub fn cropped(&self, left: f64, top: f64, size: PictureSize) -> Self {
        Self { middle_x: self.middle_x - left, horizon_y: self.horizon_y - top, size, ..*self }
    }
}

impl Projection for Panorama {
    fn project(&self, point: ScenePoint) -> Result<FramePoint, NoPicture> {
        self.project_with_motion(point).map(|(at, _)| at)
    }

    fn project_with_motion(
        &self,
        point: ScenePoint,
    ) -> Result<(FramePoint, Matrix2x3<f64>), NoPicture> {
        let offset = point.vector() - self.position.vector();
        let (ahead, right) = self.axes();
        let (a, b, c) = (offset.dot(&ahead), offset.dot(&right), offset.z);
        let up = RowVector3::new(0.0, 0.0, 1.0);
        let (ahead, right) = (ahead.transpose(), right.transpose());
        let (across, rise, by_across, by_rise) = match self.layout {
            Layout::Flat => {
                if a <= 1e-6 {
                    return Err(NoPicture::BehindCamera { depth: a });
                }
                let (across, rise) = (b / a, c / a);
                (across, rise, (right - across * ahead) / a, (up - rise * ahead) / a)
            }
            Layout::Round => {
                let level = a.hypot(b);
                if level <= 1e-6 {
                    return Err(NoPicture::BehindCamera { depth: level });
                }
                let rise = c / level;
                let by_level = (a * ahead + b * right) / level;
                let by_across = (a * right - b * ahead) / level.powi(2);
                (b.atan2(a), rise, by_across, (up - rise * by_level) / level)
            }
        };
        let at = FramePoint::new(
            self.middle_x + self.focal_px * across,
            self.horizon_y - self.focal_px * rise,
        );
        Ok((at, Matrix2x3::from_rows(&[self.focal_px * by_across, -self.focal_px * by_rise])))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{Camera, Lens, Pose};

    fn panorama(layout: Layout) -> Panorama {
        Panorama {
            layout,
            position: ScenePoint::new(2.0, -14.0, 1.7),
            middle_rad: 1.4,
            middle_x: 900.0,
            horizon_y: 300.0,
            focal_px: 1100.0,
            size: PictureSize { width: 2000, height: 700 },
        }
    }

    #[test]
    fn a_point_lies_on_the_ray_through_its_picture_and_moves_as_its_derivative_says() {
        for layout in [Layout::Flat, Layout::Round] {
            let panorama = panorama(layout);
            for point in [ScenePoint::new(-6.0, 0.4, 0.0), ScenePoint::new(9.0, 3.0, 2.5)] {
                let (at, by) = panorama.project_with_motion(point).unwrap();
                let offset = point.vector() - panorama.position.vector();
                assert!((panorama.ray(at) - offset.normalize()).norm() < 1e-12, "{layout:?}");
                for axis in 0..3 {
                    let mut moved = point.vector();
                    moved[axis] += 1e-6;
                    let moved = panorama.project(ScenePoint::from(moved)).unwrap();
                    let found = (moved.vector() - at.vector()) / 1e-6;
                    assert!((found - by.column(axis)).norm() < 1e-3, "{layout:?} {axis}");
                }
            }
        }
    }

    #[test]
    fn a_part_of_it_shows_the_same_things_at_other_pixels() {
        for layout in [Layout::Flat, Layout::Round] {
            let whole = panorama(layout);
            let size = PictureSize { width: 300, height: 200 };
            let part = whole.cropped(120.0, 45.0, size);
            let point = ScenePoint::new(5.0, 1.0, 0.6);
            let (a, b) = (whole.project(point).unwrap(), part.project(point).unwrap());
            assert!((a.x - b.x - 120.0).abs() < 1e-9 && (a.y - b.y - 45.0).abs() < 1e-9);
            assert_eq!(part.size, size);
        }
    }

    #[test]
    fn laid_out_flat_it_is_an_upright_camera() {
        let flat = panorama(Layout::Flat);
        let ahead = Vector3::new(1.4_f64.cos(), 1.4_f64.sin(), 0.0);
        let camera = Camera {
            lens: Lens { focal_px: 1100.0, centre: FramePoint::new(900.0, 300.0), k1: 0.0 },
            pose: Pose::looking_at(flat.position, ScenePoint::from(flat.position.vector() + ahead)),
        };
        let point = ScenePoint::new(5.0, 1.0, 0.6);
        assert!(flat.project(point).unwrap().distance(camera.project(point).unwrap()) < 1e-9);
    }

    #[test]
    fn laid_out_round_it_sees_what_lies_behind() {
        let round = panorama(Layout::Round);
        let behind = ScenePoint::new(2.0, -30.0, 1.7);
        assert!(round.project(behind).is_ok());
        assert!(panorama(Layout::Flat).project(behind).is_err());
    }
}
