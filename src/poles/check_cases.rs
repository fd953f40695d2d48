//! Published check cases: distances and speeds that others printed, by number as in section "Good
//! check cases" of the reference values.

use super::adjusting::{Allowance, strides_needed};
use super::asked::{Asked, PonyClass, Size};
use super::beside::outside;
use super::convention::{conventions, height_formula};
use super::course::{longest_course, time_allowed, time_limit, way_at};
use super::published::{Population, Published, RowKind};
use super::sample::typed;
use super::speed_tables::{Phase, SpeedTables};
use super::walked_line::{strides_of_walked, walked_on_a_curve, walked_paces_of_line};
use super::{Rule, line, metric_line, twelve_foot_line, walked_paces};
use crate::quantity::{METRES_PER_FOOT, Metres, MetresPerSecond, Seconds, Unit};

fn feet(feet: f64) -> Metres {
    Metres::new(feet * METRES_PER_FOOT)
}

fn speed(metres_per_minute: f64) -> MetresPerSecond {
    MetresPerSecond::new(metres_per_minute / 60.0)
}

fn near(found: Metres, expected: f64, within: f64) {
    assert!((found.get() - expected).abs() <= within, "{found:?}, expected {expected}");
}

#[test]
fn case_12_a_line_is_n_plus_one_times_twelve_feet() {
    // R1 (read): 12, 24, 36, 48, 60, 72, 84 ft; metres derived.
    let metres = [3.658, 7.315, 10.973, 14.630, 18.288, 21.946, 25.603];
    for (strides, metres) in (0..).zip(metres) {
        near(twelve_foot_line(strides), metres, 0.0005);
        near(twelve_foot_line(strides), feet(12.0 * f64::from(strides + 1)).get(), 1e-12);
    }
}

#[test]
fn case_12_the_plan_of_a_twelve_foot_stride_is_the_convention() {
    let published = Published::built_in().unwrap();
    // Fences of 1.10 m: a whole stride for landing and take-off (R11).
    for strides in 1..=6 {
        let found = line(&typed(3.6576), strides, &published).unwrap();
        near(found.length.aim_m, twelve_foot_line(strides).get(), 1e-9);
        assert!((found.walked_paces.aim - f64::from(walked_paces_of_line(strides))).abs() < 1e-9);
    }
}

#[test]
fn case_13_walked_paces_are_four_n_and_four() {
    // R2, R6, R11 (read): 8, 12, 16, 20, 24; 16 walked are three strides; five on a curve 23.
    assert_eq!([1, 2, 3, 4, 5].map(walked_paces_of_line), [8, 12, 16, 20, 24]);
    assert_eq!(strides_of_walked(16.0), 3.0);
    assert_eq!(walked_on_a_curve(5), 23);
    // R2, R6 (read): a pace of 3 ft, four to a 12-ft stride.
    assert!((walked_paces(feet(12.0)) - 4.0).abs() < 1e-12);
}

#[test]
fn case_14_the_metric_convention_counts_three_and_a_half_metres() {
    // R23 (read): 7, 10.5, 14, 17.5, 21, 24.5 m.
    let published = [7.0, 10.5, 14.0, 17.5, 21.0, 24.5];
    for (strides, metres) in (1..).zip(published) {
        near(metric_line(Metres::new(3.5), strides), metres, 1e-12);
        let beside = conventions(Size::Horse, 1.0, strides);
        let metric = beside.iter().find(|c| c.rule == Rule::MetricStride).unwrap();
        near(metric.length_m, metres, 1e-12);
    }
    // Pony strides of R23 at n = 1; the lines are derived.
    let ponies = [(PonyClass::Small, 5.80), (PonyClass::Medium, 6.20), (PonyClass::Large, 6.60)];
    for (class, metres) in ponies {
        let beside = conventions(Size::Pony(Some(class)), 0.6, 1);
        assert_eq!(beside.len(), 1);
        near(beside[0].length_m, metres, 1e-12);
    }
    assert_eq!(conventions(Size::Pony(None), 0.6, 1), []);
}

#[test]
fn case_15_the_height_formula_gives_its_own_example() {
    // R9 (read): 1.15 + 1.20 + 7.0 = 9.35 m; the simplified form is derived.
    near(height_formula(Metres::new(1.15), Metres::new(1.20), 2), 9.35, 1e-9);
    let simplified = |strides| {
        let all = conventions(Size::Horse, 1.2, strides);
        all.into_iter().find(|c| c.rule == Rule::SimplifiedHeightFormula).unwrap().length_m
    };
    near(simplified(2), 10.0, 1e-9);
    // The trap: 6.5 m for one stride, where the chart of R24 has 7.5.
    near(simplified(1), 6.5, 1e-9);
}

#[test]
fn case_16_a_medium_pony_on_a_72_foot_line() {
    // R17 (read): 7 strides mean 9 ft; 11 ft: 5 = 66, 6 = 77; 10.5 ft: 5 = 63, 6 = 73.5.
    // Half a stride each to land and to take off (R1, R2, R6).
    let half_each = Allowance { low: 1.0, usual: 1.0, high: 1.0 };
    let needed = strides_needed(feet(72.0), 6, half_each, None);
    assert_eq!(needed.iter().map(|n| n.strides).collect::<Vec<_>>(), [5, 6, 7]);
    near(needed[2].by_convention_m, feet(9.0).get(), 1e-12);
    for (stride, five, six) in [(11.0, 66.0, 77.0), (10.5, 63.0, 73.5)] {
        near(metric_line(feet(stride), 5), feet(five).get(), 1e-12);
        near(metric_line(feet(stride), 6), feet(six).get(), 1e-12);
    }
}

#[test]
fn case_17_feet_are_metres_to_a_tenth() {
    // R21 (read); the sheet prints 33 ft as 10, which is 10.1.
    let pairs = [
        (21.0, "6.4"),
        (24.5, "7.5"),
        (33.0, "10.1"),
        (36.0, "11.0"),
        (45.0, "13.7"),
        (48.0, "14.6"),
        (57.0, "17.4"),
        (60.0, "18.3"),
        (66.0, "20.1"),
    ];
    for (length, metres) in pairs {
        assert_eq!(format!("{:.1}", feet(length).get()), metres, "{length} ft");
    }
}

#[test]
fn case_18_a_double_of_ten_metres_forty() {
    // R25 (read): horses 10.00–11.00, ponies 9.50–10.30 m.
    let published = Published::built_in().unwrap();
    let of = |population| {
        let rows = published.rows.iter();
        let mut found = rows.filter(|row| {
            row.kind == RowKind::Line
                && row.strides == Some(2)
                && row.population == population
                && row.provenance.sources == ["R25"]
        });
        let row = found.next().unwrap();
        outside(Metres::new(10.4), row.low_m, row.high_m)
    };
    near(of(Population::Horse), 0.0, 1e-12);
    near(of(Population::Pony), 0.10, 1e-9);
}

#[test]
fn case_19_times_are_not_rounded_on_the_way() {
    // R29, R38 (read): 85.7 s, 72.0 s, 3 min 50.0 s (a page prints 3:49); results derived.
    let time = |length: f64, pace: f64| time_allowed(Metres::new(length), speed(pace)).get();
    assert!((time(500.0, 350.0) - 85.7).abs() < 0.05);
    assert!((time(450.0, 375.0) - 72.0).abs() < 1e-9);
    assert!((time(2300.0, 600.0) - 230.0).abs() < 1e-9);
    // R29 (read): the limit is twice the time allowed.
    assert_eq!(time_limit(Seconds::new(72.0)).get(), 144.0);
}

#[test]
fn case_20_course_lengths_are_speed_times_minutes() {
    // R31 (read): 520 × 7 and 9, 550 × 8 and 10, 570 × 10 and 11 min.
    let tables = SpeedTables::built_in().unwrap();
    for (level, least, most) in [("CCI*", 7.0, 9.0), ("CCI**", 8.0, 10.0), ("CCI***", 10.0, 11.0)] {
        let row = tables.rows.iter().find(|row| row.level == level).unwrap();
        let way = |minutes: f64| way_at(speed(row.low_m_per_min), Seconds::new(60.0 * minutes));
        near(way(least), row.course_from_m.unwrap(), 1e-6);
        near(way(most), row.course_to_m.unwrap(), 1e-6);
    }
    let first = tables.rows.iter().find(|row| row.level == "CCI*").unwrap();
    assert_eq!((first.course_from_m, first.course_to_m), (Some(3640.0), Some(4680.0)));
}

#[test]
fn case_21_speeds_of_the_levels_in_metres_a_second() {
    // Definition; the levels stand in R19, R25, R31, R33, R34, R35.
    let pairs = [
        (300.0, "5.000"),
        (325.0, "5.417"),
        (350.0, "5.833"),
        (375.0, "6.250"),
        (400.0, "6.667"),
        (435.0, "7.250"),
        (450.0, "7.500"),
        (475.0, "7.917"),
        (520.0, "8.667"),
        (550.0, "9.167"),
        (570.0, "9.500"),
    ];
    let tables = SpeedTables::built_in().unwrap();
    for (pace, metres_per_second) in pairs {
        assert_eq!(format!("{:.3}", speed(pace).get()), metres_per_second);
        assert!((speed(pace).metres_per_minute() - pace).abs() < 1e-9);
        let printed = |row: &super::SpeedRow| {
            row.provenance.seen.is_read()
                && (row.low_m_per_min == pace || row.high_m_per_min == pace)
        };
        assert!(tables.rows.iter().any(printed), "no level is ridden at {pace} m/min");
    }
    let jumping = tables.rows.iter().filter(|row| row.phase == Phase::ShowJumping);
    assert!(jumping.clone().count() > 0);
    assert!(jumping.clone().all(|row| (300.0..=400.0).contains(&row.low_m_per_min)));
}

#[test]
fn case_22_ten_obstacles_make_600_metres() {
    // R25, R26 (read): 60 m an obstacle; results derived.
    near(longest_course(10), 600.0, 1e-12);
    assert!((time_allowed(longest_course(10), speed(350.0)).get() - 102.9).abs() < 0.05);
}

#[test]
fn tables_for_low_and_full_fences_are_the_rule_of_the_line() {
    // R3 (read): four strides, 57 ft up to 3 ft and 60 ft from 3 ft 3 in. R11 (read): 18 yd over
    // poles. R21 (read): 21–24.5, 33–36, 45–48, 57–60 ft, whose ends the rule meets.
    let published = Published::built_in().unwrap();
    let of = |strides, height_m| {
        let asked = Asked { height_m, ..typed(3.6576) };
        line(&asked, strides, &published).unwrap().length.aim_m
    };
    near(of(4, 0.90), feet(57.0).get(), 1e-9);
    near(of(4, 1.00), feet(60.0).get(), 1e-9);
    near(of(4, 0.0), feet(54.0).get(), 1e-9);
    for (strides, low) in [(1, 21.0), (2, 33.0), (3, 45.0)] {
        near(of(strides, 0.6), feet(low).get(), 1e-9);
    }
}
