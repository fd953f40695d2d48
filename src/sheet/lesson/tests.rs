use super::*;
use crate::poles::sample::{measured, typed};
use crate::poles::{Asked, Going, SpeedTables, StrideBasis, plan, plan_line};
use crate::quantity::sample::estimate;
use crate::sheet::{Fonts, set_lesson};

fn uneven() -> Asked {
    let mut asked = measured(3.3, &[3.2, 3.3, 3.4]);
    if let Stride::Measured { basis, pace_m_per_s, .. } = &mut asked.stride {
        *basis = StrideBasis::LevelOnes { left_out: vec![-2, -1] };
        *pace_m_per_s = Some(estimate(346.0 / 60.0, 0.15));
    }
    asked
}

#[test]
fn every_plan_fits_one_page_of_either_paper() {
    let published = Published::built_in().unwrap();
    let speeds = SpeedTables::built_in().unwrap();
    let pony = Asked {
        size: Size::Pony(Some(PonyClass::Medium)),
        gait: Gait::Trot,
        height_m: 0.6,
        going: Going::Deep,
        readiness: Readiness::Green,
        slope_percent: 3.0,
        ..typed(2.6)
    };
    let mut plans: Vec<Plan> = [typed(3.6), uneven(), pony.clone()]
        .iter()
        .map(|asked| plan(asked, &published).unwrap().with_speeds(&speeds))
        .collect();
    plans.push(plan_line(&pony, 12, &published).unwrap());
    for plan in &plans {
        for (units, paper) in [(LengthUnits::Metres, Paper::A4), (LengthUnits::Feet, Paper::Letter)]
        {
            let whose = "A horse of a long name";
            let printed = "2026-03-14";
            let input = LessonInput { plan, published: &published, whose, units, printed, paper };
            let sheet = set_lesson(&input, &Fonts::embedded()).unwrap();
            assert_eq!(sheet.page_count(), 1);
            assert_eq!(sheet.missing_letters().count(), 0);
            assert!(sheet.pdf().unwrap().starts_with(b"%PDF"));
        }
    }
}

#[test]
fn the_page_walks_as_the_drawing_and_says_what_a_line_needs() {
    let published = Published::built_in().unwrap();
    // 1.22 m are 1.33 paces: neither 1½ nor any half is near, and the drawing says so, too.
    let trot = plan(&Asked { going: Going::Deep, ..typed(3.5) }, &published).unwrap();
    assert_eq!(row(&trot.distances[0], true, LengthUnits::Metres)[3], "tape it");
    let line = plan_line(&typed(3.5), 5, &published).unwrap();
    let (units, paper) = (LengthUnits::Metres, Paper::A4);
    let plan = &line;
    let input = LessonInput { plan, published: &published, whose: "", units, printed: "", paper };
    // Even where no note has room.
    let said = passages(&input, 0);
    assert_eq!(said[0].title, "To adjust");
    let lines = said[0].sentences.join(" ");
    // 6 × 3.50 m; 21 / 5 and 21 / 7; a 24th more.
    for words in [
        "Shorter 20.12 m (66 ft, 22 walked paces), strides of 3.35 m.",
        "Longer 21.88 m (71 ft 9 in, 24 walked paces), strides of 3.65 m.",
        "As it lies, 4 strides would be 4.20 m each.",
        "As it lies, 6 strides would be 3.00 m each.",
    ] {
        assert!(lines.contains(words), "{lines}");
    }
}

#[test]
fn the_page_says_for_whom_and_keeps_every_caution() {
    let published = Published::built_in().unwrap();
    let plan = plan(&uneven(), &published).unwrap();
    let mut input = LessonInput {
        plan: &plan,
        published: &published,
        whose: "Pebble",
        units: LengthUnits::Feet,
        printed: "",
        paper: Paper::A4,
    };
    assert_eq!(about(&input)[0], "Pebble · horse");
    input.whose = "";
    assert_eq!(about(&input), ["Horse", "Fences 3 ft 7 in, met in canter", "Stride as measured"]);
    let said = passages(&input, 100);
    let cautions = &said.last().unwrap().sentences[0];
    assert!(plan.cautions.iter().all(|caution| cautions.contains(caution)));
    let row = row(&plan.distances[5], true, LengthUnits::Feet);
    assert_eq!(row.len(), heads(&plan, LengthUnits::Feet).len());
    // 2 × 3.3 m is 21 ft 8 in (6.6 / 0.3048 = 21.654 ft).
    assert_eq!((row[1].as_str(), row[2].as_str()), ("21′8″", "6.60"));
}
