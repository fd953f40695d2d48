//! How badly sightings fit, and which of them are no longer believed.

use super::bundle::Bundle;
use super::look::Look;
use super::sightings::PointSightings;

/// A sighting farther out than this many standard deviations is not one of this point: honest ones
/// get there once in five hundred.
const FARTHEST: f64 = 3.5;

/// Squared misfit of every sighting in stated standard deviations, point by point; infinite where
/// the point is behind the camera.
pub(super) fn squares(points: &[PointSightings], bundle: &Bundle) -> Vec<Vec<f64>> {
    points
        .iter()
        .zip(&bundle.points)
        .map(|(point, at)| {
            let square = |s: &super::sightings::KeySighting| {
                Look::place(bundle, &bundle.keys[s.key], at)
                    .map_or(f64::INFINITY, |place| (place - s.at).norm_squared() / s.sd.powi(2))
            };
            point.seen.iter().map(square).collect()
        })
        .collect()
}

/// Factor on the stated standard deviations that the middle of the misfits asks for; 1 or more.
/// `unknowns` is how many numbers were fitted.
pub(super) fn middle_scale(squares: &[Vec<f64>], unknowns: usize) -> f64 {
    if squares.iter().all(Vec::is_empty) {
        return 1.0;
    }
    let readings = 2.0 * squares.iter().map(Vec::len).sum::<usize>() as f64;
    let free = (readings - unknowns as f64).max(0.1 * readings);
    // The median of the squares of two standard normal numbers is 2 ln 2.
    let scale2 = middle_square(squares) / (2.0 * std::f64::consts::LN_2) * readings / free;
    scale2.sqrt().clamp(1.0, 1e4)
}

/// The median of all squares; 0 when there are none.
pub(super) fn middle_square(squares: &[Vec<f64>]) -> f64 {
    let mut all: Vec<f64> = squares.iter().flatten().copied().collect();
    if all.is_empty() {
        return 0.0;
    }
    let middle = all.len() / 2;
    *all.select_nth_unstable_by(middle, f64::total_cmp).1
}

/// Marks each sighting as believed or not; a point of which fewer than two sightings, or fewer
/// than half, are believed loses all of them: it moves by itself.
pub(super) fn judge(points: &mut [PointSightings], squares: &[Vec<f64>], scale: f64) {
    let limit = (FARTHEST * scale).powi(2);
    for (point, squares) in points.iter_mut().zip(squares) {
        let fitting = squares.iter().filter(|&&square| square <= limit).count();
        let kept = fitting >= 2 && 2 * fitting >= point.seen.len();
        for (sighting, &square) in point.seen.iter_mut().zip(squares) {
            sighting.used = kept && square <= limit;
        }
    }
}

/// Sightings in use of each key frame.
pub(super) fn used_by_key(points: &[PointSightings], keys: usize) -> Vec<usize> {
    let mut used = vec![0; keys];
    for sighting in points.iter().flat_map(PointSightings::used) {
        used[sighting.key] += 1;
    }
    used
}
