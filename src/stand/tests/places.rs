//! Which place is told, and in which words.

use crate::quantity::{LengthUnits, Metres, Unit};
use crate::stand::{
    Advice, Bounds, Change, Expectation, Fewer, ForAll, Handling, Lesson, LevelStrides, Move,
    Named, Phone, PolesLaid, Side, StandError, StandPlan, Start, Sureness, Within, Worse, expect,
    place_words, stand,
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

/// The largest ± of take-off and the last three strides.
fn judged_m(from: &Expectation) -> Option<f64> {
    Some(from.sureness?.judged.plus_minus_m.get())
}

fn with_strides(count: u32) -> Lesson {
    Lesson { strides: LevelStrides { count, ..LevelStrides::USUAL }, ..Lesson::usual() }
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
    let plan = stand(&lesson, &Start::Here(here), &bounds, DRAWS).unwrap();
    let best = plan.better().unwrap();
    println!("{}", plan.sentence(LengthUnits::Metres));
    assert!(bounds.distance.holds(best.phone.distance_m), "{:?}", best.phone);
    assert!(bounds.before_fence.holds(best.phone.before_fence_m));
    assert!(bounds.height.holds(best.phone.height_m));
    assert!(best.unseen.holds_the_strides());
    let here = plan.here.as_ref().unwrap();
    let (now, then) = (judged_m(here).unwrap(), judged_m(best).unwrap());
    assert!(then < 0.9 * now, "{then:?} {now:?}");
    // Nothing a coach acts on gets worse by as much.
    let lost =
        best.take_off_plus_minus_m.unwrap().get() - here.take_off_plus_minus_m.unwrap().get();
    assert!(lost < now - then, "{lost}");
    // No place of a coarse grid is much better.
    for (before, away) in [(4.0, 14.0), (8.0, 16.0), (10.0, 18.0), (12.0, 20.0), (9.0, 15.0)] {
        let there = Phone { height_m: best.phone.height_m, ..Phone::usual(before, away) };
        let found = judged_m(&expect(&lesson, &there, DRAWS));
        assert!(found.is_none_or(|found| found > 0.93 * then), "{before} {away}");
    }
    // Whoever stands there is told to stay.
    let again = stand(&lesson, &Start::Here(best.phone), &at(&best.phone), DRAWS).unwrap();
    assert!(matches!(again.advice, Advice::Stay { .. }), "{:?}", again.advice);
}

#[test]
fn what_is_out_of_the_picture_is_told_and_has_no_number() {
    let lesson = Lesson::usual();
    let near = expect(&lesson, &Phone::usual(6.0, 8.0), DRAWS);
    assert_eq!(near.sureness, None);
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
    assert!(
        nothing
            .doubts
            .iter()
            .any(|doubt| doubt.sentence(LengthUnits::Metres).contains("nothing could be"))
    );
}

#[test]
fn with_no_place_there_is_no_now() {
    let bounds = at(&Phone { height_m: 1.7, ..Phone::usual(9.0, 18.0) });
    let plan = stand(&Lesson::usual(), &Start::Open(Phone::unplaced()), &bounds, DRAWS).unwrap();
    assert_eq!((&plan.here, plan.unseen_sentence()), (&None, None));
    let told = plan.sentence(LengthUnits::Metres);
    let begins = "Stand 18 m from the track on its right, 9 m before the fence, and put the phone at \
                  head height (1.7 m): take-off and the last three strides are then known to ± ";
    assert!(told.starts_with(begins), "{told}");
    assert!(!told.contains(" now") && !plan.helping_head().contains("from now"), "{told}");
    // The single changes are made from there.
    let of = |wanted| plan.changes.iter().find(|changed| changed.change == wanted).unwrap();
    assert!(of(Change::SnapTheEnds).helps(plan.best.as_ref().unwrap()));
    assert!(plan.figures(LengthUnits::Metres).iter().all(|figure| figure.now.is_none()));
}

/// Beside the middle of what is wanted, 66° less what is kept free see 2 · tan(0.94 · 33°) = 1.21 of
/// the distance: from 13 m 15.7 m of the track. Take-off and three strides take 12.8 m, four 16.5 m.
#[test]
fn where_not_all_fit_the_most_that_do_are_told_and_what_all_would_need() {
    let bounds = Bounds {
        distance: Within::new(12.0, 13.0),
        before_fence: Within::new(4.0, 12.0),
        height: Within::new(1.6, 1.6),
    };
    let start = Start::Open(Phone::unplaced());
    let plan = stand(&Lesson::usual(), &start, &bounds, DRAWS).unwrap();
    let best = plan.best.as_ref().unwrap();
    assert_eq!((plan.lesson.strides.count, best.strides.len()), (3, 3));
    assert!(bounds.distance.holds(best.phone.distance_m) && best.unseen.holds_the_strides());
    let Some(Fewer { wanted: 5, all }) = &plan.fewer else { panic!("{:?}", plan.fewer) };
    let [ForAll::Turning, ForAll::Farther { distance_m, before_fence_m }] = all[..] else {
        panic!("{all:?}")
    };
    let there = expect(&Lesson::usual(), &Phone::usual(before_fence_m, distance_m), DRAWS);
    assert!(there.sureness.is_some(), "{:?}", there.unseen);
    let nearer = Phone::usual(before_fence_m, distance_m - 0.5);
    assert_eq!(expect(&Lesson::usual(), &nearer, DRAWS).sureness, None);
    let told = plan.sentence(LengthUnits::Metres);
    let begins = "Within 13 m of the track three of the five strides can be measured. Stand ";
    assert!(told.starts_with(begins), "{told}");
    let ends = format!(
        " For all five, turn the phone with the horse, or stand {distance_m} m away, \
         {before_fence_m} m before the fence."
    );
    assert!(told.ends_with(&ends), "{told}");
}

#[test]
fn where_nothing_can_be_measured_it_is_told_what_would_help() {
    let narrow = |phone: Phone| Phone { field_deg: 20.0, ..phone };
    let bounds = Bounds { distance: Within::new(6.0, 7.0), ..Bounds::usual(Handling::Fixed) };
    let start = Start::Open(narrow(Phone::unplaced()));
    let plan = stand(&with_strides(2), &start, &bounds, DRAWS).unwrap();
    assert_eq!((&plan.best, &plan.here, plan.changes.len()), (&None, &None, 0));
    let Advice::Nowhere { all, poles_lack: false } = &plan.advice else {
        panic!("{:?}", plan.advice)
    };
    assert!(all.iter().any(|way| matches!(way, ForAll::Farther { .. })), "{all:?}");
    let told = plan.sentence(LengthUnits::Metres);
    let begins = "Within 7 m of the track no place shows even one stride, the take-off and the fence. \
                  For both, ";
    assert!(told.starts_with(begins), "{told}");
}

#[test]
fn every_branch_of_the_advice_is_a_sentence() {
    let known = |judged: (Option<i32>, f64), largest: (Option<i32>, f64), strides| {
        let named = |(stride, cm): (Option<i32>, f64)| Named {
            stride,
            plus_minus_m: Metres::new(cm / 100.0),
        };
        Sureness { strides, judged: named(judged), largest: named(largest) }
    };
    let there = known((Some(-3), 12.0), (Some(-5), 19.0), 5);
    let here = known((None, 17.0), (Some(-5), 25.0), 5);
    let from = Phone::usual(9.0, 16.0);
    let go = Move::between(&from, &Phone { before_fence_m: 11.0, ..from });
    let worse = |stride| Worse {
        stride,
        here_plus_minus_m: Metres::new(0.07),
        there_plus_minus_m: Metres::new(0.09),
    };
    let base = stand(&Lesson::usual(), &Start::Here(Phone::usual(9.0, 18.0)), &at(&from), DRAWS);
    let base = base.unwrap();
    let told = |advice: Advice, fewer: Option<Fewer>, strides| {
        let plan = StandPlan { advice, fewer, lesson: with_strides(strides), ..base.clone() };
        plan.sentence(LengthUnits::Metres)
    };
    let gone = |here, worse| Advice::Go { go, here, there, worse };
    let way = "Stand 2 m farther left (away from the fence): take-off and the last three strides are \
               then known to ± 12 cm at worst (stride −3)";
    assert_eq!(
        told(gone(Some(here), vec![worse(Some(-1)), worse(None)]), None, 5),
        format!(
            "{way} instead of ± 17 cm (take-off), the others to ± 19 cm (stride −5). Less sure than \
             from now: stride −1 ± 9 cm instead of ± 7 cm and take-off ± 9 cm instead of ± 7 cm."
        )
    );
    let far = [-4, -5].map(|number| worse(Some(number)));
    assert!(told(gone(Some(here), far.to_vec()), None, 5).ends_with(
        " Less sure than from now: the strides farther out (stride −4 ± 9 cm instead of ± 7 cm)."
    ));
    assert_eq!(
        told(gone(None, vec![worse(None)]), None, 5),
        format!(
            "{way}, the others to ± 19 cm (stride −5). From where you stand now not all of these can \
             be measured. Less sure than from now: take-off ± 9 cm instead of ± 7 cm."
        )
    );
    let one = known((None, 8.0), (None, 8.0), 1);
    assert_eq!(
        told(Advice::Stay { here: one }, None, 1),
        "Stay where you are, for no place within the bounds is much better: take-off and stride −1 \
         are known to ± 8 cm at worst (take-off)."
    );
    let fewer = |wanted, all| Some(Fewer { wanted, all });
    assert_eq!(
        told(gone(None, vec![]), fewer(7, vec![ForAll::Here]), 5),
        format!(
            "Within 16 m of the track five of the seven strides can be measured. {way}, the others to \
             ± 19 cm (stride −5). From where you stand now not all of these can be measured. For all \
             seven, stay where you are."
        )
    );
    assert_eq!(
        told(Advice::Stay { here: one }, fewer(2, vec![]), 1),
        "Within 16 m of the track one of the two strides can be measured. Stay where you are, for no \
         place within the bounds is much better: take-off and stride −1 are known to ± 8 cm at worst \
         (take-off). For both, lay more poles, or take a phone that sees wider."
    );
    assert_eq!(
        told(Advice::Nowhere { all: vec![], poles_lack: true }, None, 5),
        "From no place within the bounds can even one of the five strides and the take-off be \
         measured: lay more poles, farther apart, near the strides and in view."
    );
}

/// In a hand that follows nobody holds it above her head, and nobody goes as far as for a stand.
#[test]
fn no_place_is_told_that_nobody_takes() {
    let (stand, hand) = (Bounds::usual(Handling::Fixed), Bounds::usual(Handling::STEADY_HANDS));
    for bounds in [stand, hand] {
        let highest = Phone { height_m: bounds.height.high_m, ..Phone::usual(9.0, 18.0) };
        let words = place_words(&highest, LengthUnits::Metres);
        assert!(words.ends_with("at head height (1.8 m)"), "{words}");
        assert!(bounds.distance.low_m >= 4.0);
    }
    assert!(hand.distance.high_m <= 15.0);
}

#[test]
fn changes_are_told_best_first_and_none_that_cannot_be_made() {
    let poles = Lesson::usual().poles.paced();
    let lesson = Lesson { poles, ..Lesson::usual() };
    let here = Phone::usual(9.0, 22.0);
    let around = Bounds { distance: Within::new(20.0, 22.0), ..at(&here) };
    let plan = stand(&lesson, &Start::Here(here), &around, DRAWS).unwrap();
    let judged_of = |known: Option<Sureness>| known.map(|known| known.judged.plus_minus_m.get());
    let values: Vec<f64> = plan.changes.iter().filter_map(|c| judged_of(c.sureness)).collect();
    assert!(values.is_sorted(), "{values:?}");
    let of = |wanted: Change| plan.changes.iter().find(|changed| changed.change == wanted).unwrap();
    let now = plan.here.as_ref().unwrap();
    assert!(of(Change::TapeThePoles).helps(now));
    assert!(judged_of(of(Change::SnapTheEnds).sureness) < judged_m(now));
    // Pointed past the strides from where they could be seen.
    let astray = Phone { aim_before_fence_m: Some(2.0), ..here };
    let plan = stand(&lesson, &Start::Here(astray), &at(&here), DRAWS).unwrap();
    let now = plan.here.as_ref().unwrap();
    assert_eq!(now.sureness, None);
    let pointed = plan.changes.iter().find(|changed| changed.change == Change::PointAnew).unwrap();
    assert!(pointed.helps(now));
    let taped = Lesson { poles: PolesLaid::taped(poles), ..lesson };
    let plan = stand(&taped, &Start::Here(here), &at(&here), DRAWS).unwrap();
    let never = |change: &Change| {
        matches!(change, Change::TapeThePoles | Change::Nearer { .. } | Change::PointAnew)
    };
    assert!(!plan.changes.iter().any(|changed| never(&changed.change)), "{:?}", plan.changes);
}

#[test]
fn left_and_right_are_those_of_somebody_who_looks_at_the_track() {
    // On the right of the track one looks to its left: the way the horse goes is to the right.
    for (side, onward, words) in [
        (Side::Right, 2.0, "2 m farther right (towards the fence)"),
        (Side::Right, -2.0, "2 m farther left (away from the fence)"),
        (Side::Left, 2.0, "2 m farther left (towards the fence)"),
        (Side::Left, -2.0, "2 m farther right (away from the fence)"),
    ] {
        let here = Phone { side, handling: Handling::STEADY_HANDS, ..Phone::usual(8.0, 15.0) };
        let there = Phone { before_fence_m: 8.0 - onward, height_m: 1.7, distance_m: 12.5, ..here };
        let told = Move::between(&here, &there).words(LengthUnits::Metres);
        assert_eq!(
            told,
            format!(
                "stand {words} and 2.5 m nearer to the track, and hold the phone at head height \
                 (1.7 m)"
            )
        );
    }
    assert_eq!(
        place_words(&Phone::usual(-3.0, 12.0), LengthUnits::Feet),
        "39 ft from the track on its right, 10 ft beyond the fence, at eye level (5 ft 3 in)"
    );
}

#[test]
fn what_makes_no_sense_is_refused_with_what_was_found_and_a_hint() {
    let usual = Bounds::usual(Handling::Fixed);
    let refuse = |lesson: &Lesson, phone: &Phone, bounds: &Bounds| -> StandError {
        stand(lesson, &Start::Here(*phone), bounds, DRAWS).unwrap_err()
    };
    let (lesson, phone) = (Lesson::usual(), Phone::usual(5.0, 12.0));
    let with = |poles: PolesLaid| Lesson { poles, ..lesson };
    let strides = |strides: LevelStrides| Lesson { strides, ..lesson };
    for (lesson, phone, told) in [
        (
            lesson,
            Phone { distance_m: 3.0, ..phone },
            "the phone's distance from the track is 3 m (4 to 60 m needed)",
        ),
        (lesson, Phone { height_m: 0.0, ..phone }, "the phone's height is 0 m (0.3 to 6 m needed)"),
        (
            lesson,
            Phone { field_deg: 200.0, ..phone },
            "the field of view is 200° (15 to 110° needed)",
        ),
        (
            lesson,
            Phone { field_deg: f64::NAN, ..phone },
            "the field of view is no number (15 to 110° needed)",
        ),
        (
            lesson,
            Phone { frames_per_s: 5.0, ..phone },
            "the frame rate is 5 Hz (10 to 1000 Hz needed)",
        ),
        (with_strides(0), phone, "the number of strides is 0 (1 to 20 needed)"),
        (
            strides(LevelStrides { pace_m_per_min: 20.0, ..LevelStrides::USUAL }),
            phone,
            "the pace is 20 m/min (100 to 1200 m/min needed)",
        ),
        (
            with(PolesLaid { count: 0, ..lesson.poles }),
            phone,
            "the number of poles is 0 (1 to 40 needed)",
        ),
        (
            with(PolesLaid { before_fence_m: -31.5, ..lesson.poles }),
            phone,
            "the last pole's place is −31.5 m (−30 to 60 m needed)",
        ),
    ] {
        let refused = refuse(&lesson, &phone, &usual);
        assert_eq!(refused.to_string(), format!("cannot plan where to stand: {told}"));
        assert!(!refused.hint().is_empty());
    }
    let near = refuse(&lesson, &Phone { distance_m: 3.0, ..phone }, &usual);
    assert!(near.hint().contains("nearer"), "{}", near.hint());
    assert!(near.words(LengthUnits::Feet).contains("is 9 ft 10 in (13 ft 1 in to "), "{near:?}");
    let turned = Bounds { distance: Within::new(20.0, 8.0), ..usual };
    let turned = refuse(&lesson, &phone, &turned);
    assert!(turned.to_string().contains("runs from 20 m to 8 m (the smaller first)"), "{turned}");
}
