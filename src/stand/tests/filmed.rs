//! Lesson and phone read back from the marks of a clip.

use crate::arena::{Clicking, Filming, Scene, Truth, marks};
use crate::marks::MarksFile;
use crate::stand::{Handling, Side, StandError, Surveyed, expect, stood};
use crate::stride::{Draws, measure};

fn read_back(file: &MarksFile) -> Result<Surveyed, StandError> {
    let (survey, measured) = measure(file, Draws { count: 200, seed: 7 }).unwrap();
    stood(file, &survey, &measured.approaches[0])
}

fn marked(scene: &Scene) -> MarksFile {
    marks(scene, &Truth::of(scene).unwrap(), &Clicking::usual(5))
}

fn near(found: f64, truth: f64, within: f64) {
    assert!((found - truth).abs() < within, "{found} for {truth}");
}

#[test]
fn a_lesson_filmed_from_a_stand_is_read_back() {
    for (away, side) in [(22.0, Side::Right), (-22.0, Side::Left)] {
        let mut scene = Scene::level(5);
        scene.filming.distance_m = away;
        let file = marked(&scene);
        let Surveyed { lesson, phone, doubts } = read_back(&file).unwrap();
        // A survey places the phone to some per cent: lens and distance go together.
        near(phone.distance_m, 22.0, 1.5);
        near(phone.before_fence_m, 8.5, 1.0);
        near(phone.height_m, 1.6, 0.4);
        near(phone.field_deg, 66.0, 5.0);
        near(phone.frames_per_s, 60.0, 0.1);
        assert_eq!((phone.side, phone.handling), (side, Handling::Fixed));
        assert_eq!(lesson.poles.count, 4);
        near(lesson.poles.before_fence_m, 4.0, 0.15);
        near(lesson.poles.aside_m, 2.4, 0.3);
        near(lesson.poles.end_sd_px, 0.4, 1e-9);
        near(lesson.fence_width_m, 3.5, 0.4);
        assert_eq!(lesson.strides.count, 6);
        near(lesson.strides.length_m, 3.5, 0.1);
        near(lesson.strides.take_off_m, 1.8, 0.3);
        assert_eq!(doubts, []);
        // The phone points where it pointed: all is in view, as it was.
        let expected = expect(&lesson, &phone, Draws { count: 100, seed: 7 });
        assert!(expected.sureness.is_some(), "{:?}", expected.unseen);
    }
}

#[test]
fn a_hand_that_followed_is_read_back() {
    let mut scene = Scene::level(5);
    scene.filming = Filming { distance_m: 9.0, ..Filming::IN_THE_HAND };
    let Surveyed { phone, .. } = read_back(&marked(&scene)).unwrap();
    assert!(phone.turns());
    assert_eq!(phone.aim_before_fence_m, None);
    near(phone.distance_m, 9.0, 1.0);
    near(phone.before_fence_m, 5.0, 1.0);
}

#[test]
fn without_poles_or_ground_line_there_is_no_plan() {
    let file = marked(&Scene::level(5));
    let refused = |change: fn(&mut MarksFile)| {
        let (survey, measured) = measure(&file, Draws { count: 200, seed: 7 }).unwrap();
        let mut changed = file.clone();
        change(&mut changed);
        let mut approach = measured.approaches[0].clone();
        if changed.fences.is_empty() {
            approach.fence.take_off_base = [None, None];
        }
        stood(&changed, &survey, &approach).unwrap_err().to_string()
    };
    assert!(refused(|file| file.references.clear()).contains("no poles are marked"));
    assert!(refused(|file| file.fences.clear()).contains("ground line"));
}
