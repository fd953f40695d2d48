use nalgebra::{DMatrix, DVector, Rotation3, Vector3};

use super::*;
use crate::marks::{MarkAddress, MarksFile, Motion};
use crate::pan::{MotionModel, RelativeMotion};
use crate::quantity::FrameNumber;
use crate::survey::adjust::survey_as_marked;
use crate::survey::build::build;
use crate::survey::gauge::Gauge;
use crate::survey::least_squares::Problem;
use crate::survey::outcome::Survey;
use crate::survey::start::Start;
use crate::survey::survey;
use crate::survey::tests::{marks, marks_of_every_kind, scene};

/// A motion of frames whose covariance joins everything.
fn relative(model: MotionModel, frames: &[u32], focal_px: f64) -> RelativeMotion {
    let size = 2 + (frames.len() - 1) * model.count();
    let mixed = DMatrix::from_fn(size, size, |i, j| {
        if i == j { 0.01 } else { 0.002 * ((i * 5 + j * 3) % 7) as f64 / 7.0 }
    });
    let small = |i: usize, by: f64| by * ((i * 7 % 5) as f64 - 2.0);
    RelativeMotion {
        model,
        frames: frames.iter().map(|frame| FrameNumber(*frame)).collect(),
        turns: (0..frames.len())
            .map(|i| {
                Rotation3::new(Vector3::new(small(i, 0.01), small(i + 1, 0.02), small(i + 2, 0.01)))
            })
            .collect(),
        log_zooms: (0..frames.len()).map(|i| small(i, 0.01)).collect(),
        shifts: (0..frames.len())
            .map(|i| Vector3::new(small(i, 0.01), small(i + 3, 0.01), small(i + 1, 0.02)))
            .collect(),
        log_focal: focal_px.ln() + 0.01,
        k1: 0.01,
        covariance: &mixed * mixed.transpose() + 1e-6 * DMatrix::identity(size, size),
    }
}

const FRAMES: [u32; 8] = [0, 36, 72, 108, 144, 180, 216, 252];

#[test]
fn derivatives_of_observed_motion_agree_with_central_differences() {
    let file = marks_of_every_kind();
    let gauge = Gauge::choose(&file).unwrap();
    for model in MotionModel::ALL {
        let motions = [
            relative(model, &FRAMES[..5], 1600.0),
            // A second piece of the clip.
            relative(model, &FRAMES[5..], 1600.0),
        ];
        let start = Start::find(&file, &gauge, &[]).unwrap().remove(0);
        let built = build(&file, &gauge, &start, &motions);
        assert_eq!(built.motions.len(), 2);
        assert_eq!(
            built.poses.iter().filter(|p| p.zoom.is_some()).count(),
            if model.zooms() { 7 } else { 0 }
        );
        let mut x = built.unknowns.start();
        for (i, value) in x.iter_mut().enumerate() {
            *value += 0.003 * ((i * 7 % 11) as f64 - 5.0);
        }
        let rows = built.rows(&x).unwrap();
        let own = (0..rows.len()).rev().take(motions.iter().map(|m| m.covariance.nrows()).sum());
        let own: Vec<usize> = own.collect();
        for column in 0..x.len() {
            let moved = |by: f64| {
                let mut at = x.clone();
                at[column] += by;
                built.rows(&at).unwrap()
            };
            let (ahead, behind) = (moved(1e-6), moved(-1e-6));
            for &row in &own {
                let found: f64 =
                    rows.derivatives(row).filter(|(c, _)| *c == column).map(|(_, v)| v).sum();
                let expected = (ahead.residual(row) - behind.residual(row)) / 2e-6;
                // Of a turn's misfit the derivative is right to second order in the misfit, which
                // is a tenth of a radian here and thousands of times less in any clip.
                assert!(
                    (found - expected).abs() < 2e-2 * expected.abs().max(1.0),
                    "{model}: row {row}, column {column}: {found} against {expected}"
                );
            }
        }
    }
}

#[test]
fn rows_are_whitened() {
    // The sum of their squares is the squared misfit over the covariance.
    let file = marks_of_every_kind();
    let gauge = Gauge::choose(&file).unwrap();
    let motion = relative(MotionModel::HandheldZooming, &FRAMES, 1600.0);
    let start = Start::find(&file, &gauge, &[]).unwrap().remove(0);
    let built = build(&file, &gauge, &start, std::slice::from_ref(&motion));
    let x = built.unknowns.start();
    let plain = built.motions[0].plain(&built, &x);
    let misfit = DVector::from_iterator(plain.len(), plain.iter().map(|(value, _)| *value));
    let mut covariance = motion.covariance.clone();
    covariance[(0, 0)] += lens_error(&motion).powi(2);
    add_frame_errors(&built.motions[0].kept, &mut covariance);
    let expected = misfit.dot(&covariance.cholesky().unwrap().solve(&misfit));
    let mut rows = Rows::default();
    built.motions[0].push(&built, &x, &mut rows);
    assert!((2.0 * rows.cost() - expected).abs() < 1e-6 * expected, "{} {expected}", rows.cost());
}

/// The plain scene, filmed as if the camera had been turned: hooves are marked on frames of their
/// own, and nothing still is marked there.
fn only_hooves_elsewhere() -> MarksFile {
    let mut file = marks(&scene(18.0), 0.4, 1.5, 3);
    file.camera.motion = Motion::Turning { sway_sd_m: 0.0 };
    file
}

fn exact(file: &MarksFile, focal_px: f64, turn_sd: f64) -> RelativeMotion {
    let mut frames: Vec<u32> =
        file.places().iter().flat_map(|(_, marks)| marks.iter().map(|m| m.frame.0)).collect();
    frames.sort_unstable();
    frames.dedup();
    let model = MotionModel::Turning;
    let size = 2 + (frames.len() - 1) * model.count();
    // Drift: each frame's turn errs by a step more than that of the frame before.
    let covariance = DMatrix::from_fn(size, size, |i, j| match (i, j) {
        (0, 0) => 0.05f64.powi(2),
        (1, 1) => 0.02f64.powi(2),
        (i, j) if i >= 2 && j >= 2 && (i - 2) % 3 == (j - 2) % 3 => {
            ((i.min(j) - 2) / 3 + 1) as f64 * turn_sd * turn_sd
        }
        _ => 0.0,
    });
    RelativeMotion {
        model,
        turns: vec![Rotation3::identity(); frames.len()],
        log_zooms: vec![0.0; frames.len()],
        shifts: vec![Vector3::zeros(); frames.len()],
        log_focal: focal_px.ln(),
        k1: 0.0,
        covariance,
        frames: frames.into_iter().map(FrameNumber).collect(),
    }
}

fn sd_of_last_minus_first(file: &MarksFile, survey: &Survey) -> f64 {
    let hooves: Vec<MarkAddress> = file
        .places()
        .into_iter()
        .map(|(address, _)| address)
        .filter(|address| matches!(address, MarkAddress::Footfall { .. }))
        .collect();
    let ends = [hooves[0].clone(), hooves[hooves.len() - 1].clone()];
    let draws = survey.posterior.draws(&ends, 500, 1).unwrap();
    let along: Vec<f64> = (0..500)
        .map(|i| draws.place(&ends[1], i).unwrap().x - draws.place(&ends[0], i).unwrap().x)
        .collect();
    let mean = along.iter().sum::<f64>() / 500.0;
    (along.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / 499.0).sqrt()
}

#[test]
fn frames_without_anything_still_are_joined_by_the_motion_and_drift_widens_what_is_far() {
    let file = only_hooves_elsewhere();
    // Without motion nothing tells where the camera looked.
    let alone = survey(&file).unwrap();
    assert!(!alone.doubts.is_empty());
    let focal_px = scene(18.0).camera.lens.focal_px;
    let followed = |turn_sd: f64| {
        let motion = exact(&file, focal_px, turn_sd);
        survey_as_marked(&file, &[motion]).unwrap()
    };
    let (steady, drifting) = (followed(1e-6), followed(1e-3));
    let joined = |survey: &Survey| {
        !survey
            .doubts
            .iter()
            .any(|d| matches!(d, crate::survey::SurveyDoubt::FrameNotJoined { .. }))
    };
    assert!(joined(&steady) && joined(&drifting), "{:?}", steady.doubts);
    // As a camera that stood still, since that is what it did.
    let mut still = file.clone();
    still.camera.motion = Motion::Fixed;
    let still = survey(&still).unwrap();
    for (address, place) in &still.places {
        let found = steady.places[address];
        // Eight horizons are believed instead of one; some centimetres follow from that.
        assert!(found.distance(*place) < 0.05, "{address}: {found:?} for {place:?}");
    }
    let (narrow, wide) =
        (sd_of_last_minus_first(&file, &steady), sd_of_last_minus_first(&file, &drifting));
    assert!(wide > 1.2 * narrow, "{narrow} {wide}");
}
