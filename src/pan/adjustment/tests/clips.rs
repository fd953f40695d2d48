//! Made-up clips: what is found against what is true.

use nalgebra::{Rotation3, Vector3};

use crate::arena::{Filming, Handling, Scene, Truth};
use crate::pan::adjustment::invented::{Invention, tracks};
use crate::pan::{Adjustment, CameraMotion, Held, MotionError, MotionModel, MotionPriors, adjust};
use crate::quantity::FrameNumber;
use crate::scene::{Camera, Lens, PictureSize, Pose, ScenePoint, rotation_vector};

pub(super) fn turning(tremor_deg: f64, sway_sd_m: f64, zoom_to: f64) -> Handling {
    Handling::Turning { tremor_deg, sway_sd_m, zoom_to }
}

/// Cameras of the arena's hand-held clip with another hand, and its invention: few points, so that
/// a test is quick.
pub(super) fn clip(seed: u64, handling: Handling) -> (Vec<Camera>, Invention) {
    let mut scene = Scene::level(seed).filmed_from_the_hand();
    if handling == Handling::Fixed {
        scene.filming = Filming::FIXED;
    }
    scene.filming.handling = handling;
    scene.filming.k1 = -0.02;
    let cameras = Truth::of(&scene).unwrap().frames.iter().map(|frame| frame.camera).collect();
    let how = Invention {
        gap: 15,
        in_view: 70,
        between: 30,
        ..Invention::of(seed, scene.filming.picture)
    };
    (cameras, how)
}

pub(super) fn found(cameras: &[Camera], how: &Invention) -> Adjustment {
    adjust(&tracks(cameras, how), &MotionPriors::unknown_phone(how.picture)).unwrap()
}

/// How far the turn from the first frame to `to` is off, radians about each axis, and its standard
/// deviations.
pub(super) fn turn_off(
    motion: &CameraMotion,
    cameras: &[Camera],
    to: FrameNumber,
) -> (Vector3<f64>, Vector3<f64>) {
    let first = motion.pieces[0].frames[0].frame;
    let relative = motion.between(&[first, to]).unwrap();
    let turn = |frame: FrameNumber| cameras[frame.0 as usize].pose.camera_from_ground;
    let exact = turn(to) * turn(first).inverse();
    let sd = |i: usize| relative.covariance[(2 + i, 2 + i)].sqrt();
    let off = rotation_vector(&(relative.turns[1] * exact.inverse()));
    (off, Vector3::new(sd(0), sd(1), sd(2)))
}

#[test]
fn each_way_of_moving_is_told_from_the_others() {
    for (handling, model) in [
        (Handling::Fixed, MotionModel::Fixed),
        (Handling::ON_A_STAND, MotionModel::Turning),
        (turning(0.05, 0.0, 1.3), MotionModel::TurningZooming),
        (turning(0.12, 0.05, 1.0), MotionModel::Handheld),
        (turning(0.12, 0.20, 1.0), MotionModel::Handheld),
        (turning(0.12, 0.08, 1.3), MotionModel::HandheldZooming),
    ] {
        let (cameras, how) = clip(3, handling);
        let Adjustment { motion, .. } = found(&cameras, &how);
        assert_eq!((motion.model, motion.pieces.len()), (model, 1), "{handling:?}");
        assert!(motion.lost.is_empty(), "{handling:?}: {:?}", motion.lost);
        let residuals = motion.pieces[0].residuals;
        assert!(residuals.scale < 1.15 && residuals.median_px < 0.4, "{handling:?} {residuals:?}");
    }
}

#[test]
fn a_pan_on_a_stand_is_followed_to_its_end_within_what_is_told() {
    let (mut squares, mut worst): (Vec<f64>, f64) = (Vec::new(), 0.0);
    for seed in 1..=6 {
        let (cameras, how) = clip(seed, Handling::ON_A_STAND);
        let Adjustment { motion, .. } = found(&cameras, &how);
        for to in [60, 155, 240, 333] {
            let (off, sd) = turn_off(&motion, &cameras, FrameNumber(to));
            squares.extend(off.component_div(&sd).iter().map(|z| z * z));
            worst = worst.max(off.norm().to_degrees());
        }
        let true_focal = cameras[0].lens.focal_px.ln();
        let focal = motion.pieces[0].log_focal;
        squares.push(((focal.value - true_focal) / focal.sd).powi(2));
    }
    assert!(worst < 0.2, "{worst}");
    let z = (squares.iter().sum::<f64>() / squares.len() as f64).sqrt();
    assert!((0.6..1.4).contains(&z), "{z}");
}

#[test]
fn shifts_are_true_up_to_one_factor() {
    let (cameras, how) = clip(2, turning(0.12, 0.1, 1.0));
    let Adjustment { motion, .. } = found(&cameras, &how);
    let frames: Vec<FrameNumber> = (0..12).map(|i| FrameNumber(i * 30)).collect();
    let relative = motion.between(&frames).unwrap();
    let base = cameras[0].pose;
    let (mut up, mut found2, mut true2) = (0.0, 0.0, 0.0);
    for (frame, shift) in frames.iter().zip(&relative.shifts) {
        let place = cameras[frame.0 as usize].pose.position.vector();
        let exact = base.camera_from_ground * (place - base.position.vector());
        up += shift.dot(&exact);
        found2 += shift.norm_squared();
        true2 += exact.norm_squared();
    }
    assert!(up / (found2 * true2).sqrt() > 0.99, "{}", up / (found2 * true2).sqrt());
}

/// A camera that turns by `pan` and back, or by `pan` twice as slowly.
fn there_and_back(back: bool) -> Vec<Camera> {
    let picture = PictureSize { width: 1280, height: 720 };
    (0..=240)
        .map(|i| {
            let share = f64::from(i) / 240.0;
            let share = if back { 1.0 - (2.0 * share - 1.0).abs() } else { share };
            let yaw = (1.2 * share).sin_cos();
            let eye = ScenePoint::new(0.0, 0.0, 1.6);
            let aim = ScenePoint::new(20.0 * yaw.0, 20.0 * yaw.1, 1.5);
            Camera { lens: Lens::with_field(picture, 0.9), pose: Pose::looking_at(eye, aim) }
        })
        .collect()
}

#[test]
fn drift_grows_along_a_pan_and_coming_back_undoes_it() {
    let picture = PictureSize { width: 1280, height: 720 };
    let how = Invention { gap: 10, in_view: 60, life: 400, ..Invention::of(5, picture) };
    let told = |cameras: &[Camera], to: u32| {
        let Adjustment { motion, .. } = found(cameras, &how);
        let (off, sd) = turn_off(&motion, cameras, FrameNumber(to));
        assert!(off.norm() < 5.0 * sd.norm(), "{off} {sd}");
        sd.norm()
    };
    let one_way = there_and_back(false);
    let (near, far) = (told(&one_way, 20), told(&one_way, 240));
    assert!(far > 3.0 * near, "{near} {far}");
    let back = there_and_back(true);
    let (turning_point, home) = (told(&back, 120), told(&back, 240));
    assert!(home < 0.5 * turning_point && home < 0.5 * far, "{home} {turning_point} {far}");
}

#[test]
fn a_horse_and_clouds_are_left_out() {
    let (cameras, mut how) = clip(4, Handling::ON_A_STAND);
    how.moving = 20;
    let tracks = tracks(&cameras, &how);
    let Adjustment { motion, points } =
        adjust(&tracks, &MotionPriors::unknown_phone(how.picture)).unwrap();
    let (off, sd) = turn_off(&motion, &cameras, FrameNumber(330));
    assert!(off.norm() < 4.0 * sd.norm(), "{off} {sd}");
    let residuals = motion.pieces[0].residuals;
    assert!(residuals.believed < residuals.seen && points.len() < tracks.points as usize);
}

#[test]
fn a_cut_makes_two_pieces_and_a_lost_frame_is_told() {
    let (cameras, how) = clip(2, Handling::ON_A_STAND);
    let mut tracks = tracks(&cameras[..150], &how);
    for frame in &mut tracks.frames[75..] {
        frame.piece = 1;
        for sighting in &mut frame.sightings {
            sighting.point += 10_000;
        }
    }
    tracks.points += 10_000;
    tracks.frames[40].sightings.clear();
    tracks.frames[40].held = Held::Lost;
    let priors = MotionPriors::unknown_phone(how.picture);
    let Adjustment { motion, points } = adjust(&tracks, &priors).unwrap();
    assert_eq!(motion.pieces.len(), 2);
    assert_eq!(motion.lost, [FrameNumber(40)]);
    assert!(points.iter().all(|point| (point.point >= 10_000) == (point.piece == 1)));
    // The same for a piece that the tracker holds to be one, though nothing links its halves.
    tracks.frames.iter_mut().for_each(|frame| frame.piece = 0);
    assert_eq!(adjust(&tracks, &priors).unwrap().motion.pieces.len(), 2);
    tracks.frames.iter_mut().for_each(|frame| frame.sightings.clear());
    let nothing = adjust(&tracks, &priors).unwrap_err();
    assert!(matches!(nothing, MotionError::TooLittle { .. }), "{nothing}");
}

#[test]
fn a_claimed_turn_of_half_a_degree_is_found_exactly_without_noise() {
    let picture = PictureSize { width: 1280, height: 720 };
    let how = Invention {
        mismatches: 0.0,
        moving: 0,
        sd_px: (0.001, 0.001),
        ..Invention::of(1, picture)
    };
    let mut cameras = there_and_back(true);
    let shake = Rotation3::new(Vector3::new(0.0, 0.0, 0.5_f64.to_radians()));
    cameras[120].pose.camera_from_ground = shake * cameras[120].pose.camera_from_ground;
    let Adjustment { motion, .. } = found(&cameras, &how);
    let (off, _) = turn_off(&motion, &cameras, FrameNumber(120));
    assert!(off.norm().to_degrees() < 0.005, "{off}");
}
