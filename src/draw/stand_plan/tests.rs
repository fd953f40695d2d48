//! Nothing on the picture collides or leaves the sand, whatever the plan.

use super::*;
use crate::stand::{Bounds, Handling, Lesson, LevelStrides, PolesLaid, stand};
use crate::stride::Draws;

fn picture(lesson: &Lesson, phone: &Phone) -> StandPicture {
    let draws = Draws { count: 100, seed: 7 };
    // A corner of the usual area, so that the search is brief.
    let bounds = Bounds {
        distance: crate::stand::Within::new(16.0, 18.0),
        before_fence: crate::stand::Within::new(9.0, 11.0),
        height: crate::stand::Within::new(1.6, 1.6),
    };
    let plan = stand(lesson, phone, &bounds, draws).unwrap();
    let input = StandPlanInput {
        plan: &plan,
        units: LengthUnits::Metres,
        theme: Theme::LIGHT,
        width: 800.0,
        max_height: 560.0,
        text: 10.0,
        captioned: true,
    };
    stand_picture(&input)
}

#[test]
fn labels_and_signs_keep_apart_and_inside() {
    let usual = Lesson::usual();
    let behind = PolesLaid { aside_m: -2.4, ..usual.poles };
    for (lesson, phone) in [
        (usual, Phone::usual(3.0, 23.0)),
        (Lesson { poles: behind, ..usual }, Phone { side: Side::Left, ..Phone::usual(8.0, 12.0) }),
        (
            Lesson { strides: LevelStrides { count: 4, ..LevelStrides::USUAL }, ..usual },
            Phone { handling: Handling::Turning { sway_sd_m: 0.03 }, ..Phone::usual(5.0, 9.0) },
        ),
    ] {
        let StandPicture { drawing, sand, labels, signs } = picture(&lesson, &phone);
        assert!(labels.len() >= 5, "{} labels", labels.len());
        for (i, label) in labels.iter().enumerate() {
            assert!(sand.contains(label), "{label:?} in {sand:?}");
            assert!(labels[i + 1..].iter().all(|other| !other.overlaps(label)), "{label:?}");
            assert!(signs.iter().all(|sign| !sign.overlaps(label)), "{label:?} on a sign");
        }
        assert!(signs.iter().all(|sign| sand.contains(sign)));
        assert!(drawing.height <= 620.0 && !drawing.svg.contains("NaN"), "{}", drawing.height);
    }
}
