//! Finding a point's patch in a frame, from coarse to fine.

use nalgebra::Matrix2;

use super::align::{Found, align, way_back};
use super::patch::{PATCH_LEVELS, Patch, Template};
use super::pyramid::Pyramid;
use crate::scene::FramePoint;

/// Least likeness at half size.
const LIKE_AT_HALF: f32 = 0.7;
/// Least likeness at full size.
const LIKE_AT_FULL: f32 = 0.75;
/// A point whose fine detail is gone (blur, focus) is held by its half-size patch when that is as
/// like as this.
const LIKE_WHEN_BLURRED: f32 = 0.85;
/// The way back may miss by this, pixels of the level.
const WAY_BACK_PX: f32 = 0.35;
/// Full size may correct half size by this, pixels.
const CORRECTION_PX: f64 = 1.6;
/// From farther away than this half size may have slid to a likeness next to the right one,
/// pixels.
const NEAR_PX: f64 = 5.0;

/// A point found in a frame.
#[derive(Clone, Copy, Debug)]
pub(super) struct Followed {
    pub(super) found: Found,
    /// Placed at full size.
    pub(super) sharp: bool,
}

/// Looks for `patch` about `start`. `None` when it is not there.
pub(super) fn follow(
    pyramid: &Pyramid<'_>,
    patch: &Patch,
    stretch: &Matrix2<f64>,
    start: FramePoint,
) -> Option<Followed> {
    let half_template = patch.template(1, stretch)?;
    let half = at_half(pyramid, patch, stretch, &half_template, start)?;
    let template = patch.template(0, stretch)?;
    let full = align(pyramid.level(0), 0, &template, half.at).filter(|full| {
        full.likeness >= LIKE_AT_FULL
            && full.at.distance(half.at) <= CORRECTION_PX
            // In a blurred frame the wider square tells the place better.
            && full.noise_px <= half.noise_px
    });
    if let Some(found) = full {
        let back = way_back(pyramid.level(0), 0, &template, found.at)?;
        return (back <= WAY_BACK_PX).then_some(Followed { found, sharp: true });
    }
    if half.likeness < LIKE_WHEN_BLURRED {
        return None;
    }
    let back = way_back(pyramid.level(1), 1, &half_template, half.at)?;
    (back <= WAY_BACK_PX).then_some(Followed { found: half, sharp: false })
}

/// At half size: from the start, and failing that by way of the quarter size.
fn at_half(
    pyramid: &Pyramid<'_>,
    patch: &Patch,
    stretch: &Matrix2<f64>,
    template: &Template,
    start: FramePoint,
) -> Option<Found> {
    let like = |found: &Found| found.likeness >= LIKE_AT_HALF;
    let straight = align(pyramid.level(1), 1, template, start).filter(like);
    if let Some(found) = straight.filter(|found| found.at.distance(start) < NEAR_PX) {
        return Some(found);
    }
    let top = PATCH_LEVELS - 1;
    let coarse = align(pyramid.level(top), top, &patch.template(top, stretch)?, start)?;
    align(pyramid.level(1), 1, template, coarse.at).filter(like)
}
