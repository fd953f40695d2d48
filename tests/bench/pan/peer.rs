//! The same clips followed by OpenCV in its usual way (`tests/outside/pan_opencv.py`): corners,
//! pyramidal Lucas–Kanade there and back, homographies from frame to frame and their chain.
//!
//! The camera turns on a stand, so that a chain of homographies is all that is needed; both are
//! given the same pictures and two threads.

use std::path::Path;
use std::process::Command;
use std::time::Instant;

use groundline::arena::render::Renderer;
use groundline::arena::{Handling, Truth};
use groundline::pan::{LumaView, MotionPriors, Tracker, TrackerSettings, adjust};
use groundline::scene::{Camera, FramePoint, Lens, PictureSize};
use rayon::prelude::*;
use serde_json::{Value, json};

use crate::design::{Arrangement, scene};

/// One clip followed by both.
pub struct Peer {
    pub picture: PictureSize,
    pub ours_ms: f64,
    pub ours_off_px: f64,
    pub theirs_ms: f64,
    pub theirs_off_px: f64,
}

/// `None` where the Python with OpenCV is not named by `GROUNDLINE_PYTHON`.
pub fn peers() -> Option<Vec<Peer>> {
    let python = std::env::var_os("GROUNDLINE_PYTHON")?;
    let clips = [(1920, 1080, 1), (1920, 1080, 2), (1280, 720, 3), (1280, 720, 4)];
    Some(
        clips
            .map(|(width, height, seed)| {
                one(Path::new(&python), PictureSize { width, height }, seed)
            })
            .into(),
    )
}

fn one(python: &Path, picture: PictureSize, seed: u64) -> Peer {
    let mut scene = scene(Arrangement::InTheHand, seed);
    scene.filming.handling = Handling::Turning { tremor_deg: 0.12, sway_sd_m: 0.0, zoom_to: 1.0 };
    scene.filming.frames_per_s = 30.0;
    scene.filming.picture = picture;
    let truth = Truth::of(&scene).expect("the design scene can be filmed");
    let renderer = Renderer::new(&scene, &truth);
    let folder = tempfile::tempdir().expect("a folder for the pictures");
    let pictures: Vec<image::GrayImage> = truth
        .frames
        .par_iter()
        .map(|frame| image::DynamicImage::from(renderer.frame(frame.frame)).into_luma8())
        .collect();
    let settings = TrackerSettings { frames_per_s: 30.0, ..TrackerSettings::default() };
    let mut tracker = Tracker::new(picture, settings);
    let begun = Instant::now();
    for (frame, luma) in truth.frames.iter().zip(&pictures) {
        let view = LumaView::new(picture, picture.width as usize, luma.as_raw());
        tracker.push(frame.frame, view.expect("a rendered picture is whole"));
    }
    let ours_ms = 1e3 * begun.elapsed().as_secs_f64() / pictures.len() as f64;
    let motion = adjust(&tracker.finish(), &MotionPriors::unknown_phone(picture));
    let motion = motion.expect("a rendered clip is followed").motion;
    let (first, last) = (&truth.frames[0], &truth.frames[truth.frames.len() - 1]);
    let found = motion.between(&[first.frame, last.frame]).expect("followed to its end");
    let own = Lens {
        focal_px: (found.log_focal + found.log_zooms[1]).exp(),
        centre: picture.centre(),
        k1: found.k1,
    };
    let ours_off_px = off_px(&first.camera, &last.camera, |at| {
        let ideal = own.ideal_from_frame(at);
        found.turns[1].inverse() * nalgebra::Vector3::new(ideal.x, ideal.y, 1.0)
    });
    for (number, luma) in pictures.iter().enumerate() {
        let mut bytes = format!("P5\n{} {}\n255\n", picture.width, picture.height).into_bytes();
        bytes.extend(luma.as_raw());
        let path = folder.path().join(format!("{number:05}.pgm"));
        std::fs::write(path, bytes).expect("the folder can be written to");
    }
    let cameras: Vec<Value> = truth
        .frames
        .iter()
        .map(|frame| {
            let by_rows = frame.camera.pose.camera_from_ground.matrix().transpose();
            json!({
                "camera_from_ground": by_rows.as_slice(),
                "focal_px": frame.camera.lens.focal_px,
            })
        })
        .collect();
    let whole =
        json!({ "width": picture.width, "height": picture.height, "frames": cameras }).to_string();
    std::fs::write(folder.path().join("truth.json"), whole).expect("it can be written");
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/outside/pan_opencv.py");
    let output = Command::new(python).arg(script).arg(folder.path()).arg("2").output();
    let output = output.expect("Python starts");
    let theirs: Value = serde_json::from_slice(&output.stdout).expect("the script prints JSON");
    let number = |name: &str| theirs[name].as_f64().unwrap_or(f64::NAN);
    Peer {
        picture,
        ours_ms,
        ours_off_px,
        theirs_ms: number("ms_mean"),
        theirs_off_px: number("chain_off_px"),
    }
}

/// RMS, over a grid of the last picture, of the angle between where a place is found to lie in the
/// first camera's axes and where it truly lies; pixels. The measure of `pan_opencv.py`.
fn off_px(
    first: &Camera,
    last: &Camera,
    found: impl Fn(FramePoint) -> nalgebra::Vector3<f64>,
) -> f64 {
    let centre = last.lens.centre;
    let mut squares = 0.0;
    for (i, j) in (0..5).flat_map(|i| (0..5).map(move |j| (i, j))) {
        let share = |step: i32| 0.2 + 0.4 * f64::from(step);
        let at = FramePoint::new(centre.x * share(i), centre.y * share(j));
        let truth = first.pose.camera_from_ground * last.ray(at);
        squares += (found(at).normalize() - truth).norm_squared() * last.lens.focal_px.powi(2);
    }
    (squares / 25.0).sqrt()
}
