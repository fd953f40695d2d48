//! Starting distances for points of a camera whose place changes.
//!
//! With all points equally far, a shift looks like a turn and nothing says which is nearer. And
//! what is near against what is far can be exchanged when all shifts are reversed, almost without
//! a trace (Necker's cube): so a descent is started from low things being near, and once more from
//! its own end turned inside out.

use nalgebra::Vector3;

use super::bundle::Bundle;
use super::sightings::PointSightings;

/// `bundle` with points at the bottom of the picture nearer than those at the top.
pub(super) fn deepened(bundle: &Bundle, points: &[PointSightings]) -> Bundle {
    let mut deep = bundle.clone();
    for (at, point) in deep.points.iter_mut().zip(points) {
        at.nearness *= (1.5 * (height_in(point) / bundle.centre.y - 1.0).clamp(-1.0, 1.0)).exp();
    }
    deep
}

/// Nearness of the sky-line and of what is seen at the picture's lower edge, 1 per nominal metre.
const FAR: f64 = 0.01;
const NEAR: f64 = 0.15;

/// `bundle` from a camera that keeps its place, over ground that comes nearer towards the picture's
/// lower edge.
pub(super) fn by_height(bundle: &Bundle, points: &[PointSightings]) -> Bundle {
    let mut begun = bundle.clone();
    for (at, point) in begun.points.iter_mut().zip(points) {
        let below = (height_in(point) / bundle.centre.y - 1.0).clamp(0.0, 1.0);
        at.nearness = FAR + below * (NEAR - FAR);
    }
    for key in &mut begun.keys {
        key.shift = Vector3::zeros();
    }
    begun
}

/// Whether points in the lower half of the picture are nearer than those in the upper one, as
/// middles go.
pub(super) fn low_is_near(bundle: &Bundle, points: &[PointSightings]) -> bool {
    let middle_of = |low: bool| {
        let of_half = bundle.points.iter().zip(points);
        let mut nearness: Vec<f64> = of_half
            .filter(|(_, point)| (height_in(point) > bundle.centre.y) == low)
            .map(|(at, _)| at.nearness)
            .collect();
        nearness.sort_by(f64::total_cmp);
        nearness.get(nearness.len() / 2).copied()
    };
    // With points in one half only nothing speaks against it.
    middle_of(true).zip(middle_of(false)).is_none_or(|(low, high)| low >= high)
}

/// Where a point lies from the picture's upper edge, pixels, on the average.
fn height_in(point: &PointSightings) -> f64 {
    point.seen.iter().map(|s| s.at.y).sum::<f64>() / point.seen.len().max(1) as f64
}

/// `bundle` with near and far exchanged about the middle point, and shifts reversed.
pub(super) fn reversed(bundle: &Bundle) -> Bundle {
    let mut sorted: Vec<f64> = bundle.points.iter().map(|point| point.nearness).collect();
    sorted.sort_by(f64::total_cmp);
    let middle = sorted.get(sorted.len() / 2).copied().unwrap_or(0.0);
    let mut inside_out = bundle.clone();
    for point in &mut inside_out.points {
        // What lay at infinity has the other side at twice the middle; nothing lies beyond it.
        point.nearness = (2.0 * middle - point.nearness).max(0.0);
    }
    for key in &mut inside_out.keys {
        key.shift = -key.shift;
    }
    inside_out
}
