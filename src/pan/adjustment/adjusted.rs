//! The last fit: only sightings that are believed, by least squares, with its covariance.

use nalgebra::{DMatrix, Matrix3, Vector3};
use serde::{Deserialize, Serialize};

use super::bundle::{Bundle, FarPoint};
use super::descend::descend;
use super::fit::{Fit, Piece};
use super::misfits::{judge, squares, used_by_key};
use super::motion_model::MotionModel;
use super::normal::Normal;
use super::priors::{MotionPriors, NearnessCost, weight};
use super::reduce::Reduced;
use super::sightings::PointSightings;
use super::weighing::Weighing;

/// Rounds of judging sightings and fitting again; what is believed seldom changes after two.
const ROUNDS: usize = 4;

/// A point of the background that is believed not to move.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct FoundPoint {
    /// Its number in the tracks.
    pub point: u32,
    /// Index of the piece it belongs to.
    pub piece: u32,
    /// Direction from the piece's reference camera, unit length.
    pub toward: Vector3<f64>,
    /// One over its distance, 1 per nominal metre; what was believed of it where
    /// the model has no shifts.
    pub nearness: f64,
    /// Standard deviation of `nearness` while the cameras are held fast.
    pub nearness_sd: f64,
}

/// One piece, adjusted.
pub(super) struct Adjusted {
    pub model: MotionModel,
    pub bundle: Bundle,
    /// The points that are believed, with all of their sightings.
    pub points: Vec<PointSightings>,
    pub scale: f64,
    pub normal: Normal,
    /// Covariance of each point while the cameras are held fast.
    pub inverses: Vec<Matrix3<f64>>,
    /// Joint covariance of the cameras.
    pub covariance: DMatrix<f64>,
}

/// Why a piece cannot be adjusted as it is.
pub(super) enum Refused {
    /// These key frames see too little that is believed.
    WeakKeys(Vec<usize>),
    /// The equations have no solution.
    Undetermined,
}

/// Believed sightings that a key frame needs.
fn least_sightings(model: MotionModel) -> usize {
    if model.shifts() { 6 } else { 4 }
}

/// Lets go of what does not fit and fits the rest.
pub(super) fn refine(piece: &Piece<'_>, fit: &Fit) -> Result<Adjusted, Refused> {
    let mut points = piece.points.to_vec();
    let mut bundle = fit.bundle.clone();
    let mut scale = fit.scale;
    let mut last = None;
    for _ in 0..ROUNDS {
        let misfits = squares(&points, &bundle);
        judge(&mut points, &misfits, scale);
        drop_absurd(&mut points, &bundle.points);
        (points, bundle.points) = believed(points, &bundle.points);
        let used = used_by_key(&points, piece.keys);
        let weak: Vec<usize> =
            (0..piece.keys).filter(|&key| used[key] < least_sightings(fit.model)).collect();
        if !weak.is_empty() {
            return Err(Refused::WeakKeys(weak));
        }
        let now = Piece { points: &points, ..*piece };
        let task = now.task(fit.model, Weighing { scale, robust: false });
        bundle = descend(&task, bundle, 20).bundle;
        let normal = task.normal(&bundle);
        let reduced = Reduced::of(&normal, 0.0).ok_or(Refused::Undetermined)?;
        scale = believed_scale(&points, &bundle, fit.model, &reduced, piece.priors);
        last = Some((normal, reduced));
    }
    let (normal, reduced) = last.ok_or(Refused::Undetermined)?;
    Ok(Adjusted {
        model: fit.model,
        covariance: reduced.covariance(),
        inverses: reduced.inverses,
        bundle,
        points,
        scale,
        normal,
    })
}

/// Lets go of points whose distance is nothing that a background has: two sightings of something
/// that moves agree on a distance that is far too near, or behind the camera.
fn drop_absurd(points: &mut [PointSightings], places: &[FarPoint]) {
    for (point, place) in points.iter_mut().zip(places) {
        if NearnessCost::absurd(place.nearness) {
            point.seen.iter_mut().for_each(|sighting| sighting.used = false);
        }
    }
}

/// Points with a believed sighting.
fn believed(
    points: Vec<PointSightings>,
    places: &[FarPoint],
) -> (Vec<PointSightings>, Vec<FarPoint>) {
    points.into_iter().zip(places).filter(|(point, _)| point.used().next().is_some()).unzip()
}

/// Factor on the stated standard deviations by χ² over what is left free.
fn believed_scale(
    points: &[PointSightings],
    bundle: &Bundle,
    model: MotionModel,
    reduced: &Reduced,
    priors: &MotionPriors,
) -> f64 {
    let misfits = squares(points, bundle);
    let used = points.iter().zip(&misfits).flat_map(|(point, misfits)| {
        point.seen.iter().zip(misfits).filter(|(s, _)| s.used).map(|(_, square)| *square)
    });
    let (count, chi2) = used.fold((0, 0.0), |(count, sum), square| (count + 1, sum + square));
    // A distance is fitted by the share that its belief does not hold.
    let of_points: f64 = if model.shifts() {
        let belief = weight(priors.nearness);
        reduced.inverses.iter().map(|own| 3.0 - (belief * own[(2, 2)]).min(1.0)).sum()
    } else {
        2.0 * points.len() as f64
    };
    let cameras = ((bundle.keys.len() - 1) * model.count()) as f64;
    let free = (2.0 * f64::from(count) - of_points - cameras).max(1.0);
    (chi2 / free).sqrt().max(1.0)
}
