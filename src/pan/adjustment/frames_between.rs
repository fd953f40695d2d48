//! Every frame of a piece: key frames as adjusted, the others resected against them.

use std::collections::BTreeMap;

use nalgebra::{DMatrix, Rotation3, UnitQuaternion};
use rayon::prelude::*;

use super::adjusted::Adjusted;
use super::bundle::{Bundle, COMMON, KeyPose};
use super::misfits::squares;
use super::motion::FrameMotion;
use super::packed::Packed;
use super::resect::{Expected, FrameSighting, Resected, resect};
use super::sightings::believed_sd;
use super::tracks::{Held, TrackedFrame};
use crate::quantity::FrameNumber;

/// Fewer believed points than this follow a frame poorly.
const WELL: usize = 10;

/// A hand between two key frames strays from the straight way by this much, nominal metres: a
/// sway of 5 cm at half a hertz does not in half a second. No source.
const SHIFT_STRAY_M: f64 = 0.03;
/// The same of ln zoom.
const ZOOM_STRAY: f64 = 0.02;

/// Motions of `frames`, in their order; those that cannot be followed are left out.
pub(super) fn frames_of(
    adjusted: &Adjusted,
    keys: &[FrameNumber],
    frames: &[&TrackedFrame],
) -> Vec<FrameMotion> {
    let index: BTreeMap<u32, usize> =
        adjusted.points.iter().enumerate().map(|(i, point)| (point.point, i)).collect();
    let misfits = key_misfits(adjusted);
    frames
        .par_iter()
        .filter_map(|frame| match keys.binary_search(&frame.frame) {
            Ok(key) => Some(key_motion(adjusted, key, frame, &misfits[key])),
            Err(after) => between(adjusted, keys, after, frame, &index),
        })
        .collect()
}

fn key_misfits(adjusted: &Adjusted) -> Vec<Vec<f64>> {
    let mut by_key = vec![Vec::new(); adjusted.bundle.keys.len()];
    for (point, squares) in adjusted.points.iter().zip(squares(&adjusted.points, &adjusted.bundle))
    {
        for (sighting, square) in point.seen.iter().zip(squares).filter(|(s, _)| s.used) {
            by_key[sighting.key].push(square.sqrt() * sighting.sd);
        }
    }
    by_key
}

fn key_motion(
    adjusted: &Adjusted,
    key: usize,
    frame: &TrackedFrame,
    misfits: &[f64],
) -> FrameMotion {
    let count = adjusted.model.count();
    let on: Vec<u32> = (key > 0).then_some(key as u32).into_iter().collect();
    let width = COMMON + on.len() * count;
    let gain = DMatrix::from_fn(count, width, |i, j| f64::from(u8::from(j == COMMON + i)));
    FrameMotion {
        frame: frame.frame,
        held: held(frame, misfits.len()),
        pose: adjusted.bundle.keys[key],
        on,
        gain: gain.transpose().iter().map(|&value| value as f32).collect(),
        own: Packed::zeros(count),
        points: (misfits.len() as u32, frame.sightings.len() as u32),
        residual_px: median(misfits),
    }
}

fn between(
    adjusted: &Adjusted,
    keys: &[FrameNumber],
    after: usize,
    frame: &TrackedFrame,
    index: &BTreeMap<u32, usize>,
) -> Option<FrameMotion> {
    let sightings: Vec<FrameSighting> = frame
        .sightings
        .iter()
        .filter_map(|s| {
            let point = *index.get(&s.point)?;
            Some(FrameSighting { point, at: s.at.vector(), sd: believed_sd(s.sd_px) })
        })
        .collect();
    let expected = expected(adjusted, keys, after, frame.frame);
    let resected = resect(adjusted, &sightings, &expected)?;
    let mut on: Vec<u32> = expected
        .neighbours
        .iter()
        .filter(|(key, _)| *key > 0)
        .map(|(key, _)| *key as u32)
        .collect();
    on.dedup();
    let (gain, own) = conditioned(adjusted, &resected, &on)?;
    let believed = resected.misfits_px.len();
    Some(FrameMotion {
        frame: frame.frame,
        held: held(frame, believed),
        pose: resected.pose,
        on,
        gain: gain.transpose().iter().map(|&value| value as f32).collect(),
        own: Packed::of(&own),
        points: (believed as u32, frame.sightings.len() as u32),
        residual_px: median(&resected.misfits_px),
    })
}

fn held(frame: &TrackedFrame, believed: usize) -> Held {
    if believed >= WELL && 2 * believed >= frame.sightings.len() {
        frame.held
    } else {
        Held::Poorly
    }
}

fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted.get(sorted.len() / 2).copied().unwrap_or(0.0)
}

/// What the key frames on both sides say; before the first and after the last, the end one alone.
fn expected(
    adjusted: &Adjusted,
    keys: &[FrameNumber],
    after: usize,
    frame: FrameNumber,
) -> Expected {
    let late = after.min(keys.len() - 1);
    let early = after.saturating_sub(1);
    let gap = f64::from(keys[late].0.saturating_sub(keys[early].0)).max(1.0);
    let share = (f64::from(frame.0) - f64::from(keys[early].0)).max(0.0) / gap;
    let share = share.clamp(0.0, 1.0);
    let (a, b) = (&adjusted.bundle.keys[early], &adjusted.bundle.keys[late]);
    let turn = UnitQuaternion::from_rotation_matrix(&a.turn)
        .try_slerp(&UnitQuaternion::from_rotation_matrix(&b.turn), share, 1e-12)
        .map_or(a.turn, |turn| Rotation3::from(turn.to_rotation_matrix()));
    Expected {
        pose: KeyPose {
            turn,
            log_zoom: a.log_zoom + share * (b.log_zoom - a.log_zoom),
            shift: a.shift + share * (b.shift - a.shift),
        },
        neighbours: [(early, 1.0 - share), (late, share)],
        zoom_sd: ZOOM_STRAY,
        shift_sd: SHIFT_STRAY_M,
    }
}

/// A frame's error told by that of the key frames it hangs `on`: the gain that best foretells it
/// from them, and what is left.
fn conditioned(
    adjusted: &Adjusted,
    resected: &Resected,
    on: &[u32],
) -> Option<(DMatrix<f64>, DMatrix<f64>)> {
    let mut columns: Vec<usize> = (0..COMMON).collect();
    for &key in on {
        let first = Bundle::column_of(adjusted.model, key as usize)?;
        columns.extend(first..first + adjusted.model.count());
    }
    let with_all = &resected.gain * &adjusted.covariance;
    let with_some = with_all.select_columns(&columns);
    let some = adjusted.covariance.select_columns(&columns).select_rows(&columns);
    let gain = some.cholesky()?.solve(&with_some.transpose()).transpose();
    let left = &with_all * resected.gain.transpose() - &gain * with_some.transpose();
    Some((gain, &resected.own + left))
}
