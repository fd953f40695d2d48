use super::*;
use crate::poles::sample::{measured, typed};
use crate::poles::{Asked, Gait, Published, Size, plan, plan_line};
use crate::quantity::Unit;

fn drawn(plan: &Plan, units: LengthUnits) -> LessonPlanParts {
    let (theme, width, text) = (Theme::LIGHT, 520.0, 8.0);
    lesson_plan_parts(&LessonPlanInput { plan, units, theme, width, text })
}

fn plans() -> Vec<Plan> {
    let tables = Published::built_in().unwrap();
    let pony = Asked { gait: Gait::Trot, size: Size::Pony(None), height_m: 0.6, ..typed(2.9) };
    let mut all: Vec<Plan> =
        [typed(3.6576), measured(3.5, &[3.4, 3.6]), pony, Asked { height_m: 0.0, ..typed(3.5) }]
            .iter()
            .map(|asked| plan(asked, &tables).unwrap())
            .collect();
    all.extend([1, 5, 12].map(|strides| plan_line(&typed(3.5), strides, &tables).unwrap()));
    all
}

#[test]
fn every_distance_is_as_long_as_it_says_at_one_scale() {
    for plan in plans() {
        let parts = drawn(&plan, LengthUnits::Metres);
        let lengths: Vec<f64> = match &plan.distances[..] {
            [line] => [
                &line.shorter.as_ref().unwrap().length,
                &line.length,
                &line.longer.as_ref().unwrap().length,
            ]
            .map(|length| length.aim_m.get())
            .to_vec(),
            all => all.iter().map(|distance| distance.length.aim_m.get()).collect(),
        };
        let drawn = parts.distances.iter().map(|[from, to]| (to.x - from.x) / parts.per_metre);
        // Rows are filled where there is room, so that the order may differ.
        let sorted = |mut lengths: Vec<f64>| {
            lengths.sort_by(f64::total_cmp);
            lengths
        };
        let (drawn, lengths) = (sorted(drawn.collect()), sorted(lengths));
        assert_eq!(drawn.len(), lengths.len());
        for (drawn, length) in drawn.iter().zip(&lengths) {
            assert!((drawn - length).abs() < 1e-9, "{drawn} {length}");
        }
    }
}

#[test]
fn exercises_stand_beside_one_another_on_the_drawing() {
    for plan in plans() {
        for units in [LengthUnits::Metres, LengthUnits::Feet] {
            let parts = drawn(&plan, units);
            let page = Area::at(0.0, 0.0, parts.drawing.width, parts.drawing.height);
            for (number, block) in parts.blocks.iter().enumerate() {
                assert!(page.grown(0.01).contains(block), "{block:?}");
                assert!(parts.blocks[..number].iter().all(|other| !other.overlaps(block)));
            }
        }
    }
}

#[test]
fn the_drawing_is_the_same_each_time_and_shows_its_distances() {
    let plan = &plans()[0];
    let svg = drawn(plan, LengthUnits::Feet).drawing.svg;
    assert_eq!(svg, drawn(plan, LengthUnits::Feet).drawing.svg);
    // (n+1) × 12 ft (R1, R4).
    for words in [
        "24 ft",
        "36 ft",
        "84 ft",
        "15 ft",
        "landing",
        "take-off",
        "walked pace of 3 ft",
        "walked paces",
    ] {
        assert!(svg.contains(words), "{words}");
    }
    let poles = drawn(&plans()[3], LengthUnits::Metres).drawing.svg;
    assert!(poles.contains("5 m") && !poles.contains("NaN"));
}

#[test]
fn strides_lie_between_the_fences_with_landing_and_take_off_alike() {
    let plan = &plans()[0];
    let input = LessonPlanInput {
        plan,
        units: LengthUnits::Metres,
        theme: Theme::DARK,
        width: 500.0,
        text: 8.0,
    };
    let all = laid_exercises(&input);
    // Two strides of 12 ft from 6 ft behind the first fence (R1, R2, R6): 6, 18 and 30 ft of 36.
    let two = all.iter().find(|one| one.name == "2 strides").unwrap();
    for (found, feet) in two.prints_m.iter().zip([6.0, 18.0, 30.0]) {
        assert!((found - feet * 0.3048).abs() < 1e-9, "{:?}", two.prints_m);
    }
    assert_eq!(two.prints_m.len(), 3);
    assert!(all.iter().find(|one| one.name == "bounce").unwrap().prints_m.is_empty());
}
