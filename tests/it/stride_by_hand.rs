//! Strides, take-off, landing and track of approaches laid out so that every number can be worked
//! out by hand: worked examples of our own, the arithmetic beside each.

use groundline::marks::{Event, Limb, MarksFile, StrideNote};
use groundline::quantity::Unit;
use groundline::scene::GroundPoint;
use groundline::stride::{
    ApproachMeasurement, Draws, FenceEdge, StrideDoubt, measure, measure_drawn,
};

use crate::laid_out::{Approached, Hoof, filmed, strides};

const DRAWS: Draws = Draws { count: 300, seed: 5 };
const GAP_S: f64 = 1.0 / 240.0;

fn measured(file: &MarksFile) -> ApproachMeasurement {
    let (survey, measured) = measure(file, DRAWS).unwrap_or_else(|error| panic!("{error}"));
    assert!(survey.suspects.is_empty(), "{:?}", survey.suspects);
    measured.approaches.into_iter().next().unwrap()
}

#[track_caller]
fn near(what: &str, found: f64, expected: f64, allowed: f64) {
    assert!((found - expected).abs() <= allowed, "{what}: {found} against {expected}");
}

fn hoof(limb: Limb, event: Event, (x, y): (f64, f64), at_s: f64) -> Hoof {
    Hoof { limb, event, place: GroundPoint::new(x, y), at_s }
}

/// The leading hind at 3.0, 3.3, 3.6 and 3.9 m; the trailing hind beside it at the take-off; both
/// fores behind the fence. The take-off hoof stands at x = 0.
fn jumped() -> Approached {
    let rows = [(3.0, 0.60), (3.3, 0.60), (3.6, 0.60), (3.9, 0.60)];
    let mut laid = strides(Limb::LeadingHind, &rows);
    let at = laid.hooves.last().unwrap().at_s;
    laid.fence_x = 1.9;
    laid.hooves.push(hoof(Limb::TrailingHind, Event::TakeOff, (-0.35, 0.2), at - 0.03));
    laid.hooves.push(hoof(Limb::TrailingFore, Event::Landing, (3.6, 0.1), at + 0.55));
    laid.hooves.push(hoof(Limb::LeadingFore, Event::Landing, (4.3, -0.1), at + 0.62));
    laid
}

#[test]
fn a_straight_approach_in_numbers() {
    let approach = measured(&filmed(&[jumped()], GAP_S));
    assert_eq!(approach.reference_limb, Limb::LeadingHind);
    let numbers: Vec<i32> = approach.strides.iter().map(|row| row.number).collect();
    assert_eq!(numbers, [-4, -3, -2, -1]);
    for (row, length) in approach.strides.iter().zip([3.0, 3.3, 3.6, 3.9]) {
        let found = row.length_m.unwrap();
        near("length", found.value.get(), length, 0.003);
        near("duration", row.duration_s.value.get(), 0.60, 1e-9);
        // Two contacts, each anywhere in its gap: sd gap · √(2 / 12).
        near("sd of it", row.duration_s.sd.get(), GAP_S / 6f64.sqrt(), 0.12 * GAP_S);
        near("tempo", row.tempo_strides_per_min.value.get(), 100.0, 1e-6);
        near("speed", row.speed_m_per_s.unwrap().value.get(), length / 0.60, 0.006);
        assert!((found.low95.get()..=found.high95.get()).contains(&length));
    }
    // Mean 3.45; slope 0.3 a stride; range 0.9; sd √(0.45/3) = 0.3873, of the mean 11.23 %.
    let level = approach.levelness.unwrap();
    near("mean", level.mean_m.value.get(), 3.45, 0.003);
    near("trend", level.trend_m_per_stride.value.get(), 0.30, 0.003);
    near("range", level.range_m.value.get(), 0.90, 0.004);
    near("variation", level.variation_percent.value.get(), 11.23, 0.05);
    near("mean speed", level.mean_speed_m_per_s.value.get(), 13.8 / 2.4, 0.006);
    near("mean tempo", level.mean_tempo_strides_per_min.value.get(), 100.0, 1e-6);
    // The leading hind stands nearest: 1.9 m; the first fore 3.6 − 1.9 = 1.7 m behind the fence.
    let take_off = approach.take_off.unwrap();
    assert_eq!((take_off.limb, take_off.edge), (Limb::LeadingHind, FenceEdge::GroundLine));
    near("take-off", take_off.distance_m.value.get(), 1.9, 0.004);
    let landing = approach.landing.unwrap();
    assert_eq!((landing.limb, landing.edge), (Limb::TrailingFore, FenceEdge::FarBase));
    near("landing", landing.distance_m.value.get(), 1.7, 0.004);
    assert_eq!(approach.doubts, []);
    let times: Vec<f64> = approach.footfalls.iter().map(|footfall| footfall.time_s).collect();
    assert!(approach.footfalls.windows(2).all(|pair| pair[0].frame <= pair[1].frame));
    near("first contact", times.iter().copied().fold(f64::MAX, f64::min), 1.0, 1e-9);
}

#[test]
fn slow_motion_is_counted_in_the_time_of_life() {
    let mut file = filmed(&[jumped()], GAP_S);
    // Recorded at 240 and played at 30: eight times slower than life.
    file.clip.capture_seconds_per_second = 0.125;
    let approach = measured(&file);
    near("duration", approach.strides[0].duration_s.value.get(), 0.075, 1e-9);
    near("sd", approach.strides[0].duration_s.sd.get(), GAP_S / 8.0 / 6f64.sqrt(), 0.015 * GAP_S);
    near("speed", approach.strides[0].speed_m_per_s.unwrap().value.get(), 40.0, 0.05);
}

#[test]
fn an_oxer_is_landed_behind_its_far_base_marked_or_stated() {
    let mut laid = jumped();
    laid.spread_m = Some(1.2);
    let marked = measured(&filmed(&[laid], GAP_S));
    // 3.6 − 1.9 − 1.2 = 0.5 m.
    near("marked", marked.landing.unwrap().distance_m.value.get(), 0.5, 0.005);
    let mut laid = jumped();
    laid.spread_m = Some(1.2);
    let mut file = filmed(&[laid], GAP_S);
    file.fences[0].landing_base = Default::default();
    file.fences[0].spread_m = Some(1.2);
    let stated = measured(&file);
    near("stated", stated.landing.unwrap().distance_m.value.get(), 0.5, 0.005);
    assert!(stated.doubts.contains(&StrideDoubt::SpreadTaken { spread_m: 1.2 }));
    file.fences[0].spread_m = None;
    let unknown = measured(&file);
    assert!(unknown.landing.is_none());
    assert!(unknown.doubts.contains(&StrideDoubt::NoBase { take_off_side: false }));
}

#[test]
fn an_approach_at_an_angle_is_measured_square_to_the_fence() {
    // A straight track that climbs 0.2 m a metre to the left, through (0, −0.1): it meets the
    // fence's line at x = 2, y = 0.3, 0.3 m left of its middle, atan 0.2 = 11.31° to the left.
    let track = |x: f64| (x, 0.2 * x - 0.1);
    let mut hooves = Vec::new();
    for (i, x) in [-9.6, -6.4, -3.2].into_iter().enumerate() {
        hooves.push(hoof(Limb::TrailingHind, Event::Stride, track(x), 1.0 + 0.6 * i as f64));
    }
    hooves.push(hoof(Limb::TrailingHind, Event::TakeOff, track(0.0), 2.8));
    hooves.push(hoof(Limb::LeadingFore, Event::Landing, track(3.5), 3.4));
    let laid = Approached { fence_x: 2.0, spread_m: None, hooves };
    let approach = measured(&filmed(&[laid], GAP_S));
    let length = 3.2 * 1.04f64.sqrt();
    for row in &approach.strides {
        near("length", row.length_m.unwrap().value.get(), length, 0.004);
    }
    near("take-off", approach.take_off.unwrap().distance_m.value.get(), 2.0, 0.005);
    near("landing", approach.landing.unwrap().distance_m.value.get(), 1.5, 0.005);
    let track = approach.track.unwrap();
    near("offset", track.offset_m.value.get(), 0.3, 0.02);
    near("angle", track.angle_deg.value.get(), 0.2f64.atan().to_degrees(), 0.5);
}

#[test]
fn ends_of_the_base_marked_for_each_other_change_no_distance() {
    let mut file = filmed(&[jumped()], GAP_S);
    let base = &mut file.fences[0].take_off_base;
    std::mem::swap(&mut base.left, &mut base.right);
    let approach = measured(&file);
    near("take-off", approach.take_off.unwrap().distance_m.value.get(), 1.9, 0.004);
    let doubt = StrideDoubt::BaseEndsExchanged { take_off_side: true };
    assert!(approach.doubts.contains(&doubt), "{:?}", approach.doubts);
}

#[test]
fn one_end_of_the_base_is_taken_square_to_the_track_and_doubted() {
    let mut file = filmed(&[jumped()], GAP_S);
    file.fences[0].take_off_base.right.clear();
    let approach = measured(&file);
    let take_off = approach.take_off.unwrap();
    near("take-off", take_off.distance_m.value.get(), 1.9, 0.02);
    // 1.75 m aside, the base may stand 0.10 rad off square: sd about 0.17 m.
    near("sd", take_off.distance_m.sd.get(), 0.175, 0.04);
    assert!(approach.doubts.contains(&StrideDoubt::OneBaseEnd { take_off_side: true }));
    assert!(approach.track.is_none());
    file.fences[0].take_off_base.left.clear();
    let approach = measured(&file);
    assert!(approach.take_off.is_none() && approach.landing.is_none());
    assert!(approach.doubts.contains(&StrideDoubt::NoBase { take_off_side: true }));
}

#[test]
fn hidden_hooves_count_in_time_and_are_named() {
    let mut file = filmed(&[jumped()], GAP_S);
    // The second contact, the nearer take-off hind's neighbour, and the first fore.
    for at in [1, 5, 6] {
        file.approaches[0].footfalls[at].hidden = true;
    }
    let approach = measured(&file);
    assert_eq!(approach.strides.len(), 4);
    let seen: Vec<bool> = approach.strides.iter().map(|row| row.length_m.is_some()).collect();
    assert_eq!(seen, [false, false, true, true]);
    near("duration", approach.strides[0].duration_s.value.get(), 0.60, 1e-9);
    assert!(approach.levelness.is_none(), "two lengths are no series");
    let unseen = StrideDoubt::TakeOffHindUnseen { measured: Limb::LeadingHind };
    assert!(approach.doubts.contains(&unseen), "{:?}", approach.doubts);
    let first = StrideDoubt::FirstForeUnseen { measured: Limb::LeadingFore };
    assert!(approach.doubts.contains(&first), "{:?}", approach.doubts);
    let hidden = approach.doubts.iter().filter(|d| matches!(d, StrideDoubt::Hidden { .. })).count();
    assert_eq!(hidden, 3);
    near("landing", approach.landing.unwrap().distance_m.value.get(), 2.4, 0.005);
}

#[test]
fn strides_are_numbered_from_what_is_known_of_the_take_off() {
    // The trailing hind ends its strides one stride before the leading hind takes off.
    let mut laid = jumped();
    laid.hooves.truncate(5);
    laid.hooves[4].limb = Limb::TrailingHind;
    let mut file = filmed(&[laid], GAP_S);
    file.approaches[0].reference_limb = Some(Limb::LeadingHind);
    let note = |stride, text: &str| StrideNote {
        stride,
        text: text.into(),
        other: serde_json::Map::new(),
    };
    file.approaches[0].stride_notes = vec![note(-2, "late"), note(-4, "free"), note(-2, "long")];
    let approach = measured(&file);
    let numbers: Vec<i32> = approach.strides.iter().map(|row| row.number).collect();
    assert_eq!(numbers, [-4, -3, -2]);
    let notes: Vec<&str> = approach.strides.iter().map(|row| row.note.as_str()).collect();
    assert_eq!(notes, ["free", "", "late; long"]);
    let open = StrideDoubt::LastStrideOpen { reference_limb: Limb::LeadingHind };
    assert!(approach.doubts.contains(&open) && approach.doubts.contains(&StrideDoubt::NoLanding));
    // Without any take-off the last contact seen ends stride −1.
    file.approaches[0].footfalls.pop();
    let approach = measured(&file);
    assert_eq!(approach.strides.last().unwrap().number, -1);
    assert!(approach.doubts.contains(&StrideDoubt::NoTakeOff) && approach.take_off.is_none());
}

#[test]
fn the_limb_that_shows_best_gives_the_strides_when_none_is_stated() {
    let both = |hidden: usize| {
        let mut laid = jumped();
        let mut beside: Vec<Hoof> = laid.hooves[..4]
            .iter()
            .map(|h| Hoof { limb: Limb::TrailingHind, at_s: h.at_s - 0.05, ..*h })
            .collect();
        beside.iter_mut().for_each(|h| h.place = GroundPoint::new(h.place.x - 0.4, 0.2));
        laid.hooves.extend(beside);
        let mut file = filmed(&[laid], GAP_S);
        let leading = file.approaches[0]
            .footfalls
            .iter_mut()
            .filter(|f| f.limb == Limb::LeadingHind && f.event == Event::Stride);
        leading.take(hidden).for_each(|f| f.hidden = true);
        measured(&file).reference_limb
    };
    assert_eq!(both(0), Limb::TrailingHind, "alike: the trailing hind");
    assert_eq!(both(1), Limb::TrailingHind);
    let mut file = filmed(&[jumped()], GAP_S);
    file.approaches[0].footfalls.retain(|f| f.limb != Limb::TrailingHind);
    assert_eq!(measured(&file).reference_limb, Limb::LeadingHind);
}

#[test]
fn the_track_is_drawn_evenly_from_the_first_hoof_to_the_last() {
    let track = |x: f64| (x, 0.2 * x - 0.1);
    let mut hooves: Vec<Hoof> = [-9.6, -6.4, -3.2, 0.0]
        .into_iter()
        .zip(1..)
        .map(|(x, at)| hoof(Limb::TrailingHind, Event::Stride, track(x), f64::from(at)))
        .collect();
    hooves.push(hoof(Limb::LeadingFore, Event::Landing, track(3.5), 5.0));
    let approach = measured(&filmed(&[Approached { fence_x: 2.0, spread_m: None, hooves }], GAP_S));
    let line = &approach.track_line;
    // 13.1 m along x are 13.1 · √1.04 = 13.36 m of track: 54 steps of less than a quarter metre.
    assert_eq!(line.len(), 55);
    for (end, x) in [(line[0], -9.6), (line[54], 3.5)] {
        let hoof = GroundPoint::new(track(x).0, track(x).1);
        assert!(end.distance(hoof) < 0.02, "{end:?} against {hoof:?}");
    }
    for pair in line.windows(2) {
        near("step", pair[0].distance(pair[1]), 13.1 * 1.04f64.sqrt() / 54.0, 0.001);
    }
}

#[test]
fn the_draws_behind_the_numbers_are_handed_out() {
    let drawn = measure_drawn(&filmed(&[jumped()], GAP_S), None, DRAWS).unwrap();
    let (approach, draws) = (&drawn.measurement.approaches[0], &drawn.draws[0]);
    let level = approach.levelness.as_ref().unwrap();
    let take_off = approach.take_off.as_ref().unwrap();
    for (what, found, stated, sd) in [
        ("mean", &draws.mean_m, 3.45, level.mean_m.sd.get()),
        ("range", &draws.range_m, 0.90, level.range_m.sd.get()),
        ("variation", &draws.variation_percent, 11.23, level.variation_percent.sd.get()),
        ("take-off", &draws.take_off_m, 1.9, take_off.distance_m.sd.get()),
    ] {
        assert_eq!(found.len(), DRAWS.count, "{what}");
        let mean = found.iter().sum::<f64>() / found.len() as f64;
        near(what, mean, stated, 0.005 * stated);
        let squares: f64 = found.iter().map(|draw| (draw - mean).powi(2)).sum();
        near(what, (squares / (found.len() as f64 - 1.0)).sqrt(), sd, 1e-9);
    }
}

#[test]
fn every_footfall_is_handed_out_where_and_when_it_was() {
    let laid = jumped();
    let mut file = filmed(std::slice::from_ref(&laid), GAP_S);
    file.fences[0].name = "the blue wall".into();
    file.approaches[0].note = "after a long turn".into();
    file.approaches[0].footfalls[2].hidden = true;
    let approach = measured(&file);
    assert_eq!(
        (approach.fence.id.as_str(), approach.fence.name.as_str()),
        ("fence 0", "the blue wall")
    );
    assert_eq!(approach.note, "after a long turn");
    // A hoof unseen within the strides says nothing of take-off and landing.
    assert_eq!(approach.doubts, [StrideDoubt::Hidden { footfall: "hoof 3".into() }]);
    assert_eq!(approach.footfalls.len(), laid.hooves.len());
    for found in &approach.footfalls {
        let number: usize = found.footfall.strip_prefix("hoof ").unwrap().parse().unwrap();
        let true_hoof = laid.hooves[number - 1];
        assert_eq!((found.limb, found.event), (true_hoof.limb, true_hoof.event));
        near("time", found.time_s, true_hoof.at_s, 1e-9);
        assert_eq!(found.place.is_none(), number == 3);
        assert_eq!(found.ellipse.is_none(), number == 3);
        if let Some(place) = found.place {
            assert!(place.distance(true_hoof.place) < 0.003, "{place:?}");
        }
    }
    // Both ends of the base, 1.75 m to either side; a vertical has no other.
    for base in [approach.fence.take_off_base, approach.fence.landing_base] {
        let ends = base.map(Option::unwrap);
        assert!(ends[0].distance(GroundPoint::new(1.9, 1.75)) < 0.005, "{ends:?}");
        assert!(ends[1].distance(GroundPoint::new(1.9, -1.75)) < 0.005, "{ends:?}");
    }
    // A fence without a name is called by its id; an oxer has a base of its own behind.
    let mut laid = jumped();
    laid.spread_m = Some(1.2);
    let fence = measured(&filmed(&[laid], GAP_S)).fence;
    assert_eq!(fence.name, "fence 0");
    let ends = fence.landing_base.map(Option::unwrap);
    assert!(ends[0].distance(GroundPoint::new(3.1, 1.75)) < 0.005, "{ends:?}");
    assert!(ends[1].distance(GroundPoint::new(3.1, -1.75)) < 0.005, "{ends:?}");
}

#[test]
fn of_two_hinds_at_take_off_the_nearer_to_the_fence_counts() {
    let mut laid = jumped();
    // Now the trailing hind stands 0.3 m nearer: 1.6 m before the fence.
    laid.hooves[5].place = GroundPoint::new(0.3, 0.2);
    let take_off = measured(&filmed(&[laid], GAP_S)).take_off.unwrap();
    assert_eq!((take_off.limb, take_off.footfall.as_str()), (Limb::TrailingHind, "hoof 6"));
    near("take-off", take_off.distance_m.value.get(), 1.6, 0.004);
}

#[test]
fn a_moment_is_told_by_the_stride_that_ended_last() {
    // The contacts are at 1.0, 1.6, 2.2, 2.8 and 3.4 s.
    let approach = measured(&filmed(&[jumped()], GAP_S));
    let last = |time_s: f64| approach.last_ended(time_s).map(|row| row.number);
    assert_eq!([0.5, 1.0, 1.59].map(last), [None; 3]);
    assert_eq!([1.6, 2.19, 2.21, 3.39].map(last), [-4, -4, -3, -2].map(Some));
    assert_eq!([3.4, 99.0].map(last), [Some(-1); 2]);
    near("time", approach.footfall_time_s("hoof 2").unwrap(), 1.6, 1e-9);
    assert_eq!(approach.footfall_time_s("hoof 99"), None);
}

#[test]
fn of_hinds_seen_alike_the_one_at_take_off_then_the_sharper_gives_the_strides() {
    // Five contacts of either hind; `last` is the trailing hind's last event.
    let both = |last: Event, leading_sd: f64, trailing_sd: f64| {
        let mut laid = jumped();
        laid.hooves.remove(5);
        let mut beside: Vec<Hoof> = laid.hooves[..5]
            .iter()
            .map(|h| Hoof { limb: Limb::TrailingHind, at_s: h.at_s - 0.05, ..*h })
            .collect();
        beside.iter_mut().for_each(|h| h.place = GroundPoint::new(h.place.x - 0.4, 0.2));
        beside[4].event = last;
        laid.hooves.extend(beside);
        let mut file = filmed(&[laid], GAP_S);
        for footfall in &mut file.approaches[0].footfalls {
            match footfall.limb {
                Limb::LeadingHind => footfall.mark.sd_px = leading_sd,
                Limb::TrailingHind => footfall.mark.sd_px = trailing_sd,
                _ => {}
            }
        }
        measured(&file).reference_limb
    };
    assert_eq!(both(Event::TakeOff, 0.01, 0.01), Limb::TrailingHind);
    assert_eq!(both(Event::TakeOff, 0.01, 0.02), Limb::LeadingHind);
    assert_eq!(both(Event::TakeOff, 0.02, 0.01), Limb::TrailingHind);
    // Only the leading hind's last is its take-off.
    assert_eq!(both(Event::Stride, 0.02, 0.01), Limb::LeadingHind);
}

#[test]
fn what_cannot_be_measured_says_what_to_do() {
    let file = filmed(&[jumped()], GAP_S);
    let refused = |change: &dyn Fn(&mut MarksFile)| {
        let mut file = file.clone();
        change(&mut file);
        measure(&file, DRAWS).unwrap_err()
    };
    let no_fence = refused(&|file| file.approaches[0].fence = "gone".into());
    assert!(no_fence.to_string().contains("`gone`"), "{no_fence}");
    assert!(no_fence.hint().unwrap().starts_with("add the fence"));
    // The last footfall's frame is struck from the table of times.
    let no_time = refused(&|file| drop(file.clip.frames.pop()));
    assert!(no_time.to_string().contains("no time for frame 8"), "{no_time}");
    assert!(no_time.hint().unwrap().contains("clip beside the file"));
    let no_survey = refused(&|file| file.references.clear());
    assert!(no_survey.hint().is_some(), "{no_survey}");
}

#[test]
fn a_fence_that_stands_askew_is_measured_square_to_itself() {
    // The fence's middle is (2, 0.3); it looks 0.3 rad to the left of the poles. A straight track
    // that climbs 0.2 m a metre crosses its line 0.4 m left of the middle.
    let (turn, middle) = (0.3f64, (2.0, 0.3));
    let (ahead, left) = ((turn.cos(), turn.sin()), (-turn.sin(), turn.cos()));
    let on_line = |aside: f64| (middle.0 + aside * left.0, middle.1 + aside * left.1);
    let crossing = on_line(0.4);
    let track = |x: f64| (x, crossing.1 + 0.2 * (x - crossing.0));
    let mut hooves = Vec::new();
    for (x, at) in [(-9.6, 1.0), (-6.4, 1.6), (-3.2, 2.2)] {
        hooves.push(hoof(Limb::TrailingHind, Event::Stride, track(x), at));
    }
    hooves.push(hoof(Limb::TrailingHind, Event::TakeOff, track(0.0), 2.8));
    hooves.push(hoof(Limb::LeadingFore, Event::Landing, track(3.5), 3.4));
    // The ends of the base are filmed as if they were hooves.
    for aside in [1.75, -1.75] {
        hooves.push(hoof(Limb::LeadingFore, Event::Away, on_line(aside), 4.0));
    }
    let mut file = filmed(&[Approached { fence_x: 2.0, spread_m: None, hooves }], GAP_S);
    let ends = file.approaches[0].footfalls.split_off(5);
    file.fences[0].take_off_base.left = vec![ends[0].mark.clone()];
    file.fences[0].take_off_base.right = vec![ends[1].mark.clone()];
    let approach = measured(&file);
    let before = |(x, y): (f64, f64)| (middle.0 - x) * ahead.0 + (middle.1 - y) * ahead.1;
    let take_off = approach.take_off.unwrap().distance_m.value.get();
    near("take-off", take_off, before(track(0.0)), 0.005);
    let landing = approach.landing.unwrap().distance_m.value.get();
    near("landing", landing, -before(track(3.5)), 0.005);
    let met = approach.track.unwrap();
    near("offset", met.offset_m.value.get(), 0.4, 0.02);
    near("angle", met.angle_deg.value.get(), (0.2f64.atan() - turn).to_degrees(), 0.1);
    near("bend", met.bend_per_m, 0.0, 1e-3);
}

#[test]
fn a_hidden_fore_on_the_same_frame_was_not_the_first() {
    let mut file = filmed(&[jumped()], GAP_S);
    let footfalls = &mut file.approaches[0].footfalls;
    footfalls[7].hidden = true;
    footfalls[7].mark.frame = footfalls[6].mark.frame;
    let approach = measured(&file);
    let first = StrideDoubt::FirstForeUnseen { measured: Limb::TrailingFore };
    assert!(!approach.doubts.contains(&first), "{:?}", approach.doubts);
    near("landing", approach.landing.unwrap().distance_m.value.get(), 1.7, 0.004);
}

#[test]
fn another_seed_has_other_chances() {
    let file = filmed(&[jumped()], GAP_S);
    let sd = |seed| {
        let (_, measured) = measure(&file, Draws { count: 60, seed }).unwrap();
        measured.approaches[0].strides[0].duration_s.sd.get()
    };
    let found = [1, 4, 5, 7].map(sd);
    for (i, a) in found.iter().enumerate() {
        assert!(found[..i].iter().all(|b| a != b), "{found:?}");
    }
    assert_eq!(sd(4), found[1]);
}
