//! Starting distances for points of a camera whose place changes.
//!
//! With all points equally far, a shift looks like a turn and nothing says which is nearer. And
//! what is near against what is far can be exchanged when all shifts are reversed, almost without
//! a trace (Necker's cube): so a descent is started from low things being near, and once more from
//! its own end turned inside out.

use super::bundle::Bundle;
use super::sightings::PointSightings;

/// `bundle` with points at the bottom of the picture nearer than those at the top.
pub(super) fn deepened(bundle: &Bundle, points: &[PointSightings]) -> Bundle {
    let mut deep = bundle.clone();
    for (at, point) in deep.points.iter_mut().zip(points) {
        let middle = point.seen.iter().map(|s| s.at.y).sum::<f64>() / point.seen.len() as f64;
        at.nearness *= (1.5 * (middle / bundle.centre.y - 1.0).clamp(-1.0, 1.0)).exp();
    }
    deep
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
