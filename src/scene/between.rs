//! A camera between two that are known, for drawing only.

use nalgebra::{Rotation3, UnitQuaternion};

use super::camera::{Camera, Lens, Pose};
use super::point::{FramePoint, ScenePoint};

impl Camera {
    /// The camera `share` of the way (0 to 1) from this one to `later`: turned evenly about one
    /// axis, moved evenly along a line.
    ///
    /// A guess at what a hand did meanwhile, good enough to draw by. Never measure with it: no mark
    /// was seen by this camera, and nothing knows how far it is off.
    pub fn towards_for_drawing(&self, later: &Self, share: f64) -> Self {
        let mix = |from: f64, to: f64| from + (to - from) * share;
        let (from, to) = (self.pose.camera_from_ground, later.pose.camera_from_ground);
        let turned = UnitQuaternion::from_rotation_matrix(&from)
            .try_slerp(&UnitQuaternion::from_rotation_matrix(&to), share, 1e-12)
            .map_or(from, |turn| Rotation3::from(turn.to_rotation_matrix()));
        let (here, there) = (self.pose.position, later.pose.position);
        let (one, other) = (self.lens, later.lens);
        Self {
            lens: Lens {
                focal_px: mix(one.focal_px, other.focal_px),
                centre: FramePoint::new(
                    mix(one.centre.x, other.centre.x),
                    mix(one.centre.y, other.centre.y),
                ),
                k1: mix(one.k1, other.k1),
            },
            pose: Pose {
                camera_from_ground: turned,
                position: ScenePoint::new(
                    mix(here.x, there.x),
                    mix(here.y, there.y),
                    mix(here.z, there.z),
                ),
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::PictureSize;

    fn looking(x: f64, from: f64) -> Camera {
        let picture = PictureSize { width: 1920, height: 1080 };
        Camera {
            lens: Lens::with_field(picture, 1.05),
            pose: Pose::looking_at(ScenePoint::new(from, -19.0, 1.6), ScenePoint::new(x, 0.0, 1.6)),
        }
    }

    #[test]
    fn the_turn_is_even_and_the_ends_are_kept() {
        let (first, last) = (looking(-6.0, 0.0), looking(8.0, 0.4));
        for (share, end) in [(0.0, &first), (1.0, &last)] {
            let at = first.towards_for_drawing(&last, share);
            // An angle near nil loses half its digits: the matrices are compared.
            let (found, exact) = (at.pose.camera_from_ground, end.pose.camera_from_ground);
            assert!((found.matrix() - exact.matrix()).norm() < 1e-9);
            assert!((at.pose.position.x - end.pose.position.x).abs() < 1e-12);
        }
        let whole = first.pose.camera_from_ground.angle_to(&last.pose.camera_from_ground);
        let third = first.towards_for_drawing(&last, 0.25);
        let turned = first.pose.camera_from_ground.angle_to(&third.pose.camera_from_ground);
        assert!((turned - 0.25 * whole).abs() < 1e-9, "{turned} of {whole}");
        assert!((third.pose.position.x - 0.1).abs() < 1e-12);
    }

    #[test]
    fn lens_and_place_go_evenly_between_the_two() {
        let (mut first, mut last) = (looking(-6.0, 3.0), looking(8.0, 7.0));
        first.pose.position = ScenePoint::new(3.0, -18.0, 1.5);
        last.pose.position = ScenePoint::new(7.0, -26.0, 1.9);
        first.lens = Lens { focal_px: 1600.0, centre: FramePoint::new(950.0, 530.0), k1: -0.02 };
        last.lens = Lens { focal_px: 2000.0, centre: FramePoint::new(970.0, 550.0), k1: -0.10 };
        // A quarter of the way, each number by itself.
        let at = first.towards_for_drawing(&last, 0.25);
        let place = at.pose.position.vector() - ScenePoint::new(4.0, -20.0, 1.6).vector();
        assert!(place.norm() < 1e-12, "{:?}", at.pose.position);
        assert!((at.lens.focal_px - 1700.0).abs() < 1e-9);
        assert!(at.lens.centre.distance(FramePoint::new(955.0, 535.0)) < 1e-9);
        assert!((at.lens.k1 + 0.04).abs() < 1e-12);
    }
}
