//! Starting values: turns from key frame to key frame, and where points then lie.

use nalgebra::{Rotation3, Vector2, Vector3};

use super::bundle::{Bundle, FarPoint, KeyPose};
use super::priors::MotionPriors;
use super::sightings::PointSightings;
use super::turn_between::turn_between;
use crate::scene::{FramePoint, Lens};

/// Pairs that agree to this angle support a turn, radians: a hand's sway between two key frames
/// moves near things by no more.
const WITHIN: f64 = 0.006;

/// Pairs needed to link two key frames.
const LEAST_LINK: usize = 4;

/// Turns of the key frames against the first; `None` for those that no chain of shared points
/// links to it.
pub(super) fn chain(
    points: &[PointSightings],
    keys: usize,
    lens: &Lens,
) -> Vec<Option<Rotation3<f64>>> {
    let shared = shared_points(points, keys);
    let mut turns = vec![None; keys];
    if let Some(first) = turns.first_mut() {
        *first = Some(Rotation3::identity());
    }
    for key in 1..keys {
        let mut earlier: Vec<usize> = (0..key).filter(|&e| turns[e].is_some()).collect();
        // Most shared points first, and the later of two with equally many.
        earlier.sort_by_key(|&e| (std::cmp::Reverse(shared[e * keys + key]), std::cmp::Reverse(e)));
        turns[key] = earlier.iter().take(4).find_map(|&from| {
            let pairs = pairs(points, from, key, lens);
            let agreed = turn_between(&pairs, WITHIN)?;
            let enough = agreed.agreeing >= LEAST_LINK && 4 * agreed.agreeing >= pairs.len();
            enough.then_some(agreed.turn * turns[from]?)
        });
    }
    turns
}

fn shared_points(points: &[PointSightings], keys: usize) -> Vec<usize> {
    let mut shared = vec![0; keys * keys];
    for point in points {
        for (i, a) in point.seen.iter().enumerate() {
            for b in &point.seen[i + 1..] {
                shared[a.key * keys + b.key] += 1;
            }
        }
    }
    shared
}

fn pairs(
    points: &[PointSightings],
    from: usize,
    to: usize,
    lens: &Lens,
) -> Vec<(Vector3<f64>, Vector3<f64>)> {
    let at = |point: &PointSightings, key: usize| {
        point.seen.iter().find(|s| s.key == key).map(|s| ray(lens, s.at))
    };
    points.iter().filter_map(|point| Some((at(point, from)?, at(point, to)?))).collect()
}

/// Direction of a picture point in its camera, unit length.
pub(super) fn ray(lens: &Lens, at: Vector2<f64>) -> Vector3<f64> {
    let ideal = lens.ideal_from_frame(FramePoint::new(at.x, at.y));
    Vector3::new(ideal.x, ideal.y, 1.0).normalize()
}

/// A bundle of linked key frames that only turn, its points where most of their sightings agree.
pub(super) fn first_bundle(
    points: &[PointSightings],
    turns: &[Rotation3<f64>],
    lens: &Lens,
    priors: &MotionPriors,
) -> Bundle {
    let far = points.iter().map(|point| {
        let rays: Vec<Vector3<f64>> =
            point.seen.iter().map(|s| turns[s.key].inverse() * ray(lens, s.at)).collect();
        FarPoint { toward: most_agreed(&rays), nearness: priors.nearness.value }
    });
    Bundle {
        centre: lens.centre,
        log_focal: lens.focal_px.ln(),
        k1: lens.k1,
        keys: turns.iter().map(|&turn| KeyPose { turn, ..KeyPose::reference() }).collect(),
        points: far.collect(),
    }
}

/// The mean of the directions near the one that all others are nearest to.
fn most_agreed(rays: &[Vector3<f64>]) -> Vector3<f64> {
    let sum_off = |ray: &Vector3<f64>| rays.iter().map(|other| (ray - other).norm()).sum::<f64>();
    let middle = rays.iter().min_by(|a, b| sum_off(a).total_cmp(&sum_off(b)));
    let Some(middle) = middle else { return Vector3::z() };
    let near = rays.iter().filter(|ray| (*ray - middle).norm() < 2.0 * WITHIN);
    near.sum::<Vector3<f64>>().normalize()
}
