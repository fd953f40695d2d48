//! What the driver leaves out, doubts and refuses, on scenes of one mistake each.

use super::*;
use crate::marks::{Mark, PoleEnd, ReferenceKind, Tie, TiePlace};
use crate::scene::{GroundPoint, Pose, ScenePoint};
use crate::survey::place::Place;
use crate::survey::tests::{Scene, marks, model_of_every_kind, scene};

/// The plain scene, clicked without error; the clicks are said to be 1 px (bases, hooves) and
/// 0.5 px (poles) rough.
fn exact(scene: &Scene) -> MarksFile {
    let mut file = marks(scene, 0.0, 0.0, 1);
    for end in ends(&mut file) {
        end.1.sd_px = 0.5;
    }
    for footfall in &mut file.approaches[0].footfalls {
        footfall.mark.sd_px = 1.0;
    }
    file
}

/// The marks of the poles' ends, by pole and end.
fn ends(file: &mut MarksFile) -> Vec<((u32, PoleEnd), &mut Mark)> {
    let ReferenceKind::Poles { ends, .. } = &mut file.references[0].kind else { unreachable!() };
    ends.iter_mut().map(|end| ((end.pole, end.end), &mut end.marks[0])).collect()
}

/// The same with each end of a pole clicked on five frames, `off` the true place by the frame.
fn often(scene: &Scene, off: [(f64, f64); 5]) -> MarksFile {
    let mut file = exact(scene);
    let ReferenceKind::Poles { ends, .. } = &mut file.references[0].kind else { unreachable!() };
    for end in ends {
        let once = end.marks[0].clone();
        let again = |(number, (dx, dy)): (u32, (f64, f64))| {
            let frame = FrameNumber(36 * number);
            Mark { frame, x: once.x + dx, y: once.y + dy, ..once.clone() }
        };
        end.marks = (0..).zip(off).map(again).collect();
    }
    file
}

fn end_of(pole: u32, end: PoleEnd) -> MarkAddress {
    MarkAddress::PoleEnd { reference: "poles".into(), pole, end }
}

/// Where a place on the ground is seen, as a mark of the same frame and roughness as `mark`.
fn seen(scene: &Scene, mark: &mut Mark, place: ScenePoint) {
    let at = scene.camera.project(place).unwrap();
    (mark.x, mark.y) = (at.x, at.y);
}

#[test]
fn marks_without_a_mistake_are_neither_suspected_nor_doubted() {
    let survey = survey_as_marked(&exact(&scene(20.0)), &[]).unwrap();
    assert_eq!((survey.suspects, survey.doubts), (vec![], vec![]));
    assert_eq!(survey.residuals.len(), 8 + 2 + 8);
    for residual in &survey.residuals {
        // The hooves stand 0.15 m to either side of their track, which holds them a little.
        let most = if matches!(residual.mark, MarkAddress::Footfall { .. }) { 0.5 } else { 0.05 };
        assert!(residual.dx_px.hypot(residual.dy_px) < most, "{residual:?}");
    }
    // Nothing checks the one click of a hoof but its track; a pole's end is checked.
    let of_end = survey.residuals.iter().find(|r| r.mark == end_of(2, PoleEnd::Left)).unwrap();
    assert!(of_end.in_sds.is_some());
}

#[test]
fn two_clicks_far_off_are_both_named_and_keep_their_residuals() {
    let mut file = exact(&scene(20.0));
    let off = [(end_of(2, PoleEnd::Left), 30.0, 0.0), (end_of(4, PoleEnd::Right), 0.0, -24.0)];
    for ((pole, end), mark) in ends(&mut file) {
        for (address, dx, dy) in &off {
            if *address == end_of(pole, end) {
                mark.x += dx;
                mark.y += dy;
            }
        }
    }
    let survey = survey_as_marked(&file, &[]).unwrap();
    assert_eq!(survey.suspects.len(), 2, "{:?}", survey.suspects);
    for (address, dx, dy) in &off {
        let suspect = survey.suspects.iter().find(|s| s.mark == *address).unwrap();
        assert!((suspect.off_px - dx.abs().max(dy.abs())).abs() < 3.0, "{suspect:?}");
        assert!(suspect.off_sds > 8.0);
        let residual = survey.residuals.iter().find(|r| r.mark == *address).unwrap();
        assert!((residual.dx_px - dx).abs() < 3.0 && (residual.dy_px - dy).abs() < 3.0);
        assert_eq!(residual.in_sds, None, "it takes no part");
    }
}

#[test]
fn a_pole_out_of_place_is_doubted_and_no_click_suspected() {
    let scene = scene(20.0);
    let mut file = often(&scene, [(0.0, 0.0); 5]);
    let ReferenceKind::Poles { ends, .. } = &mut file.references[0].kind else { unreachable!() };
    for end in ends.iter_mut().filter(|end| end.pole == 3) {
        let y = if end.end == PoleEnd::Left { 1.75 } else { -1.75 };
        for mark in &mut end.marks {
            seen(&scene, mark, ScenePoint::new(6.4, y, 0.05));
        }
    }
    let survey = survey_as_marked(&file, &[]).unwrap();
    assert_eq!(survey.suspects, []);
    let [SurveyDoubt::PoleOutOfPlace { reference, pole, shift_m }] = &survey.doubts[..] else {
        panic!("{:?}", survey.doubts)
    };
    assert_eq!((reference.as_str(), *pole), ("poles", 3));
    assert!((shift_m - 0.4).abs() < 0.03, "{shift_m}");
}

#[test]
fn a_spacing_stated_wrong_is_doubted_by_its_per_cent() {
    // Poles 3.3 m apart, stated as 3.0 m; their length of 3.5 m and the lens tell.
    let scene = scene(20.0);
    let mut file = exact(&scene);
    for ((pole, end), mark) in ends(&mut file) {
        let y = if end == PoleEnd::Left { 1.75 } else { -1.75 };
        seen(&scene, mark, ScenePoint::new(3.3 * f64::from(pole - 1), y, 0.05));
    }
    file.camera.focal_px = Some(Given::new(scene.camera.lens.focal_px, 1.0));
    file.camera.height_m = Given::new(1.6, 0.005);
    let survey = survey_as_marked(&file, &[]).unwrap();
    let percent = survey.doubts.iter().find_map(|doubt| match doubt {
        SurveyDoubt::SpacingDoubtful { percent, .. } => Some(*percent),
        _ => None,
    });
    assert!((percent.unwrap() - 10.0).abs() < 1.0, "{:?}", survey.doubts);
}

#[test]
fn a_track_that_bends_is_not_held_straight() {
    // Hooves on a parabola that bends by 0.03 per metre, its top 10 m before the fence.
    let scene = scene(20.0);
    for (bend, doubted) in [(0.03, true), (-0.03, true), (0.0, false)] {
        let mut file = exact(&scene);
        for (number, footfall) in (0..8).zip(&mut file.approaches[0].footfalls) {
            let along = 3.5 * (f64::from(number) - 4.0);
            let place = ScenePoint::new(1.7 + along, bend * along * along / 2.0, 0.0);
            seen(&scene, &mut footfall.mark, place);
        }
        let survey = survey_as_marked(&file, &[]).unwrap();
        let said = SurveyDoubt::TrackBends { approach: "1".into() };
        assert_eq!(survey.doubts.contains(&said), doubted, "{bend}: {:?}", survey.doubts);
        assert_eq!(survey.suspects, []);
        let found = survey.tracks["1"].bend;
        assert!((found - bend).abs() < 0.006, "{found} against {bend}");
    }
}

#[test]
fn each_track_ends_with_its_own_hooves() {
    let scene = scene(20.0);
    let mut file = exact(&scene);
    let mut other = file.approaches[0].clone();
    other.id = "2".into();
    other.footfalls.truncate(4);
    for (number, footfall) in (0..4).zip(&mut other.footfalls) {
        let place = ScenePoint::new(2.0 * f64::from(number), 4.0, 0.0);
        seen(&scene, &mut footfall.mark, place);
    }
    file.approaches.push(other);
    let survey = survey_as_marked(&file, &[]).unwrap();
    // From −12.3 to 12.2 m, and from 0 to 6 m.
    for (approach, length) in [("1", 24.5), ("2", 6.0)] {
        let (from, to) = survey.tracks[approach].from_to;
        assert!((to - from - length).abs() < 0.05, "{approach}: {from} to {to}");
    }
}

#[test]
fn references_on_one_line_are_doubted() {
    let mut file = exact(&scene(20.0));
    let ReferenceKind::Poles { ends, .. } = &mut file.references[0].kind else { unreachable!() };
    ends.retain(|end| end.end == PoleEnd::Left);
    file.camera.focal_px = Some(Given::new(scene(20.0).camera.lens.focal_px, 1.0));
    let survey = survey_as_marked(&file, &[]).unwrap();
    let said = SurveyDoubt::ReferencesOnOneLine { reference: "poles".into() };
    assert!(survey.doubts.contains(&said), "{:?}", survey.doubts);
}

#[test]
fn marks_rougher_than_stated_are_doubted_as_a_whole() {
    // On five frames every end is clicked 2 sds aside in x and y, all ways in turn, and once not
    // at all: the squares are 16 a direction and 4 are expected, twice too rough. Hooves and
    // beliefs fit, so that it is less as a whole; no click alone is so far off as to be suspected.
    let off = [(1.0, 1.0), (-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (0.0, 0.0)];
    let file = often(&scene(20.0), off);
    let survey = survey_as_marked(&file, &[]).unwrap();
    let ratio = survey.doubts.iter().find_map(|doubt| match doubt {
        SurveyDoubt::MarksFitBadly { ratio } => Some(*ratio),
        _ => None,
    });
    let ratio = ratio.unwrap_or_else(|| panic!("{:?} {:?}", survey.suspects, survey.doubts));
    assert!((1.5..2.0).contains(&ratio), "{ratio}");
    assert_eq!(survey.suspects, []);
}

#[test]
fn a_camera_under_the_ground_is_refused_with_its_depth() {
    let mut below = scene(20.0);
    let eye = ScenePoint::new(4.0, -20.0, -1.5);
    below.camera.pose = Pose::looking_at(eye, ScenePoint::new(4.0, 0.0, 0.0));
    let mut file = exact(&below);
    file.camera.height_m = Given::new(-1.5, 0.05);
    let refused = survey_as_marked(&file, &[]).unwrap_err();
    let SurveyError::UnderGround { reference, depth_m } = refused else { panic!("{refused}") };
    assert_eq!(reference, "poles");
    assert!((depth_m - 1.5).abs() < 0.05, "{depth_m}");
}

#[test]
fn what_lies_ten_sds_off_the_forgiving_search_is_left_out() {
    let scene = scene(20.0);
    let mut file = often(&scene, [(0.0, 0.0); 5]);
    // 40 px are 80 standard deviations; 4 px are 8, rough but perhaps meant.
    let ReferenceKind::Poles { ends, .. } = &mut file.references[0].kind else { unreachable!() };
    for end in ends {
        match (end.pole, end.end) {
            (2, PoleEnd::Left) => end.marks[3].x += 40.0,
            (4, PoleEnd::Left) => end.marks[1].x += 4.0,
            _ => {}
        }
    }
    let gauge = Gauge::choose(&file).unwrap();
    let start = Start::find(&file, &gauge, &[]).unwrap().remove(0);
    let mut model = build(&file, &gauge, &start, &[]);
    model.robust = true;
    let forgiving = solve(&model, model.unknowns.start(), Stop::SURVEY).unwrap();
    model.robust = false;
    let adjusted = adjust_without_gross(model, forgiving).unwrap();
    let [suspect] = &adjusted.suspects[..] else { panic!("{:?}", adjusted.suspects) };
    assert_eq!((&suspect.mark, suspect.frame), (&end_of(2, PoleEnd::Left), FrameNumber(108)));
    assert!((suspect.off_px - 40.0).abs() < 2.0, "{suspect:?}");
    assert!((suspect.off_sds - suspect.off_px / 0.5).abs() < 1e-9);
    assert_eq!(adjusted.model.clicks.iter().filter(|click| !click.used).count(), 1);
}

#[test]
fn a_click_is_expected_where_its_residual_says() {
    let (model, x) = model_of_every_kind(0.003);
    let rows = model.rows(&x).unwrap();
    for (index, click) in model.clicks.iter().enumerate() {
        let at = expected(&model, &x, index).unwrap();
        let off = [at.x - click.at.x, at.y - click.at.y];
        for (axis, off) in off.into_iter().enumerate() {
            assert!((off - rows.residual(2 * index + axis) * click.sd_px).abs() < 1e-9);
        }
    }
}

#[test]
fn what_is_left_open_is_told_in_words() {
    let (model, _) = model_of_every_kind(0.0);
    let words = |column| open_column(&model, column);
    assert_eq!(words(model.camera.log_focal), "the focal length");
    assert_eq!(words(model.camera.position + 2), "the height of the camera");
    assert_eq!(words(model.camera.position), "the camera's place or turn");
    assert_eq!(words(model.poses[0].turn), "the camera's place or turn");
    let stone = model.places.iter().find(|(address, _)| address.to_string().contains("stone"));
    let (address, Place::OnGround { at, .. }) = stone.unwrap() else { panic!() };
    assert_eq!(words(*at), format!("the place of {address}"));
    assert_eq!(words(at + 1), format!("the place of {address}"));
    let group = model.places.iter().find_map(|(_, place)| match place {
        Place::PoleEnd { group, own, index: 1.0, .. } => Some((*group, *own)),
        _ => None,
    });
    let (group, own) = group.unwrap();
    assert_eq!(words(group.first + 3), "a length of `poles`");
    assert_eq!(words(own), "the place of pole 2 of `poles`");
}

#[test]
fn only_what_is_still_seen_is_handed_on() {
    let (mut model, _) = model_of_every_kind(0.0);
    let stone = MarkAddress::Tie { tie: "stone".into() };
    let letter = MarkAddress::Tie { tie: "letter".into() };
    let columns = place_columns(&model);
    assert!(columns.contains_key(&stone));
    assert!(!columns.contains_key(&letter), "a direction is no place on the ground");
    let (index, (_, place)) =
        model.places.iter().enumerate().find(|(_, (address, _))| *address == stone).unwrap();
    assert!(matches!(place, Place::OnGround { at, .. } if columns[&stone] == *at));
    for click in model.clicks.iter_mut().filter(|click| click.place == index) {
        click.used = false;
    }
    assert!(!place_columns(&model).contains_key(&stone));
}

#[test]
fn a_frame_that_shares_nothing_is_named_even_after_a_suspect() {
    // A turning camera sees the poles and four ground ties in frame 0, all in frame 36, and in
    // frame 72 nothing but a hoof.
    let base = scene(20.0);
    let mut file = exact(&base);
    file.camera.motion = crate::marks::Motion::Turning { sway_sd_m: 0.02 };
    file.camera.focal_px = Some(Given::new(base.camera.lens.focal_px, 1.0));
    file.approaches[0].footfalls.truncate(3);
    let ReferenceKind::Poles { ends, .. } = &mut file.references[0].kind else { unreachable!() };
    for end in ends.iter_mut() {
        let mut again = end.marks[0].clone();
        again.frame = FrameNumber(36);
        if (end.pole, end.end) == (2, PoleEnd::Left) {
            again.x += 40.0;
        }
        end.marks.push(again);
    }
    for (number, (x, y)) in [(-8.0, 3.0), (-4.0, 6.0), (2.0, 9.0), (8.0, 5.0)].iter().enumerate() {
        let mut tie = Tie::new(format!("tie {number}"), TiePlace::Ground);
        let at = base.camera.project(GroundPoint::new(*x, *y).at_height(0.0)).unwrap();
        tie.marks = [0, 36].map(|frame| Mark::new(FrameNumber(frame), at, 0.5)).to_vec();
        file.ties.push(tie);
    }
    let survey = survey_as_marked(&file, &[]).unwrap();
    let said = SurveyDoubt::FrameNotJoined { frame: FrameNumber(72) };
    assert!(survey.doubts.contains(&said), "{:?}", survey.doubts);
    let [suspect] = &survey.suspects[..] else { panic!("{:?}", survey.suspects) };
    assert_eq!((&suspect.mark, suspect.frame), (&end_of(2, PoleEnd::Left), FrameNumber(36)));
}

/// The plain scene adjusted, with nothing left out yet.
fn adjusted() -> Adjusted {
    let file = exact(&scene(20.0));
    let gauge = Gauge::choose(&file).unwrap();
    let start = Start::find(&file, &gauge, &[]).unwrap().remove(0);
    let model = build(&file, &gauge, &start, &[]);
    let x = model.unknowns.start();
    adjust(model, x).unwrap()
}

fn belief(model: &Model, column: usize) -> Given {
    model.unknowns.priors().find(|(at, _)| *at == column).unwrap().1
}

#[test]
fn a_belief_given_up_keeps_its_value_and_hardly_holds() {
    let before = adjusted();
    let reference = || "poles".to_owned();
    for (meaning, loose) in [
        // Half a metre of a pole, a fifth of a spacing.
        (Meaning::PoleShift { reference: reference(), pole: 2 }, 0.5),
        (Meaning::Spacing { reference: reference() }, 0.2),
        // Five sds of what was believed, or of a tenth of it where that is more: 1.6 m give or
        // take 0.1 m, a logarithm of the focal length near 7.4, a length's error about nil.
        (Meaning::CameraHeight, 5.0 * 0.16),
        (Meaning::Focal, 0.5 * (0.85f64 * 1920.0).ln()),
        (Meaning::StatedLength { reference: reference() }, 5.0 * 0.01),
    ] {
        let mut before = before.clone();
        before.doubts = vec![SurveyDoubt::TrackBends { approach: "1".into() }];
        let unknowns = &mut before.model.unknowns;
        let column = (0..unknowns.len()).find(|at| *unknowns.meaning(*at) == meaning).unwrap();
        if meaning == Meaning::CameraHeight {
            unknowns.set_prior(column, Given::new(1.6, 0.1));
        }
        let believed = belief(&before.model, column);
        let after = without(before, crate::survey::snoop::Culprit::Prior { column }).unwrap();
        let held = belief(&after.model, column);
        assert_eq!(held.value, believed.value);
        assert!((held.sd - loose).abs() < 1e-9, "{meaning:?}: {}", held.sd);
        // What was doubted before is doubted still, and the belief as well.
        assert_eq!(after.doubts[0], SurveyDoubt::TrackBends { approach: "1".into() });
        assert_eq!(after.doubts.len(), 2);
    }
}

#[test]
fn a_place_whose_last_click_is_left_out_is_held_where_it_was() {
    let file = often(&scene(20.0), [(0.0, 0.0); 5]);
    let gauge = Gauge::choose(&file).unwrap();
    let start = Start::find(&file, &gauge, &[]).unwrap().remove(0);
    let model = build(&file, &gauge, &start, &[]);
    let x = model.unknowns.start();
    let priors = model.unknowns.priors().count();
    let click_of = |words: &str| {
        let of = |click: &crate::survey::model::Click| {
            model.places[click.place].0.to_string().contains(words)
        };
        model.clicks.iter().position(of).unwrap_or_else(|| panic!("{words}"))
    };
    let freed = |clicks: &[usize]| {
        let mut model = model.clone();
        for &click in clicks {
            model.clicks[click].used = false;
            free_orphan(&mut model, click, &x);
        }
        model
    };
    // One click of a hoof is all there is of it.
    let hoof = click_of("h3");
    let left = freed(&[hoof]);
    assert_eq!(left.unknowns.priors().count(), priors + 2);
    let Place::OnGround { at, .. } = left.places[left.clicks[hoof].place].1 else { panic!() };
    for column in [at, at + 1] {
        assert_eq!(belief(&left, column), Given::new(x[column], 1e3));
    }
    // An end of a pole has four more clicks, and is held by its pole in any case.
    let end = click_of("left end of pole 2");
    assert_eq!(freed(&[end]).unknowns.priors().count(), priors);
}

#[test]
fn each_residual_has_the_misfit_of_its_own_click() {
    let mut before = adjusted();
    for (number, left_out) in [(None, 0), (Some(5), 1)] {
        if let Some(number) = number {
            before.doubts = vec![SurveyDoubt::TrackBends { approach: "1".into() }];
            let misfit = Misfit { in_sds: 4.5, log_probability: -20.0 };
            let culprit = crate::survey::snoop::Culprit::Click { index: number, misfit };
            before = without(before, culprit).unwrap();
            // What was doubted before is doubted still.
            assert_eq!(before.doubts, [SurveyDoubt::TrackBends { approach: "1".into() }]);
            assert_eq!((before.suspects.len(), before.suspects[0].off_sds), (1, 4.5));
        }
        let found = residuals(&before);
        assert_eq!(found.len(), before.model.clicks.len());
        let mut row = 0;
        for (click, residual) in before.model.clicks.iter().zip(&found) {
            if !click.used {
                assert_eq!(residual.in_sds, None);
                continue;
            }
            let rows = &before.solution.rows;
            let own = Misfit::of_click(rows, &before.covariance, row);
            assert_eq!(residual.in_sds, own.map(|misfit| misfit.in_sds));
            assert!((residual.dx_px + rows.residual(row) * click.sd_px).abs() < 1e-6);
            row += 2;
        }
        assert_eq!(found.len() - row / 2, left_out);
    }
}
