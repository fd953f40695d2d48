//! A scene rendered and followed, and the motion that the truth would be.

use std::time::Instant;

use groundline::arena::render::Renderer;
use groundline::pan::{
    CameraMotion, FrameMotion, Held, KeyPose, LumaView, MotionModel, MotionPiece, MotionPriors,
    Packed, Residuals, Tracker, TrackerSettings, adjust,
};
use groundline::quantity::{FrameNumber, Given};
use nalgebra::DMatrix;
use rayon::prelude::*;

use super::cases::Case;

/// What the tracker made of a scene.
pub struct Followed {
    pub motion: Option<CameraMotion>,
    /// Turn from the first frame to the last: found against true, degrees.
    pub end_off_deg: f64,
    /// How far the camera truly turned in all, degrees.
    pub turned_deg: f64,
    pub ms_a_frame: f64,
    pub adjust_s: f64,
}

/// Frames rendered side by side.
const SIDE_BY_SIDE: u32 = 8;

pub fn follow(case: &Case) -> Followed {
    let renderer = Renderer::new(&case.scene, &case.truth);
    let picture = case.scene.filming.picture;
    let frames: Vec<FrameNumber> = case.truth.frames.iter().map(|frame| frame.frame).collect();
    let frames_per_s = case.scene.filming.frames_per_s;
    let settings = TrackerSettings { frames_per_s, ..TrackerSettings::default() };
    let mut tracker = Tracker::new(picture, settings);
    let mut spent = 0.0;
    for some in frames.chunks(SIDE_BY_SIDE as usize) {
        let pictures: Vec<_> = some
            .par_iter()
            .map(|frame| image::DynamicImage::from(renderer.frame(*frame)).into_luma8())
            .collect();
        for (frame, luma) in some.iter().zip(&pictures) {
            let begun = Instant::now();
            let view = LumaView::new(picture, luma.width() as usize, luma.as_raw())
                .expect("a rendered picture is whole");
            tracker.push(*frame, view);
            spent += begun.elapsed().as_secs_f64();
        }
    }
    let begun = Instant::now();
    let motion = adjust(&tracker.finish(), &MotionPriors::unknown_phone(picture)).ok();
    let motion = motion.map(|adjustment| adjustment.motion);
    let adjust_s = begun.elapsed().as_secs_f64();
    let ends = [frames[0], frames[frames.len() - 1]];
    let [first, last] = [&case.truth.frames[0], &case.truth.frames[frames.len() - 1]]
        .map(|frame| frame.camera.pose.camera_from_ground);
    let true_turn = last * first.inverse();
    let found = motion.as_ref().and_then(|motion| motion.between(&ends).ok());
    let end_off_deg =
        found.map_or(f64::NAN, |found| (found.turns[1] * true_turn.inverse()).angle().to_degrees());
    Followed {
        motion,
        end_off_deg,
        turned_deg: true_turn.angle().to_degrees(),
        ms_a_frame: 1e3 * spent / frames.len() as f64,
        adjust_s,
    }
}

/// The true motion as if somebody had told it: turns to a millionth of a radian, places to 10 µm.
pub fn true_motion(case: &Case) -> CameraMotion {
    let frames = &case.truth.frames;
    let base = frames[0].camera;
    let model = MotionModel::HandheldZooming;
    let sds = [1e-6, 1e-6, 1e-6, 1e-6, 1e-5, 1e-5, 1e-5];
    let own = DMatrix::from_fn(7, 7, |i, j| if i == j { f64::powi(sds[i], 2) } else { 0.0 });
    let motions = frames.iter().map(|frame| {
        let pose = frame.camera.pose;
        let away = pose.position.vector() - base.pose.position.vector();
        FrameMotion {
            frame: frame.frame,
            held: Held::Well,
            pose: KeyPose {
                turn: pose.camera_from_ground * base.pose.camera_from_ground.inverse(),
                log_zoom: (frame.camera.lens.focal_px / base.lens.focal_px).ln(),
                shift: base.pose.camera_from_ground * away,
            },
            on: Vec::new(),
            gain: vec![0.0; 14],
            own: Packed::of(&own),
            points: (0, 0),
            residual_px: 0.0,
        }
    });
    let piece = MotionPiece {
        model,
        against: Vec::new(),
        keys: vec![frames[0].frame],
        log_focal: Given::new(base.lens.focal_px.ln(), 1e-5),
        k1: Given::new(base.lens.k1, 1e-5),
        covariance: Packed::of(&(1e-10 * DMatrix::identity(2, 2))),
        frames: motions.collect(),
        residuals: Residuals { seen: 0, believed: 0, median_px: 0.0, p95_px: 0.0, scale: 1.0 },
    };
    let picture = case.scene.filming.picture;
    CameraMotion { model, picture, pieces: vec![piece], lost: Vec::new() }
}
