//! Where the joined picture is seen from, how it is laid out and what of it is shown.

use image::RgbImage;
use image::imageops::crop_imm;
use nalgebra::Vector3;

use super::horses::Laid;
use super::layer::Layer;
use super::{JoinedFrame, NoApproachPicture};
use crate::draw::area::{Area, Spot};
use crate::draw::bodies;
use crate::draw::seen::View;
use crate::draw::theme::PictureSizes;
use crate::scene::{Layout, Panorama, PictureSize, ScenePoint};
use crate::stride::ApproachMeasurement;

/// Fields up to this are laid out flat, so that rails stay straight.
const FLAT_UP_TO_DEG: f64 = 75.0;
/// Wider than this the horses at the ends are seen from before and behind.
const MOST_DEG: f64 = 170.0;
/// Around horses and fence, in heights of the tallest horse: at the sides, above, below.
const AROUND: (f64, f64, f64) = (0.25, 0.25, 0.3);
/// Pictures narrower than this are enlarged, at most so many times.
const LEAST_WIDTH: f64 = 1800.0;
const MOST_ENLARGED: f64 = 2.0;
/// Side of the sheet on which the first layout is tried, pixels.
const ROOM: f64 = 40_000.0;

/// The panorama that shows all horses of `shown` and the fence.
pub(super) fn panorama(
    approach: &ApproachMeasurement,
    frames: &[&JoinedFrame],
    shown: &[String],
    most_width: u32,
) -> Result<Panorama, NoApproachPicture> {
    let count = frames.len() as f64;
    let position: Vector3<f64> =
        frames.iter().map(|frame| frame.camera.pose.position.vector()).sum::<Vector3<f64>>()
            / count;
    let mut focal: Vec<f64> = frames.iter().map(|frame| frame.camera.lens.focal_px).collect();
    focal.sort_by(f64::total_cmp);
    let hooves: Vec<Vector3<f64>> = approach
        .footfalls
        .iter()
        .filter(|footfall| shown.contains(&footfall.footfall))
        .filter_map(|footfall| Some(footfall.place?.at_height(0.0).vector() - position))
        .collect();
    let towards: Vector3<f64> = hooves.iter().map(|hoof| hoof.normalize()).sum();
    let mut whole = Panorama {
        layout: Layout::Round,
        position: ScenePoint::from(position),
        middle_rad: towards.y.atan2(towards.x),
        middle_x: ROOM / 2.0,
        horizon_y: ROOM / 2.0,
        focal_px: focal.get(focal.len() / 2).copied().unwrap_or(1000.0),
        size: PictureSize { width: ROOM as u32, height: ROOM as u32 },
    };
    let (area, _) = wanted(approach, shown, &whole)
        .ok_or(NoApproachPicture::TooFewFrames { found: 0, needed: super::LEAST_FRAMES })?;
    let degrees = (area.width() / whole.focal_px).to_degrees();
    if degrees > MOST_DEG {
        return Err(NoApproachPicture::TooWide { degrees, most: MOST_DEG });
    }
    whole.middle_rad -= (area.middle().x - whole.middle_x) / whole.focal_px;
    if degrees <= FLAT_UP_TO_DEG {
        whole.layout = Layout::Flat;
    }
    let area_at = |panorama: &Panorama| {
        let (area, horse) = wanted(approach, shown, panorama)?;
        let (sides, above, below) = AROUND;
        Some(Area {
            left: area.left - sides * horse,
            right: area.right + sides * horse,
            top: area.top - above * horse,
            bottom: area.bottom + below * horse,
        })
    };
    let none = NoApproachPicture::TooFewFrames { found: 0, needed: super::LEAST_FRAMES };
    let area = area_at(&whole).ok_or_else(|| none.clone())?;
    // Small pictures are enlarged, so that what is drawn on them is sharp.
    let enlarged = (LEAST_WIDTH / area.width()).clamp(1.0, MOST_ENLARGED);
    let scale = (f64::from(most_width) / area.width()).min(enlarged);
    whole.focal_px *= scale;
    let area = area_at(&whole).ok_or(none)?;
    let size = PictureSize {
        width: area.width().floor().max(1.0) as u32,
        height: area.height().floor().max(1.0) as u32,
    };
    Ok(whole.cropped(area.left.floor(), area.top.floor(), size))
}

/// The area that holds the horses and the fence, and the height of the tallest horse.
fn wanted(
    approach: &ApproachMeasurement,
    shown: &[String],
    panorama: &Panorama,
) -> Option<(Area, f64)> {
    let view =
        View { camera: panorama, picture: panorama.size, sizes: PictureSizes::of(panorama.size) };
    let mut spots: Vec<Spot> = Vec::new();
    let mut tallest = 0.0_f64;
    for footfall in approach.footfalls.iter().filter(|f| shown.contains(&f.footfall)) {
        let outline = bodies::horse(&view, approach, Some(footfall), footfall.time_s)?;
        tallest = tallest.max(Area::holding(&outline)?.height());
        spots.extend(outline);
    }
    spots.extend(bodies::fence(&view, approach).unwrap_or_default());
    Some((Area::holding(&spots)?, tallest))
}

/// How much of a row or column may be empty, as a share of it.
const EMPTY: f64 = 0.004;

/// The picture without rims that no frame shows; they are never cut into a horse. Also how far the
/// left top corner moved.
pub(super) fn without_empty_rims(
    laid: Laid,
    seen_from: Panorama,
    layers: &[Layer],
) -> (Laid, Panorama, (f64, f64)) {
    let (width, height) = laid.picture.dimensions();
    let horses: Vec<Spot> = layers
        .iter()
        .filter(|layer| laid.horses.contains(&layer.footfall))
        .flat_map(|layer| layer.outline.iter().copied())
        .collect();
    let frame = Area::at(0.0, 0.0, f64::from(width), f64::from(height));
    let keep = Area::holding(&horses).unwrap_or(frame);
    let mut edges = [0, 0, width, height];
    let is_empty = |x: u32, y: u32| laid.covered.get_pixel(x, y).0[0] == 0;
    // Round by round, the side that is emptiest gives way.
    loop {
        let [left, top, right, bottom] = edges;
        if right - left < 2 || bottom - top < 2 {
            break;
        }
        let column = |x: u32| {
            (top..bottom).filter(|y| is_empty(x, *y)).count() as f64 / f64::from(bottom - top)
        };
        let row = |y: u32| {
            (left..right).filter(|x| is_empty(*x, y)).count() as f64 / f64::from(right - left)
        };
        let sides = [
            (column(left), f64::from(left) < keep.left),
            (row(top), f64::from(top) < keep.top),
            (column(right - 1), f64::from(right) > keep.right),
            (row(bottom - 1), f64::from(bottom) > keep.bottom),
        ];
        let worst =
            (0..4).filter(|side| sides[*side].1).max_by(|a, b| sides[*a].0.total_cmp(&sides[*b].0));
        match worst {
            Some(side) if sides[side].0 > EMPTY => {
                if side < 2 {
                    edges[side] += 1
                } else {
                    edges[side] -= 1
                }
            }
            _ => break,
        }
    }
    let [left, top, right, bottom] = edges;
    let size = PictureSize { width: right - left, height: bottom - top };
    let cut = |picture: &RgbImage| crop_imm(picture, left, top, size.width, size.height).to_image();
    let covered = crop_imm(&laid.covered, left, top, size.width, size.height).to_image();
    let cropped = Laid { picture: cut(&laid.picture), covered, horses: laid.horses };
    let (x, y) = (f64::from(left), f64::from(top));
    (cropped, seen_from.cropped(x, y, size), (x, y))
}
