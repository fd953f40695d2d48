//! Which place is told, and in which words.

use crate::quantity::{LengthUnits, Metres, Unit};
use crate::stand::{
    Advice, Bounds, Change, Handling, Lesson, LevelStrides, Move, Phone, PolesLaid, Side,
    StandError, Within, Worse, expect, place_words, stand,
};
use crate::stride::Draws;

const DRAWS: Draws = Draws { count: 200, seed: 7 };

/// Bounds that hold one place alone, where the search is not what is asked for.
fn at(phone: &Phone) -> Bounds {
    let only = |metres: f64| Within::new(metres, metres);
    Bounds {
        distance: only(phone.distance_m),
        before_fence: only(phone.before_fence_m),
        height: only(phone.height_m),
    }
}

#[test]
fn the_best_place_is_inside_the_bounds_and_no_worse() {
    let lesson = Lesson::usual();
    let here = Phone::usual(2.0, 23.0);
    let bounds = Bounds {
        distance: Within::new(12.0, 21.0),
        before_fence: Within::new(4.0, 13.0),
        height: Within::new(1.6, 1.8),
    };
    let plan = stand(&lesson, &here, &bounds, DRAWS).unwrap();
    let best = plan.best.as_ref().unwrap();
    println!("{}", plan.advice.sentence(LengthUnits::Metres));
    assert!(bounds.distance.holds(best.phone.distance_m), "{:?}", best.phone);
    assert!(bounds.before_fence.holds(best.phone.before_fence_m));
    assert!(bounds.height.holds(best.phone.height_m));
    assert!(best.unseen.holds_the_strides());
    let (now, then) = (plan.here.worst_plus_minus_m.unwrap(), best.worst_plus_minus_m.unwrap());
    assert!(then.get() < 0.9 * now.get(), "{then:?} {now:?}");
    // No place of a coarse grid is much better.
    for (before, away) in [(4.0, 14.0), (8.0, 16.0), (10.0, 18.0), (12.0, 20.0), (9.0, 15.0)] {
        let there = Phone { height_m: best.phone.height_m, ..Phone::usual(before, away) };
        let found = expect(&lesson, &there, DRAWS).worst_plus_minus_m;
        assert!(found.is_none_or(|found| found.get() > 0.93 * then.get()), "{before} {away}");
    }
    // Whoever stands there is told to stay.
    let again = stand(&lesson, &best.phone, &at(&best.phone), DRAWS).unwrap();
    assert!(matches!(again.advice, Advice::Stay { .. }), "{:?}", again.advice);
}

#[test]
fn what_is_out_of_the_picture_is_told_and_has_no_number() {
    let lesson = Lesson::usual();
    let near = expect(&lesson, &Phone::usual(6.0, 8.0), DRAWS);
    assert_eq!(near.worst_plus_minus_m, None);
    assert!(!near.unseen.holds_the_strides());
    let told = near.unseen.sentence().unwrap();
    assert!(told.contains("stride"), "{told}");
    for stride in near.unseen.strides() {
        let row = near.strides.iter().find(|row| row.number == stride).unwrap();
        assert_eq!(row.length_plus_minus_m, None, "{stride}");
    }
    // Away from the poles nothing tells a metre.
    let aside = Phone { aim_before_fence_m: Some(-30.0), ..Phone::usual(-25.0, 8.0) };
    let nothing = expect(&lesson, &aside, DRAWS);
    assert!(nothing.doubts.iter().any(|doubt| doubt.sentence().contains("nothing could be")));
}

#[test]
fn where_nothing_fits_it_is_told_from_where_it_would() {
    let lesson =
        Lesson { strides: LevelStrides { count: 8, ..LevelStrides::USUAL }, ..Lesson::usual() };
    let narrow = Bounds { distance: Within::new(6.0, 10.0), ..Bounds::USUAL };
    let plan = stand(&lesson, &Phone::usual(8.0, 9.0), &narrow, DRAWS).unwrap();
    assert_eq!(plan.best, None);
    let Advice::Nowhere { seen_from_m, .. } = plan.advice else { panic!("{:?}", plan.advice) };
    // 1.83 + 8 · 3.66 = 31.1 m; half of it over tan(0.94 · 33°) = 0.603 is 25.8 m.
    assert!((25.0..29.0).contains(&seen_from_m), "{seen_from_m}");
    let there = expect(&lesson, &Phone::usual(15.5, seen_from_m), DRAWS);
    assert!(there.unseen.holds_the_strides(), "{:?}", there.unseen);
}

#[test]
fn changes_are_told_best_first_and_none_that_cannot_be_made() {
    let poles = Lesson::usual().poles.paced();
    let lesson = Lesson { poles, ..Lesson::usual() };
    let here = Phone::usual(9.0, 22.0);
    let around = Bounds { distance: Within::new(20.0, 22.0), ..at(&here) };
    let plan = stand(&lesson, &here, &around, DRAWS).unwrap();
    let values: Vec<f64> =
        plan.changes.iter().filter_map(|c| Some(c.worst_plus_minus_m?.get())).collect();
    assert!(values.is_sorted(), "{values:?}");
    let of = |wanted: Change| plan.changes.iter().find(|changed| changed.change == wanted).unwrap();
    assert!(of(Change::TapeThePoles).helps(&plan.here));
    assert!(of(Change::SnapTheEnds).worst_plus_minus_m < plan.here.worst_plus_minus_m);
    // Pointed past the strides from where they could be seen.
    let astray = Phone { aim_before_fence_m: Some(2.0), ..here };
    let plan = stand(&lesson, &astray, &at(&here), DRAWS).unwrap();
    assert_eq!(plan.here.worst_plus_minus_m, None);
    let pointed = plan.changes.iter().find(|changed| changed.change == Change::PointAnew).unwrap();
    assert!(pointed.helps(&plan.here));
    let taped = Lesson { poles: PolesLaid::taped(poles), ..lesson };
    let plan = stand(&taped, &here, &at(&here), DRAWS).unwrap();
    let never = |change: &Change| {
        matches!(change, Change::TapeThePoles | Change::Nearer { .. } | Change::PointAnew)
    };
    assert!(!plan.changes.iter().any(|changed| never(&changed.change)), "{:?}", plan.changes);
}

#[test]
fn left_and_right_are_those_of_somebody_who_looks_at_the_track() {
    let m = LengthUnits::Metres;
    // On the right of the track one looks to its left: the way the horse goes is to the right.
    for (side, onward, word) in [
        (Side::Right, 2.0, "2 m farther right (towards the fence)"),
        (Side::Right, -2.0, "2 m farther left (away from the fence)"),
        (Side::Left, 2.0, "2 m farther left (towards the fence)"),
        (Side::Left, -2.0, "2 m farther right (away from the fence)"),
    ] {
        let here = Phone {
            side,
            handling: Handling::Turning { sway_sd_m: 0.03 },
            ..Phone::usual(8.0, 15.0)
        };
        let there = Phone { before_fence_m: 8.0 - onward, height_m: 1.7, distance_m: 12.5, ..here };
        let go = Move::between(&here, &there);
        let advice = Advice::Go {
            go,
            here_plus_minus_m: Some(Metres::new(0.11)),
            there_plus_minus_m: Metres::new(0.06),
            worse: vec![Worse {
                stride: None,
                here_plus_minus_m: Metres::new(0.03),
                there_plus_minus_m: Metres::new(0.04),
            }],
        };
        assert_eq!(
            advice.sentence(m),
            format!(
                "Stand {word} and 2.5 m nearer to the track, and hold the phone at head height \
                 (1.7 m): ± 6 cm instead of ± 11 cm, at the cost of take-off ± 4 cm instead of ± 3 cm."
            )
        );
    }
    assert_eq!(
        place_words(&Phone::usual(-3.0, 12.0), LengthUnits::Feet),
        "39 ft from the track on its right, 10 ft beyond the fence, at eye level (5 ft 3 in)"
    );
}

#[test]
fn what_makes_no_sense_is_refused_with_what_was_found() {
    let refuse = |lesson: &Lesson, phone: &Phone, bounds: &Bounds| -> StandError {
        stand(lesson, phone, bounds, DRAWS).unwrap_err()
    };
    let lesson = Lesson::usual();
    let near = refuse(&lesson, &Phone::usual(5.0, 3.0), &Bounds::USUAL);
    assert_eq!(
        near.to_string(),
        "cannot plan where to stand: the phone's distance from the track is 3 m (4 to 60 needed)"
    );
    assert!(near.hint().unwrap().contains("nearer"));
    let turned = Bounds { distance: Within::new(20.0, 8.0), ..Bounds::USUAL };
    let turned = refuse(&lesson, &Phone::usual(5.0, 12.0), &turned);
    assert!(turned.to_string().contains("runs from 20 to 8"), "{turned}");
    let odd = Phone { field_deg: f64::NAN, ..Phone::usual(5.0, 12.0) };
    assert!(refuse(&lesson, &odd, &Bounds::USUAL).to_string().contains("field of view"));
}
