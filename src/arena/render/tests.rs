//! The picture against the truth.

use super::*;
use crate::arena::{Scene, Truth};
use crate::scene::FramePoint;

#[test]
fn a_standing_hoof_is_drawn_on_the_true_point() {
    for scene in [Scene::level(3), Scene::pony(4).filmed_from_the_hand(), Scene::uphill(5)] {
        let truth = Truth::of(&scene).unwrap();
        let renderer = Renderer::new(&scene, &truth);
        let mut standing = 0;
        for frame in &truth.frames {
            let figure = renderer.figure(frame.time_s);
            for contact in &truth.contacts {
                if !(contact.contact_s..=contact.lift_s).contains(&frame.time_s) {
                    continue;
                }
                let leg = figure.legs.iter().find(|leg| leg.limb == contact.limb).unwrap();
                let drawn = frame.camera.project(leg.sole).unwrap();
                let seen = frame.camera.project(contact.place.at_height(0.0)).unwrap();
                assert!(drawn.distance(seen) < 0.5, "{contact:?}");
                // The outline's sole stays on the ground about that point.
                let nearest = leg.hoof.iter().map(|corner| corner.z.abs()).fold(f64::MAX, f64::min);
                assert!(nearest < 0.05, "{contact:?}: {nearest}");
                standing += 1;
            }
        }
        assert!(standing > 200, "{standing}");
    }
}

#[test]
fn swinging_hooves_stay_above_the_ground_and_move_smoothly() {
    let scene = Scene::built_steadily(2);
    let truth = Truth::of(&scene).unwrap();
    let motion = Motion::of(&scene);
    for limb in crate::marks::Limb::ALL {
        let at = |i: u32| motion.hoof(limb, f64::from(i) / 1000.0).sole;
        for i in 0..(1000.0 * truth.frames[truth.frames.len() - 1].time_s) as u32 {
            let (a, b) = (at(i), at(i + 1));
            let step = (b.vector() - a.vector()).norm();
            assert!(a.z >= 0.0 && step < 0.035, "{limb:?} at {i} ms moves {step} m in 1 ms");
        }
    }
}

#[test]
fn the_same_frame_is_painted_the_same_twice() {
    let mut scene = Scene::level(3).filmed_from_the_hand();
    scene.filming.picture.width = 480;
    scene.filming.picture.height = 270;
    let truth = Truth::of(&scene).unwrap();
    let one = Renderer::new(&scene, &truth).frame(FrameNumber(100));
    let two = Renderer::new(&scene, &truth).frame(FrameNumber(100));
    assert!(one == two);
    assert!(one != Renderer::new(&scene, &truth).frame(FrameNumber(101)));
}

#[test]
fn the_horse_is_where_the_truth_says() {
    let mut scene = Scene::level(3);
    scene.filming.noise_levels = 0.0;
    let truth = Truth::of(&scene).unwrap();
    let renderer = Renderer::new(&scene, &truth);
    let frame = truth.frames[170];
    let with = renderer.frame(frame.frame);
    let figure = renderer.figure(frame.time_s);
    let belly = frame.camera.project(figure.on_trunk(0.0, 0.0, 1.2)).unwrap();
    let differs = |at: FramePoint| {
        let still = renderer.still.as_ref().unwrap();
        let (x, y) = (at.x as u32, at.y as u32);
        let below = still.pixel(x, y).unwrap();
        let above = with.get_pixel(x, y).0;
        above[0].abs_diff(below.red()) > 20 || above[2].abs_diff(below.blue()) > 20
    };
    assert!(differs(belly));
    assert!(!differs(FramePoint::new(20.0, 1060.0)));
}
