//! Pages as data; what other programs read in them is tested in `tests/it/outside_tables.rs`.

use super::about_page::about_page;
use super::approaches_page::approaches_page;
use super::cell::{Cell, Page};
use super::doubts_page::doubts_page;
use super::footfalls_page::footfalls_page;
use super::strides_page::strides_page;
use super::*;
use crate::draw::sample::{self, SEVEN};
use crate::marks::{MarksDoubt, Round};
use crate::quantity::{LengthUnits, METRES_PER_FOOT};
use crate::stride::{Measurement, StrideDoubt};
use crate::survey::{GroundEllipse, SurveyDoubt};

fn measurement() -> Measurement {
    let mut approach = sample::approach(SEVEN);
    approach.strides[2].length_m = None;
    approach.strides[3].note = "=2+3".into();
    approach.doubts = vec![StrideDoubt::Hidden { footfall: "h3".into() }];
    Measurement {
        suspects: vec![sample::suspect("h3")],
        residuals: Vec::new(),
        doubts: vec![SurveyDoubt::TrackBends { approach: "first".into() }],
        approaches: vec![approach],
        lines: Vec::new(),
    }
}

fn input<'a>(measurement: &'a Measurement, round: &'a Round) -> TablesInput<'a> {
    let units = LengthUnits::Metres;
    TablesInput { measurement, marks_doubts: &[], round, clip: "ride.mp4", units }
}

fn pages(input: &TablesInput) -> [Page; 5] {
    [strides_page, footfalls_page, approaches_page, doubts_page, about_page].map(|page| page(input))
}

fn at<'a>(page: &'a Page, row: usize, head: &str) -> &'a Cell {
    let column = page.heads.iter().position(|known| known == head).unwrap();
    &page.rows[row][column]
}

#[test]
fn each_row_has_a_cell_under_each_head_and_no_head_stands_twice() {
    let (measurement, round) = (measurement(), sample::round());
    for page in pages(&input(&measurement, &round)) {
        let heads: std::collections::BTreeSet<_> = page.heads.iter().collect();
        assert_eq!(heads.len(), page.heads.len(), "{}", page.name);
        assert!(!page.rows.is_empty(), "{}", page.name);
        assert!(page.rows.iter().all(|row| row.len() == page.heads.len()), "{}", page.name);
    }
}

#[test]
fn what_is_not_known_is_empty_and_feet_are_in_the_heads() {
    let (measurement, round) = (measurement(), sample::round());
    let strides = strides_page(&input(&measurement, &round));
    assert_eq!(at(&strides, 2, "length_m_low95"), &Cell::Empty);
    let Cell::Number { value: metres, decimals: 2 } = at(&strides, 0, "length_m") else { panic!() };
    let feet = TablesInput { units: LengthUnits::Feet, ..input(&measurement, &round) };
    let strides = strides_page(&feet);
    let Cell::Number { value, decimals } = at(&strides, 0, "length_ft") else { panic!() };
    // ± 0.11 m deserves two decimals of a metre; the same, 0.37 ft, one of a foot.
    assert_eq!((*value, *decimals), (metres / METRES_PER_FOOT, 1));
    let approaches = approaches_page(&feet);
    for head in ["track_bend_per_ft", "trend_ft_per_stride_high95", "take_off_base_left_x_ft"] {
        at(&approaches, 0, head);
    }
    let in_metres = |head: &String| head.contains("_m_") || head.ends_with("_m");
    assert!(!pages(&feet).iter().flat_map(|page| &page.heads).any(in_metres));
}

#[test]
fn an_ellipse_along_the_axes() {
    let spread = |turn_rad| GroundEllipse { major_sd_m: 0.5, minor_sd_m: 0.3, turn_rad }.spread();
    let flat = spread(0.0);
    assert_eq!((flat.x_sd_m, flat.y_sd_m, flat.correlation), (0.5, 0.3, Some(0.0)));
    // Turned by 45°: both variances are (0.25 + 0.09)/2, the covariance (0.25 − 0.09)/2.
    let turned = spread(std::f64::consts::FRAC_PI_4);
    assert!((turned.x_sd_m.powi(2) - 0.17).abs() < 1e-15, "{turned:?}");
    assert!((turned.y_sd_m.powi(2) - 0.17).abs() < 1e-15, "{turned:?}");
    assert!((turned.correlation.unwrap() - 0.08 / 0.17).abs() < 1e-15, "{turned:?}");
    let none = GroundEllipse { major_sd_m: 0.5, minor_sd_m: 0.0, turn_rad: 0.0 }.spread();
    assert_eq!(none.correlation, None);
}

#[test]
fn a_text_no_cell_can_hold_is_refused_and_the_longest_is_not() {
    let mut measurement = measurement();
    let round = sample::round();
    measurement.approaches[0].strides[0].note = "é".repeat(32_767);
    workbook(&input(&measurement, &round)).unwrap();
    // Two UTF-16 units each.
    measurement.approaches[0].strides[0].note = "🐎".repeat(16_384);
    let error = workbook(&input(&measurement, &round)).unwrap_err();
    assert_eq!(
        error.to_string(),
        "cannot put the column `note` into a workbook: one of its texts has 32768 letters (32767 \
         at most needed)"
    );
    csv_table(&input(&measurement, &round)).unwrap();
}

#[test]
fn the_same_round_gives_the_same_bytes_whatever_its_date() {
    let measurement = measurement();
    for date in [None, Some("2026-09-18"), Some("0004-01-01"), Some("some day")] {
        let round = Round { date: date.map(str::to_owned), ..sample::round() };
        let made = || workbook(&input(&measurement, &round)).unwrap();
        assert!(made() == made(), "{date:?}");
    }
}

#[test]
fn names_left_off_are_in_no_name_and_no_doubt() {
    let mut measurement = measurement();
    let round = sample::round();
    assert_eq!((round.horse.as_str(), round.rider.as_str()), ("Juniper", "Maren Holt"));
    let approach = &mut measurement.approaches[0];
    approach.approach = "Maren 1".into();
    approach.fence.name = "Juniper's oxer".into();
    approach.note = "Juniper listened".into();
    approach.doubts = vec![StrideDoubt::Hidden { footfall: "Juniper lh".into() }];
    measurement.doubts = vec![SurveyDoubt::TrackBends { approach: "Maren 1".into() }];
    let doubts = [MarksDoubt::OtherClip { clip: "juniper.mp4".into() }];
    let (left, doubted) = without_names(&measurement, &doubts, &round).unwrap();
    let of = &left.approaches[0];
    assert_eq!((of.approach.as_str(), of.fence.name.as_str()), ("the rider 1", "the horse's oxer"));
    assert_eq!(of.note, "Juniper listened");
    assert!(of.doubts[0].sentence().starts_with("footfall `the horse lh` was not seen"));
    assert!(left.doubts[0].sentence().starts_with("the track of approach `the rider 1` bends"));
    assert!(doubted[0].sentence().starts_with("the clip is not the file"));
    // The numbers are the same to the last digit.
    assert_eq!(of.strides[0].length_m, measurement.approaches[0].strides[0].length_m);
    assert_eq!(of.footfalls[0].place, measurement.approaches[0].footfalls[0].place);
}
