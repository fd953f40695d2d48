//! Which part of each clip the reel shows, how large, and where its band stands.
//!
//! The whole width of a frame is kept; above and below, what holds neither horse nor strides goes,
//! so that the band has its room below the picture. Two approaches stand one above the other so
//! that a metre at their take-off places is as many pixels; the one filmed from nearer then has
//! paper at its sides.

use std::collections::BTreeMap;

use crate::draw::area::{Area, Spot};
use crate::draw::bodies;
use crate::draw::crop::Crop;
use crate::draw::seen::{View, heading_at};
use crate::draw::theme::PictureSizes;
use crate::quantity::FrameNumber;
use crate::scene::{Camera, FramePoint, GroundPoint, PictureSize};
use crate::stride::{ApproachMeasurement, PlacedFootfall};

/// One approach to be shown.
#[derive(Clone, Copy, Debug)]
pub struct ReelPart<'a> {
    /// Size of its clip's frames.
    pub picture: PictureSize,
    /// The approach.
    pub approach: &'a ApproachMeasurement,
    /// The surveyed cameras of its marked frames.
    pub cameras: &'a BTreeMap<FrameNumber, Camera>,
    /// When it takes off: capture time, seconds.
    pub take_off_s: f64,
}

/// Where one approach is on the canvas.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReelSlot {
    /// The part of the frame that is shown, and how much larger (or smaller) it is.
    pub part: Crop,
    /// Left top corner of that part on the canvas, pixels.
    pub at: (u32, u32),
    /// The band below it: left top corner and size, pixels.
    pub band: ((u32, u32), PictureSize),
    /// Pixels on the canvas that a metre along the track has at the take-off place.
    pub metre_px: Option<f64>,
}

impl ReelSlot {
    /// Width and height of the picture on the canvas, pixels.
    pub fn size(&self) -> (u32, u32) {
        let shown = self.part.shown();
        (shown.width, shown.height)
    }
}

/// Share of the canvas's height that bands take: of one approach, of two together, and of an
/// upright canvas.
const BAND_ONE: f64 = 0.26;
const BAND_TWO: f64 = 0.38;
const BAND_UPRIGHT: f64 = 0.27;
/// Room below the lowest hoof for lines and two rows of labels, in sizes of the small type, and above the rider.
const BELOW: f64 = 6.2;
const ABOVE: f64 = 0.3;

/// The canvas whose short side is `short` pixels: lying 16 : 9, or upright when all frames are.
pub fn canvas_size(pictures: &[PictureSize], short: u32) -> PictureSize {
    let even = |side: f64| (side / 2.0).round() as u32 * 2;
    let long = even(f64::from(short) * 16.0 / 9.0);
    let short = even(f64::from(short));
    if pictures.iter().all(|picture| picture.height > picture.width) {
        PictureSize { width: short, height: long }
    } else {
        PictureSize { width: long, height: short }
    }
}

/// A place for each of `parts` on a canvas of that size, the first above.
pub fn reel_layout(parts: &[ReelPart], canvas: PictureSize) -> Vec<ReelSlot> {
    let (width, height) = (f64::from(canvas.width), f64::from(canvas.height));
    let share = match parts.len() {
        _ if canvas.height > canvas.width => BAND_UPRIGHT,
        0 | 1 => BAND_ONE,
        _ => BAND_TWO,
    };
    let row = (height / parts.len().max(1) as f64).floor();
    let band_high = (row * share).round();
    let picture_high = row - band_high;
    let sizes = PictureSizes::of(canvas);
    let seen: Vec<Seen> = parts.iter().map(|part| Seen::of(part, width, &sizes)).collect();
    // Pixels of the canvas per pixel of the clip: what fits, then one length for all metres.
    let fits =
        |seen: &Seen| (width / seen.frame.width()).min(picture_high / seen.held.height().max(1.0));
    let metres: Option<Vec<f64>> = seen.iter().map(|seen| seen.metre_px).collect();
    let joint = metres.map(|metres| {
        let each = seen.iter().zip(&metres).map(|(seen, metre)| fits(seen) * metre);
        (each.fold(f64::INFINITY, f64::min), metres)
    });
    let scales: Vec<f64> = match joint {
        Some((metre, metres)) => metres.iter().map(|own| metre / own).collect(),
        None => seen.iter().map(fits).collect(),
    };
    let lefts = lefts(&seen, &scales, width);
    let mut slots = Vec::new();
    for (index, ((seen, scale), left)) in seen.iter().zip(&scales).zip(lefts).enumerate() {
        let top = row * index as f64;
        let part = seen.part(*scale, picture_high);
        let high = f64::from(part.shown().height);
        let band_top = top + picture_high;
        slots.push(ReelSlot {
            part,
            at: (left as u32, (top + ((picture_high - high) / 2.0).floor().max(0.0)) as u32),
            band: (
                (0, band_top as u32),
                PictureSize { width: canvas.width, height: band_high as u32 },
            ),
            metre_px: seen.metre_px.map(|metre| metre * scale),
        });
    }
    slots
}

/// Left edges of the pictures: middle of the canvas for one, else so that the take-off places
/// stand one above the other, as far as there is room.
fn lefts(seen: &[Seen], scales: &[f64], canvas: f64) -> Vec<f64> {
    let room = |seen: &Seen, scale: &f64| (canvas - (seen.frame.width() * scale).round()).max(0.0);
    let widest = seen
        .iter()
        .zip(scales)
        .min_by(|(a, s), (b, t)| room(a, s).total_cmp(&room(b, t)))
        .and_then(|(seen, scale)| Some(room(seen, scale) / 2.0 + seen.take_off_x? * scale));
    let place = |(seen, scale): (&Seen, &f64)| {
        let room = room(seen, scale);
        let left = match (seen.take_off_x, widest) {
            (Some(own), Some(common)) => common - own * scale,
            _ => room / 2.0,
        };
        left.clamp(0.0, room).floor()
    };
    seen.iter().zip(scales).map(place).collect()
}

/// What matters of one clip, in its own pixels.
struct Seen {
    frame: Area,
    /// Horse, fence and prints with room for their labels.
    held: Area,
    /// Pixels of a metre along the track at take-off.
    metre_px: Option<f64>,
    take_off_x: Option<f64>,
}

impl Seen {
    fn of(part: &ReelPart, canvas_width: f64, sizes: &PictureSizes) -> Self {
        let ReelPart { picture, approach, cameras, take_off_s } = *part;
        let frame = Area::at(0.0, 0.0, f64::from(picture.width), f64::from(picture.height));
        let seen = |footfall: &PlacedFootfall| {
            let camera = cameras.get(&footfall.frame)?;
            Some((*camera, footfall.place?, footfall.time_s))
        };
        let mut spots: Vec<Spot> = Vec::new();
        let mut nearest: Option<(f64, Camera, GroundPoint)> = None;
        for footfall in &approach.footfalls {
            let Some((camera, place, time_s)) = seen(footfall) else { continue };
            let view = View { camera: &camera, picture, sizes: PictureSizes::of(picture) };
            let horse = bodies::horse(&view, approach, Some(footfall), time_s);
            let hoof = view.spot(place).filter(|hoof| frame.holds(*hoof));
            if hoof.is_some() {
                spots.extend(horse.into_iter().flatten().map(|spot| frame.nearest(spot)));
                spots.extend(hoof);
            }
            let away = (time_s - take_off_s).abs();
            if nearest.is_none_or(|(least, ..)| away < least) {
                nearest = Some((away, camera, place));
            }
        }
        // Sizes on the canvas, brought to the clip's pixels by about what it will be shown at.
        let small = sizes.small * frame.width() / canvas_width;
        let held = Area::holding(&spots).map_or(frame, |held| Area {
            left: frame.left,
            right: frame.right,
            top: (held.top - ABOVE * small).max(frame.top),
            bottom: (held.bottom + BELOW * small).min(frame.bottom),
        });
        let scale = nearest.and_then(|(_, camera, place)| metre(&camera, approach, place));
        Self {
            frame,
            held,
            metre_px: scale.map(|(length, _)| length),
            take_off_x: scale.map(|(_, middle)| middle),
        }
    }

    /// The whole width, and as many rows about what is held as fit into `room`.
    fn part(&self, scale: f64, room: f64) -> Crop {
        let high = (room / scale).min(self.frame.height());
        let middle = self.held.middle().y;
        let top = (middle - high / 2.0).clamp(0.0, self.frame.height() - high).floor();
        // Rounding must not make it taller than its room.
        let mut rows = high.floor();
        while (rows * scale).round() > room {
            rows -= 1.0;
        }
        Crop {
            left: 0,
            top: top as u32,
            size: PictureSize { width: self.frame.width() as u32, height: rows.max(1.0) as u32 },
            enlarged: scale,
        }
    }
}

/// Pixels of a metre along the track around `place`, and how far right it is.
fn metre(
    camera: &Camera,
    approach: &ApproachMeasurement,
    place: GroundPoint,
) -> Option<(f64, f64)> {
    let (sin, cos) = heading_at(approach, place).sin_cos();
    let at = |along: f64| -> Option<FramePoint> {
        let on = GroundPoint::new(place.x + along * cos, place.y + along * sin);
        camera.project(on.at_height(0.0)).ok()
    };
    let (from, to) = (at(-0.5)?, at(0.5)?);
    let length = from.distance(to);
    (length.is_finite() && length > 1.0).then_some((length, (from.x + to.x) / 2.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, SEVEN};

    const HD: PictureSize = PictureSize { width: 1920, height: 1080 };

    fn cameras(
        approach: &ApproachMeasurement,
        picture: PictureSize,
        back: f64,
    ) -> BTreeMap<FrameNumber, Camera> {
        let camera = sample::camera(picture, 6.0, back);
        approach.footfalls.iter().map(|footfall| (footfall.frame, camera)).collect()
    }

    fn part<'a>(
        approach: &'a ApproachMeasurement,
        cameras: &'a BTreeMap<FrameNumber, Camera>,
        picture: PictureSize,
    ) -> ReelPart<'a> {
        ReelPart { picture, approach, cameras, take_off_s: 5.47 }
    }

    #[test]
    fn one_approach_keeps_the_whole_width_and_horse_and_hooves_are_in_it() {
        let approach = sample::approach(SEVEN);
        let cameras = cameras(&approach, HD, 24.0);
        for short in [720, 1080] {
            let canvas = canvas_size(&[HD], short);
            let slots = reel_layout(&[part(&approach, &cameras, HD)], canvas);
            let slot = slots[0];
            assert_eq!((slot.at, slot.size().0), ((0, 0), canvas.width));
            let ((left, top), band) = slot.band;
            assert_eq!((left, top + band.height), (0, canvas.height));
            assert!(slot.size().1 <= top && top - slot.size().1 <= 1, "{slot:?}");
            let camera = slot.part.camera(&sample::camera(HD, 6.0, 24.0));
            for footfall in &approach.footfalls {
                let hoof = camera.project(footfall.place.unwrap().at_height(0.0)).unwrap();
                let rider = camera.project(footfall.place.unwrap().at_height(2.4)).unwrap();
                if HD.holds(FramePoint::new(hoof.x.max(0.0), 1.0)) && hoof.x < 1900.0 {
                    assert!(rider.y > 0.0 && hoof.y < f64::from(top), "{footfall:?}");
                }
            }
        }
    }

    #[test]
    fn two_approaches_have_one_ground_scale_and_do_not_overlap() {
        let approach = sample::approach(SEVEN);
        let other = PictureSize { width: 1280, height: 720 };
        let (far, near) = (cameras(&approach, HD, 24.0), cameras(&approach, other, 15.0));
        let parts = [part(&approach, &far, HD), part(&approach, &near, other)];
        let canvas = canvas_size(&[HD, other], 1080);
        let slots = reel_layout(&parts, canvas);
        let metres: Vec<f64> = slots.iter().map(|slot| slot.metre_px.unwrap()).collect();
        assert!((metres[0] - metres[1]).abs() < 1e-9 && metres[0] > 40.0, "{metres:?}");
        for (index, slot) in slots.iter().enumerate() {
            let row = 540 * index as u32;
            let ((_, band_top), band) = slot.band;
            assert!(slot.at.1 >= row && slot.at.1 + slot.size().1 <= band_top);
            assert_eq!(band_top + band.height, row + 540);
            assert!(slot.at.0 + slot.size().0 <= canvas.width);
        }
        // As drawn, not as told: a metre on the ground through the cameras of the parts.
        for (slot, (picture, back)) in slots.iter().zip([(HD, 24.0), (other, 15.0)]) {
            let camera = slot.part.camera(&sample::camera(picture, 6.0, back));
            let at = approach.footfalls.iter().find(|f| f.footfall == "h7").unwrap();
            let (length, _) = metre(&camera, &approach, at.place.unwrap()).unwrap();
            assert!((length / metres[0] - 1.0).abs() < 0.01, "{length} {metres:?}");
        }
    }

    #[test]
    fn an_upright_clip_has_an_upright_canvas() {
        let upright = PictureSize { width: 1080, height: 1920 };
        assert_eq!(canvas_size(&[upright], 720), PictureSize { width: 720, height: 1280 });
        assert_eq!(canvas_size(&[upright, HD], 1080), HD);
        assert_eq!(canvas_size(&[HD], 720), PictureSize { width: 1280, height: 720 });
    }
}
