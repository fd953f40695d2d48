//! Models built from exact marks and the true camera.

use nalgebra::{DVector, Vector3};
use serde_json::Map;

use super::references::{LAYING_ACROSS_M, LAYING_TURN_RAD};
use super::*;
use crate::marks::{
    BaseCorner, Motion, PoleEnd, PoleEndMarks, RailMarks, Reference, ReferenceKind, Tie, TiePlace,
};
use crate::quantity::Given;
use crate::scene::{Camera, ScenePoint};
use crate::survey::least_squares::Problem;
use crate::survey::model::Relation;
use crate::survey::tests::{marks, scene};

/// The plain scene's camera, poles, fence and hooves (on a straight line), all clicked exactly.
fn plain() -> (MarksFile, Camera) {
    let scene = scene(20.0);
    let mut file = marks(&scene, 0.0, 0.0, 1);
    for (number, footfall) in (0..8).zip(&mut file.approaches[0].footfalls) {
        let place = ScenePoint::new(12.2 - 3.5 * f64::from(7 - number), 0.3, 0.0);
        let at = scene.camera.project(place).unwrap();
        (footfall.mark.x, footfall.mark.y) = (at.x, at.y);
    }
    file.camera.focal_px = Some(Given::new(scene.camera.lens.focal_px, 1.0));
    file.camera.height_m = Given::new(1.6, 0.1);
    (file, scene.camera)
}

fn true_start(file: &MarksFile, camera: &Camera) -> Start {
    let frames = file.places().into_iter().flat_map(|(_, marks)| marks.to_vec());
    Start {
        lens: camera.lens,
        position: camera.pose.position.vector(),
        rotations: frames.map(|mark| (mark.frame, camera.pose.camera_from_ground)).collect(),
        log_zooms: BTreeMap::new(),
        unjoined: Vec::new(),
    }
}

fn built(file: &MarksFile, camera: &Camera) -> Model {
    build(file, &Gauge::choose(file).unwrap(), &true_start(file, camera), &[])
}

fn seen(camera: &Camera, (x, y, z): (f64, f64, f64)) -> Vec<Mark> {
    let at = camera.project(ScenePoint::new(x, y, z)).unwrap();
    vec![Mark::new(FrameNumber(0), at, 1.0)]
}

fn taped(camera: &Camera) -> ReferenceKind {
    ReferenceKind::Distance {
        length_m: Given::new(5.0, 0.02),
        at_height_m: 0.4,
        from: seen(camera, (-3.0, 2.0, 0.4)),
        to: seen(camera, (1.0, 5.0, 0.4)),
        other: Map::new(),
    }
}

fn post(camera: &Camera) -> ReferenceKind {
    ReferenceKind::Vertical {
        height_m: Given::new(1.7, 0.02),
        lean_sd_m: 0.03,
        foot: seen(camera, (12.0, 3.0, 0.0)),
        top: seen(camera, (12.0, 3.0, 1.7)),
        other: Map::new(),
    }
}

fn width() -> ReferenceKind {
    let length_m = Given::new(3.5, 0.02);
    ReferenceKind::FenceWidth { fence: "A".into(), length_m, other: Map::new() }
}

/// Rails over the take-off base at these heights.
fn rails(camera: &Camera, heights: &[f64]) -> ReferenceKind {
    let rail = |height: &f64| {
        let mut rail = RailMarks::new(Given::new(*height, 0.01));
        rail.left = seen(camera, (14.0, 1.6, *height));
        rail.right = seen(camera, (14.0, -1.6, *height));
        rail
    };
    let rails = heights.iter().map(rail).collect();
    ReferenceKind::FenceRails { fence: "A".into(), rails, other: Map::new() }
}

/// Two poles 2.5 m apart and 3 m long, the first at (−6, 5), the way from it turned by 0.5 rad.
fn turned_poles(camera: &Camera) -> ReferenceKind {
    let (sin, cos) = 0.5f64.sin_cos();
    let mut ends = Vec::new();
    for (pole, along) in [(1, 0.0), (2, 2.5)] {
        for (end, side) in [(PoleEnd::Left, 1.5), (PoleEnd::Right, -1.5)] {
            let place = (-6.0 + along * cos - side * sin, 5.0 + along * sin + side * cos, 0.06);
            ends.push(PoleEndMarks::new(pole, end, seen(camera, place)));
        }
    }
    ReferenceKind::Poles {
        count: 2,
        spacing_m: Given::new(2.5, 0.01),
        length_m: Given::new(3.0, 0.01),
        diameter_m: 0.12,
        ends,
        other: Map::new(),
    }
}

fn reference(id: &str, kind: ReferenceKind) -> Reference {
    Reference { id: id.into(), kind }
}

fn place_of<'a>(model: &'a Model, words: &str) -> &'a Place {
    let of = |(address, _): &&(MarkAddress, Place)| address.to_string() == words;
    let found = model.places.iter().find(of);
    &found.unwrap_or_else(|| panic!("{words}: {:?}", model.places)).1
}

#[test]
fn exact_marks_and_the_true_camera_leave_nothing_to_adjust() {
    let (mut file, camera) = plain();
    file.references.extend([
        reference("turned", turned_poles(&camera)),
        reference("taped", taped(&camera)),
        reference("post", post(&camera)),
        reference("width", width()),
        reference("rails", rails(&camera, &[0.5, 0.9])),
    ]);
    file.fences[0].landing_base.left = seen(&camera, (15.2, 1.75, 0.0));
    file.fences[0].landing_base.right = seen(&camera, (15.2, -1.75, 0.0));
    for (id, place, at) in [
        ("stone", TiePlace::Ground, (-6.0, 4.0, 0.0)),
        ("letter", TiePlace::Anywhere, (5.0, 6.0, 1.3)),
    ] {
        let mut tie = Tie::new(id, place);
        tie.marks = seen(&camera, at);
        file.ties.push(tie);
    }
    let model = built(&file, &camera);
    let x = model.unknowns.start();
    // The horse's track and the lens as stated, the poles where they were laid: all residuals of
    // clicks, relations and beliefs are nil.
    let rows = model.rows(&x).unwrap();
    for row in 0..rows.len() {
        assert!(rows.residual(row).abs() < 1e-6, "row {row}: {}", rows.residual(row));
    }
    assert_eq!(model.clicks.len(), 8 + 2 + 8 + 4 + 2 + 2 + 4 + 2 + 2);
    for (words, point) in [
        ("right end of pole 4 of `poles`", Vector3::new(9.0, -1.75, 0.05)),
        ("left end of pole 1 of `poles`", Vector3::new(0.0, 1.75, 0.05)),
    ] {
        assert!((place_of(&model, words).locate(&x).point - point).norm() < 1e-9, "{words}");
    }
    // A tie that may be anywhere starts as a direction of unit length.
    let letter = model.places.iter().find_map(|(_, place)| match place {
        Place::Towards { base, right, up, .. } => Some((*base, *right, *up)),
        _ => None,
    });
    let (base, right, up) = letter.unwrap();
    let towards = Vector3::new(5.0, 6.0, 1.3) - camera.pose.position.vector();
    assert!((base - towards.normalize()).norm() < 1e-9);
    assert!(right.z.abs() < 1e-12 && base.dot(&right).abs() < 1e-12 && up.z > 0.9);
    assert!((right.cross(&base) - up).norm() < 1e-12 && (right.norm() - 1.0).abs() < 1e-12);
}

/// By how much the scale grows when the unknown at `column` grows by `by`.
fn growth(model: &Model, column: usize, by: f64) -> f64 {
    let mut x: DVector<f64> = model.unknowns.start();
    assert!((model.scale.at(&x) - 1.0).abs() < 1e-12);
    x[column] += by;
    model.scale.at(&x) - 1.0
}

fn column_of(model: &Model, meaning: &Meaning) -> usize {
    (0..model.unknowns.len()).find(|at| model.unknowns.meaning(*at) == meaning).unwrap()
}

#[test]
fn the_scale_is_that_of_what_the_gauge_states() {
    let (mut file, camera) = plain();
    let stated = |id: &str| Meaning::StatedLength { reference: id.into() };
    // The spacing 3 % larger is a scene 3 % larger; the row is 9 m long from its first pole to its
    // last, so that 9 cm of either are a hundredth, and a pole between changes nothing.
    let model = built(&file, &camera);
    let spacing = column_of(&model, &Meaning::Spacing { reference: "poles".into() });
    assert!((growth(&model, spacing, 0.03) - 0.03).abs() < 1e-12);
    for (pole, expected) in [(1, -0.01), (2, 0.0), (3, 0.0), (4, 0.01)] {
        let own = column_of(&model, &Meaning::PoleShift { reference: "poles".into(), pole });
        assert!((growth(&model, own, 0.09) - expected).abs() < 1e-12, "pole {pole}");
    }
    // 5 % of what else is stated are 5 % of the scene; of two rails each has half of the say.
    for (kind, by, expected) in [
        (taped(&camera), 0.25, 0.05),
        (post(&camera), 0.085, 0.05),
        (width(), 0.175, 0.05),
        (rails(&camera, &[0.9]), 0.045, 0.05),
        (rails(&camera, &[0.5, 0.9]), 0.025, 0.025),
    ] {
        file.references = vec![reference("only", kind)];
        let model = built(&file, &camera);
        let column = column_of(&model, &stated("only"));
        assert!((growth(&model, column, by) - expected).abs() < 1e-12, "{:?}", file.references);
        // Beside other references it has none.
        let mut two = plain().0;
        two.references.push(file.references[0].clone());
        let model = built(&two, &camera);
        assert_eq!(growth(&model, column_of(&model, &stated("only")), by), 0.0);
    }
}

fn belief(model: &Model, column: usize) -> Option<Given> {
    model.unknowns.priors().find(|(at, _)| *at == column).map(|(_, given)| given)
}

#[test]
fn the_stated_sd_of_a_spacing_is_that_of_one_gap() {
    let (mut file, camera) = plain();
    let ReferenceKind::Poles { spacing_m, .. } = &mut file.references[0].kind else { panic!() };
    spacing_m.sd = 0.05;
    let model = built(&file, &camera);
    let spacing = column_of(&model, &Meaning::Spacing { reference: "poles".into() });
    let own = column_of(&model, &Meaning::PoleShift { reference: "poles".into(), pole: 2 });
    let (shared, own) = (belief(&model, spacing).unwrap(), belief(&model, own).unwrap());
    // What all gaps share, times 3 m, and the shifts of the two poles that bound one.
    let gap = (3.0 * shared.sd).powi(2) + 2.0 * own.sd.powi(2);
    assert!((gap.sqrt() - 0.05).abs() < 1e-4, "{gap}");
    assert!((3.0 * shared.sd - 0.04).abs() < 1e-12, "the most of it is a long pace or tape");
}

#[test]
fn a_pole_is_laid_by_eye_within_its_beliefs() {
    let (file, camera) = plain();
    let model = built(&file, &camera);
    let own = column_of(&model, &Meaning::PoleShift { reference: "poles".into(), pole: 3 });
    assert_eq!(belief(&model, own + 1), Some(Given::new(0.0, LAYING_ACROSS_M)));
    assert_eq!(belief(&model, own + 2), Some(Given::new(0.0, LAYING_TURN_RAD)));
    let length = column_of(&model, &Meaning::StatedLength { reference: "poles".into() });
    assert_eq!(belief(&model, length), Some(Given::new(0.0, 0.01)));
}

#[test]
fn a_fence_that_defines_the_axes_is_held_by_one_point_and_one_direction() {
    let (mut file, camera) = plain();
    file.references = vec![reference("width", width())];
    let corner = |model: &Model, corner| {
        let address = MarkAddress::FenceBase { fence: "A".into(), corner };
        let place = model.places.iter().find(|(known, _)| *known == address).unwrap().1;
        let Place::OnGround { at, .. } = place else { panic!("{place:?}") };
        [belief(model, at), belief(model, at + 1)].map(|given| given.map(|g| g.value))
    };
    // Both ends of the front: the left one is held at (0, 1.75), the right one to the same line.
    let model = built(&file, &camera);
    assert_eq!(corner(&model, BaseCorner::TakeOffLeft), [Some(0.0), Some(1.75)]);
    assert_eq!(corner(&model, BaseCorner::TakeOffRight), [Some(0.0), None]);
    // The left ends of an oxer: the far one is held to the line across.
    file.fences[0].spread_m = Some(1.2);
    file.fences[0].take_off_base.right.clear();
    file.fences[0].landing_base.left = seen(&camera, (15.2, 1.75, 0.0));
    let model = built(&file, &camera);
    assert_eq!(corner(&model, BaseCorner::TakeOffLeft), [Some(0.0), Some(1.75)]);
    assert_eq!(corner(&model, BaseCorner::LandingLeft), [None, Some(1.75)]);
    // A third point is free, and so are all where another reference is the gauge.
    file.fences[0].landing_base.right = seen(&camera, (15.2, -1.75, 0.0));
    let model = built(&file, &camera);
    assert_eq!(corner(&model, BaseCorner::LandingRight), [None, None]);
    let (mut beside, _) = plain();
    beside.references.push(reference("width", width()));
    let model = built(&beside, &camera);
    assert_eq!(corner(&model, BaseCorner::TakeOffLeft), [None, None]);
}

#[test]
fn a_roll_is_partly_kept_through_the_clip_and_partly_each_poses_own() {
    let (mut file, camera) = plain();
    file.camera.roll_deg = Given::new(2.0, 1.5);
    let horizons = |model: &Model| -> Vec<(f64, f64, usize)> {
        let of = |relation: &Relation| match relation {
            Relation::Horizon { sine, level, sd, .. } => Some((*sine, *sd, level.roll)),
            _ => None,
        };
        model.relations.iter().filter_map(of).collect()
    };
    let fixed = built(&file, &camera);
    let [(sine, sd, roll)] = horizons(&fixed)[..] else { panic!() };
    assert!((sine - 2f64.to_radians().sin()).abs() < 1e-12);
    let kept = belief(&fixed, roll).unwrap();
    assert!((kept.sd.hypot(sd) - 1.5f64.to_radians()).abs() < 1e-12, "both together");
    assert!((kept.sd - 0.7 * 1.5f64.to_radians()).abs() < 1e-12);
    assert_eq!(fixed.poses.len(), 1);
    assert!(fixed.poses[0].sway.is_none());
    // A turning camera has a pose a frame, and a sway in three directions for each.
    file.camera.motion = Motion::Turning { sway_sd_m: 0.03 };
    let turning = built(&file, &camera);
    assert_eq!((turning.poses.len(), horizons(&turning).len()), (8, 8));
    let sways: Vec<(usize, f64)> = turning
        .relations
        .iter()
        .filter_map(|relation| match relation {
            Relation::Sway { column, sd } => Some((*column, *sd)),
            _ => None,
        })
        .collect();
    let expected: Vec<(usize, f64)> = turning
        .poses
        .iter()
        .flat_map(|pose| (0..3).map(|axis| (pose.sway.unwrap() + axis, 0.03)))
        .collect();
    assert_eq!(sways, expected);
    // A hand that cannot sway has none to find.
    file.camera.motion = Motion::Turning { sway_sd_m: 0.0 };
    assert!(built(&file, &camera).poses.iter().all(|pose| pose.sway.is_none()));
}

#[test]
fn two_hooves_have_no_track() {
    let (mut file, camera) = plain();
    let tracks = |file: &MarksFile| {
        let model = built(file, &camera);
        let beside = |r: &&Relation| matches!(r, Relation::BesideTrack { .. });
        (model.tracks.len(), model.relations.iter().filter(beside).count())
    };
    assert_eq!(tracks(&file), (1, 8));
    // Strides away from the fence are off the track.
    file.approaches[0].footfalls[7].event = crate::marks::Event::Away;
    assert_eq!(tracks(&file), (1, 7));
    file.approaches[0].footfalls[0].hidden = true;
    assert_eq!(tracks(&file), (1, 6));
    file.approaches[0].footfalls.truncate(4);
    assert_eq!(tracks(&file), (1, 3));
    file.approaches[0].footfalls.truncate(3);
    assert_eq!(tracks(&file), (0, 0));
}
