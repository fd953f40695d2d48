use super::*;
use crate::poles::sample::{measured, typed};
use crate::poles::{
    Aside, Gait, Going, PlanWarning, PonyClass, Readiness, Rule, Seen, ShortenedBy, Shortening,
    Size, Standing, distance_words, published_beside,
};
use crate::quantity::LengthUnits;

fn published() -> Published {
    Published::built_in().unwrap()
}

fn planned(asked: &Asked) -> Plan {
    plan(asked, &published()).unwrap()
}

fn of(plan: &Plan, exercise: Exercise) -> &Distance {
    plan.distances.iter().find(|distance| distance.exercise == exercise).unwrap()
}

fn line_of(strides: u32) -> Exercise {
    Exercise::Line { strides }
}

fn every_question() -> Vec<Asked> {
    let sizes = [
        Size::Horse,
        Size::Pony(None),
        Size::Pony(Some(PonyClass::Small)),
        Size::Pony(Some(PonyClass::Medium)),
        Size::Pony(Some(PonyClass::Large)),
    ];
    let mut all = Vec::new();
    for size in sizes {
        for gait in [Gait::Trot, Gait::Canter] {
            for height_m in [0.0, 0.6, 0.95, 1.1] {
                for going in [Going::Good, Going::Deep] {
                    let stride_m = if size == Size::Horse { 3.6 } else { 3.1 };
                    all.push(Asked { size, gait, height_m, going, ..typed(stride_m) });
                }
            }
        }
    }
    all
}

#[test]
fn every_plan_is_whole_and_carries_its_cautions() {
    for asked in every_question() {
        let plan = planned(&asked);
        let sensible = |exercise: &Exercise| asked.height_m > 0.0 || !exercise.needs_a_fence();
        let all = Exercise::all(asked.gait).into_iter().filter(sensible).count();
        assert_eq!(plan.distances.len(), all, "{asked:?}");
        assert_eq!(plan.cautions.len(), 7);
        for distance in &plan.distances {
            let length = distance.length;
            assert!(length.low_m <= length.aim_m && length.aim_m < length.high_m, "{distance:?}");
            assert!(length.low_m.get() > 0.5, "{distance:?}");
        }
        let lines = plan.distances.iter().filter(|d| d.shorter.is_some());
        let aims: Vec<f64> = lines.map(|line| line.length.aim_m.get()).collect();
        assert!(aims.windows(2).all(|pair| pair[0] < pair[1]), "{aims:?}");
    }
}

#[test]
fn memory_decides_nothing() {
    let mut without = published();
    without.rows.retain(|row| row.provenance.seen != Seen::Memory);
    for asked in every_question() {
        let (all, read) = (planned(&asked), plan(&asked, &without).unwrap());
        for (all, read) in all.distances.iter().zip(&read.distances) {
            assert_eq!((all.length, &all.warnings), (read.length, &read.warnings));
            assert!(!all.warnings.contains(&PlanWarning::MemoryOnly));
        }
    }
}

#[test]
fn a_twelve_foot_horse_keeps_within_the_tables() {
    for (gait, height_m) in [(Gait::Canter, 0.8), (Gait::Canter, 1.1), (Gait::Trot, 0.6)] {
        let plan = planned(&Asked { gait, height_m, ..typed(3.6576) });
        for distance in &plan.distances {
            let outside =
                distance.warnings.iter().any(|w| matches!(w, PlanWarning::OutsidePublished { .. }));
            assert!(!outside, "{gait:?} {height_m}: {distance:?}");
        }
    }
}

#[test]
fn trot_in_distances_lie_amid_those_printed() {
    let plan = planned(&Asked { gait: Gait::Trot, height_m: 0.6, ..typed(3.6576) });
    // R1, R5 (read): one stride 18–20, two 30–33 ft.
    assert_eq!(distance_words(of(&plan, line_of(1))).feet, "19 ft 6 in (18 ft to 21 ft)");
    assert_eq!(distance_words(of(&plan, line_of(2))).feet, "31 ft 6 in (30 ft to 33 ft)");
    // From three strides on only cantered rows were read: shown, not compared.
    let three = of(&plan, line_of(3));
    assert!(three.warnings.contains(&PlanWarning::NonePublished));
    assert!(three.beside.iter().any(|b| b.standing == Standing::Aside { aside: Aside::Cantered }));
}

#[test]
fn ground_and_horse_move_the_aim_to_the_low_end() {
    let good = planned(&typed(3.6));
    let heavy =
        Asked { slope_percent: 4.0, going: Going::Deep, readiness: Readiness::Green, ..typed(3.6) };
    let heavy = planned(&heavy);
    for (good, heavy) in good.distances.iter().zip(&heavy.distances) {
        assert_eq!(heavy.length.aim_m, good.length.low_m);
        assert_eq!(heavy.length.high_m, good.length.high_m);
        let why = heavy.warnings.iter().find_map(|warning| match warning {
            PlanWarning::Shortened { parts } => Some(parts[0].why.clone()),
            _ => None,
        });
        use ShortenedBy::{DeepGoing, GreenHorse, Uphill};
        assert_eq!(why, Some(vec![Uphill, DeepGoing, GreenHorse]));
    }
    let down = planned(&Asked { slope_percent: -4.0, ..typed(3.6) });
    assert_eq!(down.distances[5].length, good.distances[5].length);
    assert_eq!(down.warnings, [PlanWarning::Downhill]);
    let [short] = &heavy.warnings[..] else { panic!("{:?}", heavy.warnings) };
    let said = short.sentence(LengthUnits::Metres);
    assert!(
        said.starts_with(
            "uphill, deep going, green horse: no source gives an amount, so each distance starts at \
             its short end, once for all of these, however steep, and no version"
        ),
        "{said}"
    );
}

#[test]
fn poles_and_bounces_follow_the_tables() {
    let plan = planned(&typed(3.6576));
    let trot = of(&plan, Exercise::TrotPoles);
    assert_eq!(trot.rule, Rule::MiddleOfTables);
    // Middles 1.41, 1.45, 1.20, 1.40 and 1.30 m (R20, R21, R7, R23, R24): the median is 1.40.
    assert!((trot.length.aim_m.get() - 1.40).abs() < 1e-9);
    // A trotted distance does not grow with the canter stride, a cantered one does.
    let long = planned(&typed(4.0));
    assert_eq!(of(&long, Exercise::TrotPoles).length, trot.length);
    let (bounce, long) = (of(&plan, Exercise::Bounce), of(&long, Exercise::Bounce));
    let ratio = long.length.aim_m.get() / bounce.length.aim_m.get();
    assert!((ratio - 4.0 / 3.6576).abs() < 1e-9);
    assert!((3.05..3.66).contains(&bounce.length.aim_m.get()), "{:?}", bounce.length);
}

#[test]
fn a_pony_without_a_table_gets_the_horses_in_proportion() {
    let asked = Asked { size: Size::Pony(Some(PonyClass::Medium)), ..typed(3.13) };
    let plan = planned(&asked);
    let pole = of(&plan, Exercise::PlacingPole { gait: Gait::Canter, strides: 1 });
    assert_eq!(pole.rule, Rule::HorseTablesTimesStride);
    assert!(pole.warnings.contains(&PlanWarning::NonePublished));
    assert!(pole.beside.iter().all(|b| b.standing == Standing::Aside { aside: Aside::Horses }));
    // 19 ft for a stride of about 12 ft: as much less as the stride is.
    assert!((4.9..5.1).contains(&pole.length.aim_m.get()), "{:?}", pole.length);
    // Middle of 10 ft 3 in–10 ft 6 in (R16) and 3.10 m (R23).
    let strides = plan.stride_beside.iter().filter(|b| b.row.low_m.is_some()).count();
    assert_eq!(strides, 2);
}

#[test]
fn a_plan_goes_to_json_with_units_in_its_names() {
    let json = serde_json::to_value(planned(&measured(3.5, &[3.4, 3.6]))).unwrap();
    let line = &json["distances"][5];
    assert_eq!(line["exercise"]["exercise"], "line");
    assert_eq!(line["rule"], "landing_take_off_and_strides");
    assert!(line["length"]["aim_m"].is_number() && line["needed"][0]["low_m"].is_number());
    let asked: Asked = serde_json::from_value(json["asked"].clone()).unwrap();
    assert_eq!(asked, measured(3.5, &[3.4, 3.6]));
}

#[test]
fn canter_poles_fix_the_stride_so_they_say_when_it_was_never_shown() {
    let is_never = |w: &PlanWarning| matches!(w, PlanWarning::NeverShown { .. });
    let never = |strides_m: &[f64]| {
        let plan = planned(&measured(3.5, strides_m));
        of(&plan, Exercise::CanterPoles).warnings.iter().any(is_never)
    };
    // A stride of 3.5 m gives poles near 3.0 m.
    assert!(never(&[3.46, 3.5, 3.54]));
    assert!(!never(&[3.0, 3.5]));
}

#[test]
fn canter_poles_alone_say_what_makes_them_short() {
    let level = planned(&typed(3.6));
    let poles = of(&level, Exercise::CanterPoles);
    assert_eq!(poles.warnings, []);
    let deep = planned(&Asked { going: Going::Deep, ..typed(3.6) });
    let deep = of(&deep, Exercise::CanterPoles);
    let by_m = poles.length.aim_m - poles.length.low_m;
    let why = vec![ShortenedBy::DeepGoing];
    assert!(
        deep.warnings.contains(&PlanWarning::Shortened { parts: vec![Shortening { why, by_m }] })
    );
}

#[test]
fn a_plan_of_one_line_holds_that_line_and_refuses_what_is_none() {
    let asked = typed(3.6576);
    let seven = plan_line(&asked, 7, &published()).unwrap();
    assert_eq!(seven.distances.len(), 1);
    // 8 × 12 ft (R1, R4).
    assert!((seven.distances[0].length.aim_m.get() - 96.0 * 0.3048).abs() < 1e-9);
    assert_eq!(seven.cautions.len(), 7);
    assert!(plan_line(&asked, 0, &published()).is_err());
}

#[test]
fn what_the_stride_rests_on_is_said_with_the_plan() {
    let uneven = |basis: StrideBasis| {
        let mut asked = measured(3.5, &[3.4, 3.5, 3.9]);
        if let Stride::Measured { basis: of, .. } = &mut asked.stride {
            *of = basis;
        }
        planned(&asked).warnings
    };
    assert_eq!(uneven(StrideBasis::AllLevel), []);
    assert_eq!(uneven(StrideBasis::Uneven), [PlanWarning::UnevenStrides]);
    let left_out = uneven(StrideBasis::LevelOnes { left_out: vec![-1] });
    assert_eq!(left_out, [PlanWarning::StridesLeftOut { numbers: vec![-1] }]);
}

#[test]
fn a_measured_pace_stands_beside_course_speeds() {
    let mut asked = measured(3.5, &[3.5]);
    if let Stride::Measured { pace_m_per_s, .. } = &mut asked.stride {
        *pace_m_per_s = Some(crate::quantity::sample::estimate(350.0 / 60.0, 0.1));
    }
    let tables = SpeedTables::built_in().unwrap();
    assert!(planned(&asked).with_speeds(&tables).pace_beside.is_some());
    assert!(planned(&typed(3.5)).with_speeds(&tables).pace_beside.is_none());
}

#[test]
fn published_rows_are_told_by_range_and_grade() {
    let plan = planned(&typed(3.6576));
    let said = published_beside(of(&plan, line_of(1))).unwrap().words(LengthUnits::Metres);
    // 21 ft (R12, R21) and 26.5 ft (R20).
    assert!(said.starts_with("6.40 to 8.08 m ("), "{said}");
    assert!(said.contains("B: ") && said.contains("; C: R1 "), "{said}");
    let seven = plan_line(&typed(3.6576), 7, &published()).unwrap();
    assert_eq!(published_beside(&seven.distances[0]), None);
}

#[test]
fn over_poles_on_the_ground_nothing_is_offered_that_needs_a_fence() {
    let plan = planned(&Asked { height_m: 0.0, ..typed(3.5) });
    let names: Vec<String> = plan.distances.iter().map(|one| one.exercise.words()).collect();
    assert_eq!(names[..3], ["trot poles", "canter poles", "1 stride"]);
    assert_eq!(names.len(), 8);
    // Half a stride less than a whole one (R11).
    let said = plan.distances[2].warnings.iter().map(|one| one.sentence(LengthUnits::Metres));
    assert!(said.into_iter().any(|one| one == "shortened by 1.75 m: poles on the ground"));
}
