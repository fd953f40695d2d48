//! What the motion says when it is asked.

use nalgebra::Vector3;

use super::clips::{clip, found, turning};
use crate::arena::Handling;
use crate::pan::{CameraMotion, Held, MotionDoubt, MotionGap, MotionModel};
use crate::quantity::FrameNumber;
use crate::scene::{Camera, FramePoint};

fn at(frame: u32) -> FrameNumber {
    FrameNumber(frame)
}

#[test]
fn motion_is_the_same_whichever_frame_it_is_told_against() {
    let (cameras, how) = clip(2, turning(0.12, 0.08, 1.3));
    let motion = found(&cameras, &how).motion;
    let (a, b, c) = (at(37), at(90), at(200));
    let from_a = motion.between(&[a, b, c]).unwrap();
    let from_b = motion.between(&[b, c]).unwrap();
    let chained = from_a.turns[2] * from_a.turns[1].inverse();
    assert!((chained.matrix() - from_b.turns[1].matrix()).norm() < 1e-12);
    let shift = from_a.turns[1] * (from_a.shifts[2] - from_a.shifts[1]);
    assert!((shift - from_b.shifts[1]).norm() < 1e-12);
    let log_focal = from_a.log_focal + from_a.log_zooms[1];
    assert!((log_focal - from_b.log_focal).abs() < 1e-12);
    // Their errors follow as well: d_bc = d_ac − R_bc d_ab.
    let count = from_a.model.count();
    let turn = from_b.turns[1].matrix();
    let block = |i: usize, j: usize| {
        from_a.covariance.fixed_view::<3, 3>(2 + i * count, 2 + j * count).into_owned()
    };
    let carried = block(1, 1) - block(1, 0) * turn.transpose() - turn * block(0, 1)
        + turn * block(0, 0) * turn.transpose();
    let told = from_b.covariance.fixed_view::<3, 3>(2, 2).into_owned();
    assert!((carried - told).norm() < 1e-6 * told.norm(), "{carried} {told}");
    let eigen = from_a.covariance.clone().symmetric_eigen();
    assert!(eigen.eigenvalues.min() > -1e-12 * eigen.eigenvalues.max());
}

#[test]
fn frames_that_cannot_be_compared_are_named() {
    let (cameras, how) = clip(1, Handling::ON_A_STAND);
    let motion = found(&cameras[..60], &how).motion;
    assert_eq!(motion.between(&[]), Err(MotionGap::NoFrames));
    let missing = motion.between(&[at(0), at(500)]).unwrap_err();
    assert_eq!(missing, MotionGap::NotFollowed { frame: at(500) });
    assert!(missing.hint().is_some());
    assert_eq!(motion.between(&[at(0), at(3), at(3)]), Err(MotionGap::Twice { frame: at(3) }));
    let alone = motion.between(&[at(7)]).unwrap();
    assert_eq!((alone.turns.len(), alone.covariance.nrows()), (1, 2));
}

/// Where the far thing in direction of `point` of camera `a` is in camera `b`.
fn far(a: &Camera, b: &Camera, point: FramePoint) -> FramePoint {
    let seen: Vector3<f64> = b.pose.camera_from_ground * a.ray(point);
    b.lens.frame_from_ideal(seen.xy() / seen.z)
}

#[test]
fn a_far_thing_is_foretold_within_what_is_told() {
    let (cameras, how) = clip(5, Handling::ON_A_STAND);
    let motion = found(&cameras, &how).motion;
    let point = FramePoint::new(1100.0, 420.0);
    let mut sds = Vec::new();
    for to in [103, 130, 160] {
        let predicted = motion.predict(point, at(100), at(to), None).unwrap();
        let exact = far(&cameras[100], &cameras[to as usize], point);
        let sd = predicted.covariance.trace().sqrt();
        assert!(predicted.at.distance(exact) < 4.0 * sd, "{to}: {predicted:?} {exact:?}");
        sds.push(sd);
    }
    assert!(sds[0] < 1.0 && sds[2] > sds[0], "{sds:?}");
    let same = motion.predict(point, at(100), at(100), None).unwrap();
    assert_eq!((same.at, same.covariance.norm()), (point, 0.0));
    let away = motion.predict(FramePoint::new(100.0, 420.0), at(0), at(340), None);
    assert_eq!(away, Err(MotionGap::OutOfSight { frame: at(340) }));
    // Without the bending of the lens, laying frames over each other says nearly the same.
    let over = motion.stabilised(at(130)).unwrap().try_inverse().unwrap()
        * motion.stabilised(at(100)).unwrap()
        * Vector3::new(960.0, 540.0, 1.0);
    let middle = far(&cameras[100], &cameras[130], FramePoint::new(960.0, 540.0));
    let off = FramePoint::new(over.x / over.z, over.y / over.z).distance(middle);
    assert!(off < 3.0, "{off}");
}

#[test]
fn a_near_thing_goes_with_the_shift() {
    let (cameras, how) = clip(2, turning(0.12, 0.1, 1.0));
    let motion = found(&cameras, &how).motion;
    let (from, to) = (at(60), at(120));
    let relative = motion.between(&[from, to]).unwrap();
    let point = FramePoint::new(1000.0, 600.0);
    let near = motion.predict(point, from, to, Some(8.0)).unwrap().at;
    let far = motion.predict(point, from, to, None).unwrap().at;
    let focal = (relative.log_focal + relative.log_zooms[1]).exp();
    let parallax = focal * (relative.turns[1] * relative.shifts[1]).xy() / 8.0;
    let moved = near.vector() - far.vector();
    assert!((moved + parallax).norm() < 0.2 * moved.norm() + 2.0, "{moved} {parallax}");
}

#[test]
fn a_stand_that_was_moved_is_doubted_and_one_that_was_not_is_trusted() {
    let (cameras, how) = clip(1, Handling::Fixed);
    let motion = found(&cameras[..120], &how).motion;
    assert_eq!((motion.model, motion.moved_px()), (MotionModel::Fixed, 0.0));
    assert_eq!(motion.doubts(Some(MotionModel::Fixed)), []);
    let (cameras, how) = clip(1, Handling::ON_A_STAND);
    let motion = found(&cameras[..120], &how).motion;
    let doubts = motion.doubts(Some(MotionModel::Fixed));
    let [MotionDoubt::CameraMoved { moved_px }] = doubts[..] else { panic!("{doubts:?}") };
    assert!(moved_px > 50.0 && doubts[0].sentence().contains("said to be fixed"), "{moved_px}");
    assert_eq!(motion.doubts(None), []);
}

#[test]
fn stretches_cover_all_frames_and_the_motion_survives_being_kept() {
    let (cameras, how) = clip(1, Handling::ON_A_STAND);
    let mut motion = found(&cameras[..90], &how).motion;
    motion.pieces[0].frames.retain(|frame| frame.frame != at(33));
    motion.lost.push(at(33));
    let held: Vec<_> = motion.stretches().iter().map(|s| (s.from.0, s.to.0, s.held)).collect();
    assert_eq!(held, [(0, 32, Held::Well), (33, 33, Held::Lost), (34, 89, Held::Well)]);
    let text = serde_json::to_string(&motion).unwrap();
    let back: CameraMotion = serde_json::from_str(&text).unwrap();
    assert_eq!(back, motion);
    assert!(motion.doubts(None)[0].sentence().contains("in 1 frames, the first being 33"));
}
