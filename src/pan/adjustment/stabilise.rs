//! Frames laid over each other, and how far the picture wandered.

use nalgebra::{Matrix3, Vector3};

use super::bundle::KeyPose;
use super::error::MotionGap;
use super::motion::{CameraMotion, MotionPiece};
use crate::quantity::FrameNumber;
use crate::scene::PictureSize;

impl CameraMotion {
    /// Carries homogeneous picture points of `frame` onto the reference frame of its piece, for
    /// far things. For drawing: shifts and the bending of the lens are left out.
    ///
    /// Errors: the frame was not followed.
    pub fn stabilised(&self, frame: FrameNumber) -> Result<Matrix3<f64>, MotionGap> {
        let (piece, motion) = self.find(frame)?;
        Ok(piece.onto_reference(&motion.pose, self.picture))
    }

    /// How far the picture wandered at most: the largest, over all frames, of the median way of
    /// nine places spread over the picture, pixels. More than a picture's width counts as one.
    pub fn moved_px(&self) -> f64 {
        let moved = self.pieces.iter().flat_map(|piece| {
            let Some(base) = piece.frames.first().map(|first| first.pose) else { return vec![] };
            let of_base = piece.onto_reference(&base, self.picture);
            let back = of_base.try_inverse().unwrap_or_else(Matrix3::identity);
            let moved = |pose: &KeyPose| {
                median_way(&(back * piece.onto_reference(pose, self.picture)), self.picture)
            };
            piece.frames.iter().map(|frame| moved(&frame.pose)).collect()
        });
        moved.fold(0.0, f64::max)
    }
}

impl MotionPiece {
    fn onto_reference(&self, pose: &KeyPose, picture: PictureSize) -> Matrix3<f64> {
        let centre = picture.centre();
        let focal = self.log_focal.value.exp();
        let picture_from_ray =
            |focal: f64| Matrix3::new(focal, 0.0, centre.x, 0.0, focal, centre.y, 0.0, 0.0, 1.0);
        let zoomed = focal * pose.log_zoom.exp();
        let ray_from_picture = Matrix3::new(
            1.0 / zoomed,
            0.0,
            -centre.x / zoomed,
            0.0,
            1.0 / zoomed,
            -centre.y / zoomed,
            0.0,
            0.0,
            1.0,
        );
        picture_from_ray(focal) * pose.turn.inverse().matrix() * ray_from_picture
    }
}

fn median_way(map: &Matrix3<f64>, picture: PictureSize) -> f64 {
    let (width, height) = (f64::from(picture.width), f64::from(picture.height));
    let mut ways: Vec<f64> = (0..9)
        .map(|i| {
            let (x, y) = (width * f64::from(i % 3 + 1) / 4.0, height * f64::from(i / 3 + 1) / 4.0);
            let to = map * Vector3::new(x, y, 1.0);
            if to.z > 1e-3 { (to.x / to.z - x).hypot(to.y / to.z - y).min(width) } else { width }
        })
        .collect();
    ways.sort_by(f64::total_cmp);
    ways[4]
}
