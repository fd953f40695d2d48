//! First cameras against the ones that took the marks.

use super::*;
use crate::marks::{ClipNote, PoleEnd, PoleEndMarks, Reference, ReferenceKind, Tie, TiePlace};
use crate::scene::FramePoint;
use crate::survey::tests::{marks, scene};
use serde_json::Map;

const SIZE: PictureSize = PictureSize { width: 1920, height: 1080 };

fn true_lens() -> Lens {
    Lens::with_field(SIZE, 60f64.to_radians())
}

/// A camera at (2, −18, 1.6) that looks at a place.
fn looking(x: f64, y: f64, z: f64) -> Camera {
    let eye = ScenePoint::new(2.0, -18.0, 1.6);
    Camera { lens: true_lens(), pose: Pose::looking_at(eye, ScenePoint::new(x, y, z)) }
}

/// What stands in the scene of the turning camera: pole ends by pole and side, and four ties.
const TIES: [(f64, f64, f64); 4] =
    [(2.0, 8.0, 1.0), (7.0, 6.0, 0.0), (10.0, 9.0, 2.0), (16.0, 5.0, 0.5)];

/// Frame 0 sees the poles and the ties 0 to 2, frame 1 the last two poles and all ties, frame 2
/// the ties 1 to 3, frame 3 one of them only.
fn turning() -> (MarksFile, [Camera; 4]) {
    let cameras = [
        looking(3.0, 0.0, 0.6),
        looking(7.0, 1.0, 0.4),
        looking(12.0, 2.0, 0.9),
        looking(20.0, 2.0, 0.9),
    ];
    let mark = |frame: usize, (x, y, z): (f64, f64, f64)| {
        let at = cameras[frame].project(ScenePoint::new(x, y, z)).unwrap();
        Mark::new(FrameNumber(frame as u32), at, 0.5)
    };
    let ends = (1..=4u32)
        .flat_map(|pole| PoleEnd::BOTH.map(|end| (pole, end)))
        .map(|(pole, end)| {
            let y = if end == PoleEnd::Left { 1.75 } else { -1.75 };
            let place = (3.0 * f64::from(pole - 1), y, 0.05);
            let seen: &[usize] = if pole > 2 { &[0, 1] } else { &[0] };
            PoleEndMarks::new(pole, end, seen.iter().map(|frame| mark(*frame, place)).collect())
        })
        .collect();
    let clip = ClipNote { picture: SIZE, ..marks(&scene(20.0), 0.0, 0.0, 1).clip };
    let mut camera = CameraPrior::usual(Motion::Turning { sway_sd_m: 0.03 });
    camera.focal_px = Some(Given::new(true_lens().focal_px, 0.1));
    let mut file = MarksFile::new(clip, camera);
    file.references.push(Reference {
        id: "poles".into(),
        kind: ReferenceKind::Poles {
            count: 4,
            spacing_m: Given::new(3.0, 0.01),
            length_m: Given::new(3.5, 0.01),
            diameter_m: 0.10,
            ends,
            other: Map::new(),
        },
    });
    let seen: [&[usize]; 4] = [&[0, 1], &[0, 1, 2], &[0, 1, 2], &[1, 2, 3]];
    for (number, (place, seen)) in TIES.into_iter().zip(seen).enumerate() {
        let mut tie = Tie::new(format!("tie {number}"), TiePlace::Anywhere);
        tie.marks = seen.iter().map(|frame| mark(*frame, place)).collect();
        file.ties.push(tie);
    }
    (file, cameras)
}

fn found(file: &MarksFile) -> Vec<Start> {
    Start::find(file, &Gauge::choose(file).unwrap(), &[]).unwrap()
}

/// Exact marks of the plain scene and a lens that is known.
fn plain() -> (MarksFile, Camera) {
    let scene = scene(20.0);
    let mut file = marks(&scene, 0.0, 0.0, 1);
    file.camera.focal_px = Some(Given::new(scene.camera.lens.focal_px, 0.1));
    (file, scene.camera)
}

#[test]
fn exact_marks_start_at_the_true_camera() {
    let (mut file, camera) = plain();
    file.camera.height_m.value = 1.6;
    let starts = found(&file);
    let start = &starts[0];
    assert!((start.position - camera.pose.position.vector()).norm() < 0.02, "{}", start.position);
    assert!((start.lens.focal_px - camera.lens.focal_px).abs() < 1e-6);
    assert!(start.unjoined.is_empty());
    // A fixed camera has the same turn at every marked frame.
    assert_eq!(start.rotations.len(), 8);
    for turn in start.rotations.values() {
        assert!((turn.matrix() - camera.pose.camera_from_ground.matrix()).norm() < 1e-3);
    }
    let at = start.camera(FrameNumber(36)).unwrap();
    assert_eq!(at.pose.position, ScenePoint::from(start.position));
    assert_eq!(at.lens.centre, FramePoint::new(960.0, 540.0));
    assert_eq!(start.camera(FrameNumber(35)), None);
}

#[test]
fn a_camera_square_to_the_poles_is_found_on_either_side() {
    // From the left it is turned by exactly half a turn from the axes of the ground.
    for side in [-1.0, 1.0] {
        let eye = ScenePoint::new(4.5, 15.0 * side, 1.6);
        let pose = Pose::looking_at(eye, ScenePoint::new(4.5, 0.0, 0.6));
        let mut seen = scene(20.0);
        seen.camera.pose = pose;
        let (mut file, _) = plain();
        let ReferenceKind::Poles { ends, .. } = &mut file.references[0].kind else {
            unreachable!()
        };
        for end in ends {
            let y = if end.end == PoleEnd::Left { 1.75 } else { -1.75 };
            let place = ScenePoint::new(3.0 * f64::from(end.pole - 1), y, 0.05);
            end.marks = vec![Mark::new(FrameNumber(0), seen.camera.project(place).unwrap(), 0.5)];
        }
        file.camera.height_m = Given::new(1.6, 0.02);
        let start = &found(&file)[0];
        assert!((start.position - eye.vector()).norm() < 0.02, "{}", start.position);
        let off = start.rotations[&FrameNumber(0)].matrix() - pose.camera_from_ground.matrix();
        assert!(off.norm() < 1e-3, "{off}");
    }
}

#[test]
fn starts_are_seen_from_different_sides_and_are_few() {
    let (mut file, _) = plain();
    // The ends of one pole look alike from before and behind.
    let ReferenceKind::Poles { ends, .. } = &mut file.references[0].kind else { unreachable!() };
    ends.retain(|end| end.pole == 1);
    let gauge = Gauge::choose(&file).unwrap();
    // From behind they do so to a camera that hangs upside down, which is no start where the
    // horizon is believed to be about level.
    let upright = Start::find(&file, &gauge, &[]).unwrap();
    assert_eq!(upright.len(), 1);
    for rotation in upright[0].rotations.values() {
        assert!((rotation * Vector3::z()).y < -0.9);
    }
    file.camera.roll_deg = Given::new(0.0, 180.0);
    let starts = Start::find(&file, &gauge, &[]).unwrap();
    assert!((2..=MOST_RIVALS).contains(&starts.len()), "{}", starts.len());
    let middle = gauge.middle();
    for (number, start) in starts.iter().enumerate() {
        for other in &starts[..number] {
            let angle = (start.position - middle).angle(&(other.position - middle));
            assert!(angle >= SAME_START_RAD, "{angle}");
        }
    }
}

#[test]
fn an_unknown_lens_is_tried_up_to_two_sds_to_either_side() {
    // 0.85 of the longer side, and two sds of 0.35 more or less in the logarithm.
    for (sds, times) in [(0.0f64, 1.0), (2.0, 0.7f64.exp()), (-2.0, (-0.7f64).exp())] {
        let mut seen = scene(20.0);
        seen.camera.lens.focal_px = 0.85 * 1920.0 * (0.35 * sds).exp();
        let mut file = marks(&seen, 0.0, 0.0, 1);
        file.camera.height_m = Given::new(1.6, 0.02);
        let start = &found(&file)[0];
        let expected = 0.85 * 1920.0 * times;
        assert!((start.lens.focal_px / expected - 1.0).abs() < 1e-9, "{}", start.lens.focal_px);
        assert!((start.position - seen.camera.pose.position.vector()).norm() < 0.05);
    }
}

#[test]
fn what_is_believed_of_the_focal_length_is_its_logarithm() {
    let mut prior = CameraPrior::usual(Motion::Fixed);
    let upright = PictureSize { width: 1080, height: 1920 };
    for picture in [SIZE, upright] {
        let belief = log_focal_prior(&prior, picture);
        assert!((belief.value - (0.85f64 * 1920.0).ln()).abs() < 1e-12);
        assert_eq!(belief.sd, 0.35);
    }
    prior.focal_px = Some(Given::new(1600.0, 32.0));
    let belief = log_focal_prior(&prior, SIZE);
    assert!((belief.value - 1600f64.ln()).abs() < 1e-12 && (belief.sd - 0.02).abs() < 1e-12);
}

#[test]
fn frames_of_a_turning_camera_are_joined_by_what_they_share() {
    let (file, cameras) = turning();
    let start = &found(&file)[0];
    assert_eq!(start.unjoined, [FrameNumber(3)]);
    assert_eq!(start.rotations.len(), 3);
    assert!((start.position - cameras[0].pose.position.vector()).norm() < 0.02);
    for (frame, camera) in (0..3).zip(&cameras) {
        let turn = start.rotations[&FrameNumber(frame)];
        let off = turn.matrix() - camera.pose.camera_from_ground.matrix();
        assert!(off.norm() < 1e-3, "frame {frame}: {off}");
    }
}

#[test]
fn hooves_join_no_frames() {
    // Frame 3 now shares a hoof with frame 2 beside its tie: a hoof moves.
    let (mut file, cameras) = turning();
    let mut approach = crate::marks::Approach::new("ride", "A");
    for frame in [2, 3] {
        let at = cameras[frame].project(ScenePoint::new(14.0, 1.0, 0.0)).unwrap();
        let mark = Mark::new(FrameNumber(frame as u32), at, 0.5);
        let (limb, event) = (crate::marks::Limb::LeadingFore, crate::marks::Event::Landing);
        approach.footfalls.push(crate::marks::Footfall::new(format!("{frame}"), limb, event, mark));
    }
    file.approaches.push(approach);
    assert!(fixed_marks(&file).iter().all(|(address, marks)| {
        !matches!(address, MarkAddress::Footfall { .. }) && !marks.is_empty()
    }));
    assert_eq!(fixed_marks(&file).len(), 8 + 4);
    assert_eq!(found(&file)[0].unjoined, [FrameNumber(3)]);
}

#[test]
fn a_first_place_is_the_mean_of_where_the_rays_meet_the_plane() {
    let camera = looking(2.0, 0.0, 0.6);
    let rotations =
        (0..3).map(|frame| (FrameNumber(frame), camera.pose.camera_from_ground)).collect();
    let position = camera.pose.position.vector();
    let start = Start {
        lens: camera.lens,
        position,
        rotations,
        log_zooms: BTreeMap::new(),
        unjoined: Vec::new(),
    };
    let mark = |frame: u32, x: f64, y: f64, z: f64| {
        Mark::new(FrameNumber(frame), camera.project(ScenePoint::new(x, y, z)).unwrap(), 1.0)
    };
    let near = |found: Option<GroundPoint>, x: f64, y: f64| {
        assert!(found.unwrap().distance(GroundPoint::new(x, y)) < 1e-6, "{found:?}");
    };
    near(start.ground_guess(&[mark(0, -3.0, 2.0, 0.0)], 0.0), -3.0, 2.0);
    near(start.ground_guess(&[mark(1, 4.0, 5.0, 0.4)], 0.4), 4.0, 5.0);
    let two = [mark(0, 1.0, 2.0, 0.0), mark(1, 3.0, 1.0, 0.0), mark(9, 50.0, 50.0, 0.0)];
    near(start.ground_guess(&two, 0.0), 2.0, 1.5);
    // Over the horizon, and where the ground lies 300 m away: 60 m along the ray. The point
    // (7, −6) is 13 m away over the ground, (5, 12) from the camera at (2, −18).
    let (x, y) = (2.0 + 5.0 / 13.0 * 60.0, -18.0 + 12.0 / 13.0 * 60.0);
    near(start.ground_guess(&[mark(0, 7.0, -6.0, 2.5)], 0.0), x, y);
    let far = 1.6 - 1.6 * 13.0 / 300.0;
    near(start.ground_guess(&[mark(0, 7.0, -6.0, far)], 0.0), x, y);
    // 190 m away is still believed.
    let far = 1.6 - 1.6 * 13.0 / 190.0;
    let (x, y) = (2.0 + 5.0 / 13.0 * 190.0, -18.0 + 12.0 / 13.0 * 190.0);
    near(start.ground_guess(&[mark(0, 7.0, -6.0, far)], 0.0), x, y);
    assert_eq!(start.ground_guess(&[mark(9, 1.0, 2.0, 0.0)], 0.0), None);
    assert_eq!(start.ground_guess(&[], 0.0), None);
}

/// A search with one sight along `ray`, of a place 10 m ahead of the camera at the origin.
fn search(prior: &CameraPrior, ray: Vector3<f64>) -> PoseSearch<'_> {
    let sights = vec![Sight { ray, place: Vector3::new(0.0, 10.0, 1.5) }];
    PoseSearch { sights, focal_px: 1600.0, prior }
}

/// A camera 1.5 m up over the origin that looks along y.
fn along_y(height: f64) -> DVector<f64> {
    let eye = ScenePoint::new(0.0, 0.0, height);
    let turn = Pose::looking_at(eye, ScenePoint::new(0.0, 5.0, height)).camera_from_ground;
    let turn = rotation_vector(&turn);
    DVector::from_vec(vec![0.0, 0.0, height, turn.x, turn.y, turn.z])
}

#[test]
fn a_sight_is_off_by_its_chord_in_pixels_and_a_far_one_is_forgiven() {
    let mut prior = CameraPrior::usual(Motion::Fixed);
    prior.height_m = Given::new(1.5, 0.2);
    prior.roll_deg = Given::new(0.0, 1.0);
    let off = |radians: f64| {
        let ray = Vector3::new(radians.sin(), 0.0, radians.cos());
        let residuals = search(&prior, ray).residuals(&along_y(1.5));
        assert_eq!(residuals.len(), 5);
        assert!(residuals[3].abs() < 1e-12 && residuals[4].abs() < 1e-12);
        Vector3::new(residuals[0], residuals[1], residuals[2])
    };
    assert!(off(0.0).norm() < 1e-9);
    // A chord of 2 sin(θ/2), times 1600 px over 4 px: 0.005 rad are 2.000, to the left.
    let chord = |radians: f64| 2.0 * (radians / 2.0).sin() * 400.0;
    let near = off(0.005);
    assert!((near.norm() - chord(0.005)).abs() < 1e-9 && near.x < 0.0, "{near}");
    // Beyond 3 the loss is linear (Huber): its square is 6 s − 9.
    for radians in [0.0076, 0.02, 0.5] {
        let far = off(radians);
        assert!((far.norm_squared() - (6.0 * chord(radians) - 9.0)).abs() < 1e-9, "{far}");
    }
    assert!((off(0.0074).norm() - chord(0.0074)).abs() < 1e-9);
}

#[test]
fn height_and_roll_are_held_against_what_is_believed_of_them() {
    let mut prior = CameraPrior::usual(Motion::Fixed);
    prior.height_m = Given::new(1.5, 0.2);
    prior.roll_deg = Given::new(2.0, 0.5);
    let residuals = search(&prior, Vector3::z()).residuals(&along_y(1.8));
    assert!((residuals[4] - 1.5).abs() < 1e-9, "0.3 m over 0.2 m");
    let roll = -2f64.to_radians().sin() / 0.5f64.to_radians();
    assert!((residuals[3] - roll).abs() < 1e-9, "level, believed to lean by 2°");
    // What is known exactly must not divide by nothing.
    prior.height_m.sd = 0.0;
    prior.roll_deg.sd = 0.0;
    let residuals = search(&prior, Vector3::z()).residuals(&along_y(1.8));
    assert!((residuals[4] - 0.3 / 0.02).abs() < 1e-9);
    assert!((residuals[3] - roll * 5.0).abs() < 1e-9);
}

#[test]
fn slopes_of_the_search_are_those_of_its_residuals() {
    let prior = CameraPrior::usual(Motion::Fixed);
    let search = search(&prior, Vector3::new(0.004, 0.003, 1.0).normalize());
    let x = along_y(1.7) + DVector::from_fn(6, |i, _| 0.002 * (i as f64 - 2.0));
    let rows = search.rows(&x).unwrap();
    assert_eq!(rows.len(), 5);
    for column in 0..6 {
        let moved = |by: f64| {
            let mut at = x.clone();
            at[column] += by;
            search.residuals(&at)
        };
        let (ahead, behind) = (moved(1e-5), moved(-1e-5));
        for row in 0..5 {
            let slope = (ahead[row] - behind[row]) / 2e-5;
            let found = rows.derivatives(row).find(|(at, _)| *at == column).unwrap().1;
            assert!((found - slope).abs() < 1e-4 * slope.abs().max(1.0), "{row}, {column}");
        }
    }
}

#[test]
fn one_upright_is_looked_at_from_before() {
    // It tells no direction: the camera is put where y is negative, at its true distance.
    let seen = looking(2.0, 0.0, 0.8);
    let mark = |z: f64| {
        let at = seen.project(ScenePoint::new(2.0, -6.0, z)).unwrap();
        vec![Mark::new(FrameNumber(0), at, 0.5)]
    };
    let (mut file, _) = plain();
    file.camera.height_m = Given::new(1.6, 0.02);
    file.references = vec![Reference {
        id: "post".into(),
        kind: ReferenceKind::Vertical {
            height_m: Given::new(1.7, 0.01),
            lean_sd_m: 0.01,
            foot: mark(0.0),
            top: mark(1.7),
            other: Map::new(),
        },
    }];
    let starts = found(&file);
    assert_eq!(starts.len(), 1);
    let position = starts[0].position;
    assert!((position.xy().norm() - 12.0).abs() < 0.1, "{position}");
    assert!(position.y < -11.0, "{position}");
}
