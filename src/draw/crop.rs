//! The part of a frame that the sheet's strip shows: the horse around one hoof.

use image::RgbImage;

use super::seen::heading_at;
use crate::scene::{Camera, FramePoint, GroundPoint, PictureSize};
use crate::stride::ApproachMeasurement;

/// A rectangle of whole pixels of a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Crop {
    /// Pixels cut off at the left.
    pub left: u32,
    /// Pixels cut off at the top.
    pub top: u32,
    /// What remains.
    pub size: PictureSize,
}

/// Metres on the ground across the crop: a stride behind the hoof and the horse before it.
const ACROSS_M: f64 = 7.0;
/// The hoof stands this share of the way across, as the horse goes.
const HOOF_AT: f64 = 0.62;
/// And this share of the way down.
const HOOF_DOWN: f64 = 0.72;
/// Width over height: low enough that two rows of three as wide as the page leave room for the rest.
const ASPECT: f64 = 16.0 / 9.0;

impl Crop {
    /// Around the hoof at `place`; as much of that as lies on the picture. `None` when the hoof
    /// is not on it.
    pub fn around_hoof(
        picture: PictureSize,
        camera: &Camera,
        approach: &ApproachMeasurement,
        place: GroundPoint,
    ) -> Option<Self> {
        let hoof = camera.project(place.at_height(0.0)).ok()?;
        let above = camera.project(place.at_height(1.0)).ok()?;
        if !picture.holds(hoof) {
            return None;
        }
        let (sin, cos) = heading_at(approach, place).sin_cos();
        let ahead = GroundPoint::new(place.x + 0.5 * cos, place.y + 0.5 * sin);
        let rightwards = camera.project(ahead.at_height(0.0)).is_ok_and(|ahead| ahead.x >= hoof.x);
        let (full_width, full_height) = (f64::from(picture.width), f64::from(picture.height));
        let wanted = ACROSS_M * hoof.distance(above);
        let width = wanted.clamp(160.0, full_width.max(160.0)).min(full_height * ASPECT);
        let width = width.min(full_width);
        let height = (width / ASPECT).min(full_height);
        let share = if rightwards { HOOF_AT } else { 1.0 - HOOF_AT };
        let left = (hoof.x - share * width).clamp(0.0, full_width - width);
        let top = (hoof.y - HOOF_DOWN * height).clamp(0.0, full_height - height);
        Some(Self {
            left: left as u32,
            top: top as u32,
            size: PictureSize { width: width as u32, height: height as u32 },
        })
    }

    /// The camera as if it had taken only this part.
    pub fn camera(&self, camera: &Camera) -> Camera {
        let mut cropped = *camera;
        cropped.lens.centre = FramePoint::new(
            camera.lens.centre.x - f64::from(self.left),
            camera.lens.centre.y - f64::from(self.top),
        );
        cropped
    }

    /// This part of `frame`.
    pub fn picture(&self, frame: &RgbImage) -> RgbImage {
        let PictureSize { width, height } = self.size;
        image::imageops::crop_imm(frame, self.left, self.top, width, height).to_image()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, SEVEN};

    const HD: PictureSize = PictureSize { width: 1920, height: 1080 };

    #[test]
    fn the_crop_lies_on_the_picture_and_its_camera_agrees() {
        let approach = sample::approach(SEVEN);
        for (look, back) in [(9.0, 18.0), (2.0, 8.0), (12.0, 40.0)] {
            let camera = sample::camera(HD, look, back);
            let place = GroundPoint::new(10.0, 0.2);
            let Some(crop) = Crop::around_hoof(HD, &camera, &approach, place) else { continue };
            assert!(crop.left + crop.size.width <= 1920 && crop.top + crop.size.height <= 1080);
            let whole = camera.project(place.at_height(0.0)).unwrap();
            let part = crop.camera(&camera).project(place.at_height(0.0)).unwrap();
            assert!(crop.size.holds(part));
            assert!((whole.x - part.x - f64::from(crop.left)).abs() < 1e-9);
        }
    }

    #[test]
    fn a_hoof_beside_the_picture_has_no_crop() {
        let approach = sample::approach(SEVEN);
        let camera = sample::camera(HD, 30.0, 9.0);
        assert_eq!(Crop::around_hoof(HD, &camera, &approach, GroundPoint::new(-9.0, 0.0)), None);
    }
}
