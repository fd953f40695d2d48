//! Starting values: turns and zooms from key frame to key frame, and where points then lie.

use nalgebra::{Rotation3, Vector2, Vector3};

use super::bundle::{Bundle, FarPoint, KeyPose};
use super::priors::MotionPriors;
use super::sightings::{KeySighting, PointSightings};
use super::turn_between::turn_between;
use crate::scene::{FramePoint, Lens};

/// Pairs that agree to this angle support a turn, radians: a hand's sway between two key frames
/// moves near things by no more.
const WITHIN: f64 = 0.006;

/// Pairs needed to link two key frames.
const LEAST_LINK: usize = 4;

/// What links a key frame to the first.
#[derive(Clone, Copy, Debug)]
pub(super) struct Link {
    /// Turns directions of the first into its own.
    pub turn: Rotation3<f64>,
    /// Natural logarithm of its focal length over that of the first.
    pub log_zoom: f64,
}

impl Link {
    fn none() -> Self {
        Self { turn: Rotation3::identity(), log_zoom: 0.0 }
    }
}

/// Links of the key frames to the first; `None` for those that no chain of shared points gives one.
pub(super) fn chain(points: &[PointSightings], keys: usize, lens: &Lens) -> Vec<Option<Link>> {
    let shared = shared_points(points, keys);
    let mut links = vec![None; keys];
    if let Some(first) = links.first_mut() {
        *first = Some(Link::none());
    }
    for key in 1..keys {
        let mut earlier: Vec<usize> = (0..key).filter(|&e| links[e].is_some()).collect();
        // Most shared points first, and the later of two with equally many.
        earlier.sort_by_key(|&e| (std::cmp::Reverse(shared[e * keys + key]), std::cmp::Reverse(e)));
        links[key] = earlier.iter().take(4).find_map(|&from| {
            let base: Link = links[from]?;
            link(points, (from, key), lens, base)
        });
    }
    links
}

/// Steps of ln zoom that are tried: coarse ones, then fine ones about the best.
const ZOOM_STEPS: [(f64, i32); 2] = [(0.03, 8), (0.01, 2)];

/// Where this share of the pairs agrees without a zoom, none is looked for.
const NO_ZOOM_NEEDED: f64 = 0.9;

fn link(
    points: &[PointSightings],
    (from, to): (usize, usize),
    lens: &Lens,
    base: Link,
) -> Option<Link> {
    let try_with = |log_zoom: f64| {
        let pairs =
            pairs(points, (from, to), (&zoomed(lens, base.log_zoom), &zoomed(lens, log_zoom)));
        let agreed = turn_between(&pairs, WITHIN)?;
        Some((agreed.agreeing, pairs.len(), Link { turn: agreed.turn * base.turn, log_zoom }))
    };
    let mut best = try_with(base.log_zoom)?;
    if (best.0 as f64) < NO_ZOOM_NEEDED * best.1 as f64 {
        for (step, most) in ZOOM_STEPS {
            let middle = best.2.log_zoom;
            for count in (-most..=most).filter(|count| *count != 0) {
                let Some(other) = try_with(middle + step * f64::from(count)) else { continue };
                // A zoom is believed for what it brings, not for a pair or two.
                if 20 * other.0 > 21 * best.0 {
                    best = other;
                }
            }
        }
    }
    let (agreeing, pairs, link) = best;
    (agreeing >= LEAST_LINK && 4 * agreeing >= pairs).then_some(link)
}

/// The lens zoomed.
pub(super) fn zoomed(lens: &Lens, log_zoom: f64) -> Lens {
    Lens { focal_px: lens.focal_px * log_zoom.exp(), ..*lens }
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
    (from, to): (usize, usize),
    (lens_from, lens_to): (&Lens, &Lens),
) -> Vec<(Vector3<f64>, Vector3<f64>)> {
    let at = |point: &PointSightings, key: usize, lens: &Lens| {
        point.seen.iter().find(|s| s.key == key).map(|s| ray(lens, s.at))
    };
    let pair = |point| Some((at(point, from, lens_from)?, at(point, to, lens_to)?));
    points.iter().filter_map(pair).collect()
}

/// Direction of a picture point in its camera, unit length.
pub(super) fn ray(lens: &Lens, at: Vector2<f64>) -> Vector3<f64> {
    let ideal = lens.ideal_from_frame(FramePoint::new(at.x, at.y));
    Vector3::new(ideal.x, ideal.y, 1.0).normalize()
}

/// A bundle of linked key frames that turn and zoom, its points where most of their sightings agree.
pub(super) fn first_bundle(
    points: &[PointSightings],
    links: &[Link],
    lens: &Lens,
    priors: &MotionPriors,
) -> Bundle {
    let lenses: Vec<Lens> = links.iter().map(|link| zoomed(lens, link.log_zoom)).collect();
    let far = points.iter().map(|point| {
        let own = |s: &KeySighting| links[s.key].turn.inverse() * ray(&lenses[s.key], s.at);
        let rays: Vec<Vector3<f64>> = point.seen.iter().map(own).collect();
        FarPoint { toward: most_agreed(&rays), nearness: priors.nearness.value }
    });
    Bundle {
        centre: lens.centre,
        log_focal: lens.focal_px.ln(),
        k1: lens.k1,
        keys: links
            .iter()
            .map(|&Link { turn, log_zoom }| KeyPose { turn, log_zoom, ..KeyPose::reference() })
            .collect(),
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
