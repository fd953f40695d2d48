//! Nothing on the picture collides or leaves the sand, whatever the plan; what is needed to stand
//! there is written on it.

use super::*;
use crate::stand::{Bounds, Handling, Lesson, LevelStrides, PolesLaid, Side, Start, Within, stand};
use crate::stride::Draws;

/// A corner of the usual area, so that the search is brief.
const BOUNDS: Bounds = Bounds {
    distance: Within::new(18.0, 18.0),
    before_fence: Within::new(9.0, 9.5),
    height: Within::new(1.6, 1.6),
};

fn plan(lesson: &Lesson, start: Start) -> StandPlan {
    stand(lesson, &start, &BOUNDS, Draws { count: 100, seed: 7 }).unwrap()
}

fn input(plan: &StandPlan, units: LengthUnits) -> StandPlanInput<'_> {
    StandPlanInput {
        plan,
        units,
        theme: Theme::LIGHT,
        width: 800.0,
        max_height: 560.0,
        text: 10.0,
        captioned: true,
    }
}

#[test]
fn labels_and_signs_keep_apart_and_inside() {
    let usual = Lesson::usual();
    let with = |poles| Lesson { poles, ..usual };
    let strides = |count| Lesson { strides: LevelStrides { count, ..usual.strides }, ..usual };
    let hand = Phone { handling: Handling::STEADY_HANDS, ..Phone::usual(5.0, 9.0) };
    let left = |phone: Phone| Phone { side: Side::Left, ..phone };
    let crossed = PolesLaid { aside_m: 0.0, before_fence_m: 1.0, ..usual.poles };
    for (lesson, start) in [
        (usual, Start::Here(Phone::usual(3.0, 23.0))),
        // Half a metre from the better place.
        (usual, Start::Here(Phone { height_m: 1.2, ..Phone::usual(9.5, 19.0) })),
        (
            with(PolesLaid { aside_m: -2.4, ..usual.poles }),
            Start::Here(left(Phone::usual(8.0, 12.0))),
        ),
        (with(PolesLaid { aside_m: -2.4, ..usual.poles }), Start::Open(Phone::unplaced())),
        (usual, Start::Open(left(Phone::unplaced()))),
        (with(crossed), Start::Open(Phone::unplaced())),
        (with(PolesLaid { count: 1, ..usual.poles }), Start::Open(Phone::unplaced())),
        (usual, Start::Here(Phone::usual(-1.0, 18.0))),
        (strides(4), Start::Here(hand)),
        // From nowhere in there.
        (strides(20), Start::Open(Phone { field_deg: 20.0, ..Phone::unplaced() })),
    ] {
        let plan = plan(&lesson, start);
        for units in [LengthUnits::Metres, LengthUnits::Feet] {
            let StandPicture { drawing, sand, labels, signs } = stand_picture(&input(&plan, units));
            let told = format!("{lesson:?} {start:?}");
            assert!(labels.len() >= 5, "{} labels, {told}", labels.len());
            for (i, label) in labels.iter().enumerate() {
                assert!(sand.contains(label), "{label:?} in {sand:?}, {told}");
                let clash = labels[i + 1..].iter().find(|other| other.overlaps(label));
                assert!(clash.is_none(), "{label:?} {clash:?}, {told}");
                assert!(signs.iter().all(|sign| !sign.overlaps(label)), "{label:?}, {told}");
            }
            assert!(signs.iter().all(|sign| sand.contains(sign)), "{told}");
            assert!(drawing.height <= 640.0 && !drawing.svg.contains("NaN"), "{}", drawing.height);
        }
    }
}

#[test]
fn what_is_needed_to_stand_there_is_written_on_it() {
    let plan = plan(&Lesson::usual(), Start::Open(Phone::unplaced()));
    let shown = |units| stand_picture(&input(&plan, units)).drawing.svg;
    let in_metres = shown(LengthUnits::Metres);
    for words in ["18 m from the track", " before the fence", "3 m apart", "4 m to the fence"] {
        assert!(in_metres.contains(words), "{words}");
    }
    for words in ["66° wide", "horse", "stand here", ", 1.6 m high"] {
        assert!(in_metres.contains(words), "{words}");
    }
    let in_feet = shown(LengthUnits::Feet);
    for words in ["59 ft from the track", "9 ft 10 in apart", "13 ft 1 in to the fence"] {
        assert!(in_feet.contains(words), "{words}");
    }
}

/// Who films stands below the track and looks up: her right is the right of the picture.
#[test]
fn the_phone_is_below_the_track_and_right_is_right() {
    let lesson = Lesson::usual();
    for (side, fence_is_right) in [(Side::Right, true), (Side::Left, false)] {
        let phone = Phone { side, ..Phone::usual(9.0, 18.0) };
        let plan = plan(&lesson, Start::Here(phone));
        let input = input(&plan, LengthUnits::Metres);
        let map = StandMap::fit(&input, 0.0);
        let (fence, at) = (map.spot(GroundPoint::new(0.0, 0.0)), map.spot(phone.place().below()));
        assert!(at.y > fence.y + 100.0);
        assert_eq!(fence.x > at.x, fence_is_right);
        // The middle of the fence lies before it, so that the view holds it.
        let [apex, from, .., to] = map.wedge(&phone, plan.here.as_ref().unwrap().view)[..] else {
            panic!()
        };
        assert!(from.y < apex.y && to.y < apex.y && (from.x - to.x).abs() > 100.0);
    }
}
