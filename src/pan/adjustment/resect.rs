//! One frame's pose from points that the key frames have fixed.
//!
//! A point's own uncertainty is added to its sighting's; what it shares with the key frames that
//! fixed it reaches the pose as `gain`, so that a frame far along a drifting pan drifts along.

use nalgebra::{DMatrix, DVector, Matrix2, Matrix2xX, Matrix3xX, Rotation3, Vector2, Vector3};

use super::adjusted::Adjusted;
use super::bundle::{COMMON, KeyPose};
use super::chain::ray;
use super::look::Look;
use super::misfits::middle_scale;
use super::turn_between::turn_between;
use super::weighing::Weighing;

/// Agreement of a first turn, radians: as for the chain of key frames.
const WITHIN: f64 = 0.006;
/// As for sightings in key frames.
const FARTHEST: f64 = 3.5;

/// One adjusted point in the frame.
#[derive(Clone, Copy, Debug)]
pub(super) struct FrameSighting {
    /// Index of the adjusted point.
    pub point: usize,
    /// Where, pixels.
    pub at: Vector2<f64>,
    /// Standard deviation, pixels.
    pub sd: f64,
}

/// What the neighbouring key frames say of a frame before it is looked at.
pub(super) struct Expected {
    /// Between the neighbours.
    pub pose: KeyPose,
    /// The neighbours by index, with their shares.
    pub neighbours: [(usize, f64); 2],
    /// Standard deviation of its ln zoom about that.
    pub zoom_sd: f64,
    /// Standard deviation of its place about that, each direction, nominal metres.
    pub shift_sd: f64,
}

/// A frame's pose.
pub(super) struct Resected {
    pub pose: KeyPose,
    /// By all unknowns of the key frames: one row for each unknown of the frame.
    pub gain: DMatrix<f64>,
    /// Covariance of what the key frames do not explain.
    pub own: DMatrix<f64>,
    /// Misfits of the believed sightings, pixels.
    pub misfits_px: Vec<f64>,
}

struct Seen {
    residual: Vector2<f64>,
    by_frame: Matrix2xX<f64>,
    look: Look,
    weight: Matrix2<f64>,
    square: f64,
}

/// `None` when fewer than three sightings agree on a pose.
pub(super) fn resect(
    adjusted: &Adjusted,
    sightings: &[FrameSighting],
    expected: &Expected,
) -> Option<Resected> {
    let mut pose = expected.pose;
    if adjusted.model.turns() {
        pose.turn = first_turn(adjusted, sightings, &pose)?;
    }
    let unknowns = adjusted.model.count();
    for _ in 0..12 {
        let seen = look(adjusted, sightings, &pose);
        let squares: Vec<f64> = seen.iter().flatten().map(|seen| seen.square).collect();
        let scale = middle_scale(&[squares], unknowns);
        let weighing = Weighing { scale, robust: true };
        let weights = seen.iter().map(|s| s.as_ref().map_or(0.0, |s| weighing.of(s.square).1));
        let weights: Vec<f64> = weights.collect();
        if !improve(adjusted, &seen, &weights, expected, &mut pose)? {
            break;
        }
    }
    let mut believed = Vec::new();
    for _ in 0..8 {
        let seen = look(adjusted, sightings, &pose);
        let fits = |s: &Option<Seen>| s.as_ref().is_some_and(|s| s.square <= FARTHEST.powi(2));
        believed = seen.iter().map(|s| f64::from(u8::from(fits(s)))).collect();
        if believed.iter().sum::<f64>() < 3.0 {
            return None;
        }
        if !improve(adjusted, &seen, &believed, expected, &mut pose)? {
            break;
        }
    }
    finish(adjusted, sightings, &believed, expected, pose)
}

fn first_turn(
    adjusted: &Adjusted,
    sightings: &[FrameSighting],
    expected: &KeyPose,
) -> Option<Rotation3<f64>> {
    let lens = adjusted.bundle.lens(expected.log_zoom);
    let pairs: Vec<(Vector3<f64>, Vector3<f64>)> = sightings
        .iter()
        .map(|s| {
            let offset = adjusted.bundle.points[s.point].seen_from(expected.shift);
            (offset.normalize(), ray(&lens, s.at))
        })
        .collect();
    turn_between(&pairs, WITHIN).map(|agreed| agreed.turn)
}

fn look(adjusted: &Adjusted, sightings: &[FrameSighting], pose: &KeyPose) -> Vec<Option<Seen>> {
    sightings
        .iter()
        .map(|s| {
            let point = &adjusted.bundle.points[s.point];
            let look = Look::of(&adjusted.bundle, adjusted.model, pose, point)?;
            let own = look.by_point * adjusted.inverses[s.point] * look.by_point.transpose();
            let noise = Matrix2::identity() * (s.sd * adjusted.scale).powi(2);
            let weight = (noise + own).try_inverse()?;
            let residual = look.at - s.at;
            let columns: Vec<Vector2<f64>> = adjusted
                .model
                .unknowns()
                .iter()
                .map(|&place| look.by_pose.column(place).into())
                .collect();
            let by_frame = if columns.is_empty() {
                Matrix2xX::zeros(0)
            } else {
                Matrix2xX::from_columns(&columns)
            };
            let square = residual.dot(&(weight * residual));
            Some(Seen { residual, by_frame, look, weight, square })
        })
        .collect()
}

/// Weights of what is expected, by the frame's unknowns.
fn expectations(adjusted: &Adjusted, expected: &Expected) -> DVector<f64> {
    let weights = adjusted.model.unknowns().iter().map(|place| match place {
        0..3 => 0.0,
        3 => expected.zoom_sd.powi(-2),
        _ => expected.shift_sd.powi(-2),
    });
    DVector::from_iterator(adjusted.model.count(), weights)
}

fn normal(
    adjusted: &Adjusted,
    seen: &[Option<Seen>],
    weights: &[f64],
    expected: &Expected,
) -> DMatrix<f64> {
    let mut normal = DMatrix::from_diagonal(&expectations(adjusted, expected));
    for (seen, &weight) in seen.iter().zip(weights) {
        if let Some(seen) = seen {
            normal += weight * seen.by_frame.transpose() * seen.weight * &seen.by_frame;
        }
    }
    normal
}

/// One Gauss–Newton step; whether it was worth another.
fn improve(
    adjusted: &Adjusted,
    seen: &[Option<Seen>],
    weights: &[f64],
    expected: &Expected,
    pose: &mut KeyPose,
) -> Option<bool> {
    if adjusted.model.count() == 0 {
        return Some(false);
    }
    let held = expectations(adjusted, expected);
    let off = adjusted.model.unknowns().iter().map(|&place| match place {
        0..3 => 0.0,
        3 => pose.log_zoom - expected.pose.log_zoom,
        _ => (pose.shift - expected.pose.shift)[place - 4],
    });
    let mut gradient = held.component_mul(&DVector::from_iterator(held.len(), off));
    for (seen, &weight) in seen.iter().zip(weights) {
        if let Some(seen) = seen {
            gradient += weight * seen.by_frame.transpose() * (seen.weight * seen.residual);
        }
    }
    let cholesky = normal(adjusted, seen, weights, expected).cholesky()?;
    let step = -cholesky.solve(&gradient);
    *pose = pose.stepped(adjusted.model, |i| step[i]);
    Some(-step.dot(&gradient) > 1e-6)
}

fn finish(
    adjusted: &Adjusted,
    sightings: &[FrameSighting],
    believed: &[f64],
    expected: &Expected,
    pose: KeyPose,
) -> Option<Resected> {
    let seen = look(adjusted, sightings, &pose);
    let all = adjusted.normal.gradient.len();
    let count = adjusted.model.count();
    let mut pull = DMatrix::zeros(count, all);
    let mut misfits_px = Vec::new();
    for ((seen, sighting), &weight) in seen.iter().zip(sightings).zip(believed) {
        let Some(seen) = seen.as_ref().filter(|_| weight > 0.0) else { continue };
        misfits_px.push(seen.residual.norm());
        let left = seen.by_frame.transpose() * seen.weight;
        for column in 0..COMMON {
            let by = &left * seen.look.by_common.column(column);
            pull.column_mut(column).axpy(-1.0, &by, 1.0);
        }
        // A point moves with the cameras that fixed it by −V⁻¹ Wᵀ.
        let block = &adjusted.normal.points[sighting.point];
        let by_point: Matrix3xX<f64> =
            (&left * seen.look.by_point * adjusted.inverses[sighting.point]).transpose();
        for (&column, cross) in block.columns.iter().zip(&block.cross) {
            let by = by_point.tr_mul(cross);
            pull.column_mut(column).axpy(1.0, &by, 1.0);
        }
    }
    let held = expectations(adjusted, expected);
    for (key, share) in expected.neighbours {
        if let Some(first) = super::bundle::Bundle::column_of(adjusted.model, key) {
            for i in 0..count {
                pull[(i, first + i)] += share * held[i];
            }
        }
    }
    if count == 0 {
        return Some(Resected { pose, gain: pull, own: DMatrix::zeros(0, 0), misfits_px });
    }
    let own = normal(adjusted, &seen, believed, expected).cholesky()?.inverse();
    Some(Resected { pose, gain: &own * pull, own, misfits_px })
}
