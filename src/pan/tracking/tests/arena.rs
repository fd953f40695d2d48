//! A rendered pan against the camera that is known to have taken it.

use crate::arena::render::Renderer;
use crate::arena::{Handling, Scene, Truth};
use crate::pan::{Held, LumaView, Tracker, TrackerSettings};
use crate::quantity::FrameNumber;
use crate::scene::FramePoint;

#[test]
fn an_arena_pan_agrees_with_the_true_camera() {
    let mut scene = Scene::built_steadily(7).filmed_from_the_hand();
    (scene.filming.picture.width, scene.filming.picture.height) = (800, 450);
    // On one spot, so that the turn alone says where a far and a near thing must be.
    scene.filming.handling = Handling::Turning { tremor_deg: 0.12, sway_sd_m: 0.0, zoom_to: 1.0 };
    let truth = Truth::of(&scene).unwrap();
    let renderer = Renderer::new(&scene, &truth);
    let settings = TrackerSettings { frames_per_s: 30.0, ..TrackerSettings::default() };
    let mut tracker = Tracker::new(scene.filming.picture, settings);
    let cameras: Vec<_> = truth.frames.iter().skip(100).step_by(2).take(50).collect();
    for (number, camera) in cameras.iter().enumerate() {
        let luma = image::imageops::grayscale(&renderer.frame(camera.frame));
        let view = LumaView::new(scene.filming.picture, 800, luma.as_raw()).unwrap();
        tracker.push(FrameNumber(number as u32), view);
    }
    let tracks = tracker.finish();
    assert!(tracks.frames.iter().all(|frame| frame.held == Held::Well && frame.piece == 0));
    let mut rays: Vec<Vec<(usize, FramePoint, f64)>> = vec![Vec::new(); tracks.points as usize];
    for frame in &tracks.frames {
        for s in &frame.sightings {
            let sight = (frame.frame.0 as usize, s.at, f64::from(s.sd_px));
            rays[s.point as usize].push(sight);
        }
    }
    let (mut offs, mut zs) = (Vec::new(), Vec::new());
    for sights in rays.iter().filter(|sights| sights.len() >= 4) {
        let ray = |&(frame, at, _): &(usize, FramePoint, f64)| {
            let camera = &cameras[frame].camera;
            let ideal = camera.lens.ideal_from_frame(at);
            let way = nalgebra::Vector3::new(ideal.x, ideal.y, 1.0).normalize();
            camera.pose.camera_from_ground.inverse() * way
        };
        let mean = sights.iter().map(ray).sum::<nalgebra::Vector3<f64>>();
        for (frame, at, sd) in sights {
            let seen = cameras[*frame].camera.pose.camera_from_ground * mean;
            let ideal = nalgebra::Vector2::new(seen.x / seen.z, seen.y / seen.z);
            let off = at.distance(cameras[*frame].camera.lens.frame_from_ideal(ideal));
            offs.push(off);
            zs.push(off / sd / (2.0 - 2.0 / sights.len() as f64).sqrt());
        }
    }
    offs.sort_by(f64::total_cmp);
    zs.sort_by(f64::total_cmp);
    // Horse and rider move by tens of pixels a frame against what is behind them.
    assert!(offs[offs.len() - 1] < 3.0, "{}", offs[offs.len() - 1]);
    assert!(offs[offs.len() / 2] < 0.06, "{}", offs[offs.len() / 2]);
    // Half of the lengths of a two-dimensional normal lie within 1.18 sds, over the root of two.
    assert!((0.5..1.2).contains(&zs[zs.len() / 2]), "{}", zs[zs.len() / 2]);
}
