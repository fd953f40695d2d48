//! The part of a frame that a picture shows: the horse around one hoof for the sheet's strip, the
//! horse with all strides so far for a still.

use image::RgbImage;
use image::imageops::FilterType;

use super::area::{Area, Spot};
use super::bodies;
use super::seen::{View, heading_at, prints_until};
use super::theme::PictureSizes;
use crate::scene::{Camera, FramePoint, GroundPoint, PictureSize};
use crate::stride::{ApproachMeasurement, PlacedFootfall};

/// How much of the frame a still shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Framing {
    /// The horse, the strides drawn, and the fence once the horse is near it.
    #[default]
    Track,
    /// The whole frame.
    Whole,
}

/// A rectangle of whole pixels of a picture, and how much larger it is shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crop {
    /// Pixels cut off at the left.
    pub left: u32,
    /// Pixels cut off at the top.
    pub top: u32,
    /// What remains.
    pub size: PictureSize,
    /// How many times larger it is shown, so that type laid on it is sharp.
    pub enlarged: f64,
}

/// Metres on the ground across the crop: a stride behind the hoof and the horse before it.
const ACROSS_M: f64 = 7.0;
/// The hoof stands this share of the way across, as the horse goes.
const HOOF_AT: f64 = 0.62;
/// And this share of the way down.
const HOOF_DOWN: f64 = 0.72;
/// Width over height: low enough that two rows of three as wide as the page leave room for the rest.
const ASPECT: f64 = 16.0 / 9.0;

/// A still is at least that many metres across, so that the horse is seen among its surroundings.
const LEAST_ACROSS_M: f64 = 8.0;
/// Width over height of a still: no narrower, no longer.
const STILL_ASPECTS: (f64, f64) = (1.5, 3.0);
/// Around what a still must hold, in shares of its width: at the sides, above, and below, where
/// two rows of labels and the caption go.
const AROUND: (f64, f64, f64) = (0.035, 0.03, 0.14);
/// A fence this near to the horse is shown whole, metres.
const FENCE_NEAR_M: f64 = 6.0;
/// Crops are enlarged to be this many pixels across, but never more than so many times.
const STILL_ACROSS_PX: f64 = 1600.0;
const STRIP_ACROSS_PX: f64 = 800.0;
const MOST_ENLARGED: f64 = 3.0;

impl Crop {
    /// The horse at the moment of `footfall`, the prints and strides so far, and the fence once it
    /// is near. `None` when the hoof is not on the picture.
    pub fn of_track(
        picture: PictureSize,
        camera: &Camera,
        approach: &ApproachMeasurement,
        footfall: &PlacedFootfall,
    ) -> Option<Self> {
        let place = bodies::hoof_near(approach, Some(footfall), footfall.time_s)?.place?;
        let hoof = camera.project(place.at_height(0.0)).ok()?;
        let above = camera.project(place.at_height(1.0)).ok()?;
        if !picture.holds(hoof) {
            return None;
        }
        let view = View { camera, picture, sizes: PictureSizes::of(picture) };
        let frame = view.frame();
        let seen = |spots: Vec<Spot>| spots.into_iter().filter(|spot| frame.holds(*spot));
        let prints = prints_until(&view, approach, &[], footfall.time_s);
        let mut spots: Vec<Spot> =
            seen(prints.iter().map(|print| print.place.middle).collect()).collect();
        let clamped = |outline: Vec<Spot>| outline.into_iter().map(|spot| frame.nearest(spot));
        let horse = bodies::horse(&view, approach, Some(footfall), footfall.time_s)?;
        spots.extend(clamped(horse));
        if fence_near(approach, place)
            && let Some(fence) = bodies::fence(&view, approach)
        {
            spots.extend(clamped(fence));
        }
        let held = Area::holding(&spots)?;
        let metre = hoof.distance(above);
        let least = (LEAST_ACROSS_M * metre).max(160.0);
        let (sides, top, bottom) = AROUND;
        let width = (held.width() / (1.0 - 2.0 * sides)).max(least);
        let height = held.height() + (top + bottom) * width;
        let (narrow, long) = STILL_ASPECTS;
        let width = width.max(narrow * height).min(frame.width());
        let roomy = height.max(width / long).min(frame.height());
        // What the shape adds goes above and below alike.
        let spare = (roomy - height).max(0.0) / 2.0;
        let left = (held.middle().x - width / 2.0).clamp(0.0, frame.width() - width);
        let above = held.top - top * width - spare;
        let area = Area::at(left, above.clamp(0.0, frame.height() - roomy), width, roomy);
        Some(Self::whole_pixels(area, STILL_ACROSS_PX))
    }

    fn whole_pixels(area: Area, across: f64) -> Self {
        let width = area.width().floor().max(1.0);
        Self {
            left: area.left as u32,
            top: area.top as u32,
            size: PictureSize {
                width: width as u32,
                height: area.height().floor().max(1.0) as u32,
            },
            enlarged: (across / width).clamp(1.0, MOST_ENLARGED),
        }
    }

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
        Some(Self::whole_pixels(Area::at(left, top, width, height), STRIP_ACROSS_PX))
    }

    /// Size of the picture it gives.
    pub fn shown(&self) -> PictureSize {
        let larger = |side: u32| (f64::from(side) * self.enlarged).round() as u32;
        PictureSize { width: larger(self.size.width), height: larger(self.size.height) }
    }

    /// The camera as if it had taken only this part, enlarged.
    pub fn camera(&self, camera: &Camera) -> Camera {
        let mut cropped = *camera;
        cropped.lens.focal_px *= self.enlarged;
        cropped.lens.centre = self.point(camera.lens.centre);
        cropped
    }

    /// A point of the frame on the picture it gives.
    pub fn point(&self, at: FramePoint) -> FramePoint {
        FramePoint::new(
            (at.x - f64::from(self.left)) * self.enlarged,
            (at.y - f64::from(self.top)) * self.enlarged,
        )
    }

    /// This part of `frame`, enlarged.
    pub fn picture(&self, frame: &RgbImage) -> RgbImage {
        let PictureSize { width, height } = self.size;
        let part = image::imageops::crop_imm(frame, self.left, self.top, width, height).to_image();
        let shown = self.shown();
        if shown == self.size {
            return part;
        }
        image::imageops::resize(&part, shown.width, shown.height, FilterType::CatmullRom)
    }
}

/// Whether the horse is near enough to the fence, before or behind it, to show it whole.
fn fence_near(approach: &ApproachMeasurement, place: GroundPoint) -> bool {
    let fence = &approach.fence;
    let mut ends = fence.take_off_base.iter().chain(&fence.landing_base).flatten();
    ends.any(|end| end.distance(place) < FENCE_NEAR_M)
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
            assert!(crop.shown().holds(part));
            let back = part.x / crop.enlarged + f64::from(crop.left);
            assert!((whole.x - back).abs() < 1e-9);
            let moved = crop.point(whole);
            assert!((moved.x - part.x).abs() < 1e-9 && (moved.y - part.y).abs() < 1e-9);
        }
    }

    #[test]
    fn a_still_holds_horse_prints_and_near_fence_at_a_sensible_shape() {
        let approach = sample::approach(SEVEN);
        let camera = sample::camera(HD, 5.0, 24.0);
        let view = View { camera: &camera, picture: HD, sizes: PictureSizes::of(HD) };
        for footfall in &approach.footfalls {
            let Some(crop) = Crop::of_track(HD, &camera, &approach, footfall) else {
                let at = view.spot(footfall.place.unwrap()).unwrap();
                assert!(!view.frame().holds(at), "{} is on the picture", footfall.footfall);
                continue;
            };
            let aspect = f64::from(crop.size.width) / f64::from(crop.size.height);
            // The hoof itself need not be known: the one nearest to it in time will do.
            let unseen = PlacedFootfall { place: None, ..footfall.clone() };
            assert!(Crop::of_track(HD, &camera, &approach, &unseen).is_some());
            assert!((1.49..=3.02).contains(&aspect), "{crop:?}");
            let area = Area::at(
                f64::from(crop.left),
                f64::from(crop.top),
                f64::from(crop.size.width),
                f64::from(crop.size.height),
            )
            .grown(1.0);
            let horse = bodies::horse(&view, &approach, Some(footfall), footfall.time_s).unwrap();
            let mut inside: Vec<Spot> = horse;
            if footfall.footfall.starts_with('l') {
                inside.extend(bodies::fence(&view, &approach).unwrap());
            }
            for spot in inside {
                assert!(area.holds(view.frame().nearest(spot)), "{spot:?} not in {crop:?}");
            }
        }
    }

    #[test]
    fn a_hoof_beside_the_picture_has_no_crop() {
        let approach = sample::approach(SEVEN);
        let camera = sample::camera(HD, 30.0, 9.0);
        assert_eq!(Crop::around_hoof(HD, &camera, &approach, GroundPoint::new(-9.0, 0.0)), None);
    }
}
