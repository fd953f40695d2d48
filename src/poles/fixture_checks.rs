//! The fixtures against themselves: every row has a listed source, ends in order, and metres that
//! are those of the printed figure.

use std::collections::BTreeSet;

use super::provenance::{Grade, Provenance, Seen, Source};
use super::published::{Population, Published, PublishedRow, RowKind};
use super::speed_tables::SpeedTables;
use crate::quantity::{METRES_PER_FOOT, Metres, Unit};

fn published() -> Published {
    Published::built_in().unwrap()
}

/// A printed figure's ends in metres.
fn read_figure(printed: &str) -> Vec<f64> {
    let bare = ["about ", "up to ", "at least "]
        .iter()
        .fold(printed, |text, words| text.strip_prefix(words).unwrap_or(text));
    let has_marks = bare.ends_with(['\'', '"']);
    let (figures, unit) = if has_marks { (bare, "ft") } else { bare.rsplit_once(' ').unwrap() };
    let metres = match unit {
        "ft" => METRES_PER_FOOT,
        // A walked pace is 3 ft (R2, R6, R11).
        "yd" | "pace" | "paces" => 3.0 * METRES_PER_FOOT,
        "in" => METRES_PER_FOOT / 12.0,
        "m" => 1.0,
        "cm" => 0.01,
        "mm" => 0.001,
        other => panic!("unit {other} in {printed}"),
    };
    figures.replace(" or ", "–").split('–').map(|figure| read_number(figure) * metres).collect()
}

/// `11'6"` or `24.5`.
fn read_number(figure: &str) -> f64 {
    let Some((feet, inches)) = figure.split_once('\'') else {
        return figure.parse().unwrap();
    };
    let inches = inches.strip_suffix('"').unwrap_or("0");
    feet.parse::<f64>().unwrap() + inches.parse::<f64>().unwrap() / 12.0
}

fn ends(row: &PublishedRow) -> Vec<f64> {
    [row.low_m, row.high_m].into_iter().flatten().map(Metres::get).collect()
}

#[test]
fn metres_are_those_of_the_printed_figure() {
    for row in published().rows {
        let printed = read_figure(&row.printed);
        let (first, last) = (printed[0], *printed.last().unwrap());
        // Metres are written to the tenth of a millimetre.
        if let Some(low) = row.low_m {
            assert!((low.get() - first).abs() <= 0.000_06, "{row:?}");
        }
        if let Some(high) = row.high_m {
            assert!((high.get() - last).abs() <= 0.000_06, "{row:?}");
        }
        assert_eq!(row.low_m.is_none(), row.printed.starts_with("up to"), "{row:?}");
        assert_eq!(row.high_m.is_none(), row.printed.starts_with("at least"), "{row:?}");
    }
}

#[test]
fn a_sources_own_metres_are_its_feet_within_rounding() {
    let rows = published().rows;
    let twice: Vec<_> = rows.iter().filter(|row| row.printed_also.is_some()).collect();
    assert!(twice.len() >= 7, "{}", twice.len());
    for row in twice {
        let metres = read_figure(row.printed_also.as_ref().unwrap());
        // The sheet rounds each figure by itself: to 0.1 m or, where it prints none, to 1 m.
        let text = row.printed_also.as_ref().unwrap().strip_suffix(" m").unwrap();
        for ((own, figure), end) in metres.iter().zip(text.split('–')).zip(ends(row)) {
            let half = if figure.contains('.') { 0.05 } else { 0.5 };
            assert!((own - end).abs() <= half + 1e-9, "{row:?}");
        }
    }
}

#[test]
fn ends_are_in_order_and_plausible() {
    for row in published().rows {
        let ends = ends(&row);
        assert!(!ends.is_empty() && ends.iter().all(|end| *end > 0.0 && *end <= 70.0), "{row:?}");
        assert!(ends.windows(2).all(|pair| pair[0] <= pair[1]), "{row:?}");
        let heights = [row.fence_from_m, row.fence_to_m];
        assert!(heights.iter().flatten().all(|height| (0.0..2.5).contains(height)), "{row:?}");
        let counts = matches!(row.kind, RowKind::Line | RowKind::Bounce);
        assert!(!counts || row.strides.is_some(), "{row:?}");
        assert!(row.kind != RowKind::Bounce || row.strides == Some(0), "{row:?}");
    }
}

fn check_source(row: &Provenance, sources: &[Source]) {
    let Provenance { sources: tags, grade, seen, .. } = row;
    let grades = tags.iter().map(|tag| {
        let source = sources.iter().find(|source| source.tag == *tag);
        source.unwrap_or_else(|| panic!("{tag} is not listed")).grade
    });
    // The lowest grade of its sources is the row's: grades are ordered from good to poor.
    assert_eq!(grades.max().unwrap_or(Grade::Ungraded), *grade, "{tags:?}");
    assert_eq!(tags.is_empty(), *seen == Seen::Memory, "{tags:?}");
}

fn check_list(used: Vec<&String>, sources: &[Source]) {
    let used: BTreeSet<&String> = used.into_iter().collect();
    let listed: BTreeSet<&String> = sources.iter().map(|source| &source.tag).collect();
    assert_eq!(used, listed, "a source is listed that no row uses, or the reverse");
    assert_eq!(listed.len(), sources.len(), "a source is listed twice");
    assert!(sources.iter().all(|source| !source.what.is_empty() && !source.place.is_empty()));
}

#[test]
fn every_row_has_a_listed_source_of_its_grade_or_is_from_memory() {
    let published = published();
    for row in &published.rows {
        check_source(&row.provenance, &published.sources);
        assert_eq!(
            row.provenance.confidence.is_some(),
            row.provenance.seen == Seen::Memory,
            "{row:?}"
        );
    }
    check_list(
        published.rows.iter().flat_map(|row| &row.provenance.sources).collect(),
        &published.sources,
    );
    assert_eq!(published.source("R25").unwrap().grade, Grade::A);
    assert_eq!(published.source("R0"), None);
    let site = |tag: &str| published.source(tag).unwrap().site();
    assert_eq!(
        [site("R2"), site("R6"), site("R15")],
        ["pressreader.com", "horseanswerstoday.com", "mfthba.com"]
    );
}

#[test]
fn every_speed_has_a_listed_source_and_its_printed_figure() {
    let tables = SpeedTables::built_in().unwrap();
    for row in &tables.rows {
        check_source(&row.provenance, &tables.sources);
        let figures = row.printed.strip_suffix(" m/min").unwrap().replace(" or ", "–");
        let figures: Vec<f64> = figures.split('–').map(|f| f.parse().unwrap()).collect();
        assert_eq!(figures[0], row.low_m_per_min, "{row:?}");
        assert_eq!(*figures.last().unwrap(), row.high_m_per_min, "{row:?}");
        assert!(row.low_m_per_min <= row.high_m_per_min, "{row:?}");
        assert_eq!(row.course_from_m.is_some(), row.course_to_m.is_some(), "{row:?}");
        assert!(row.course_from_m.zip(row.course_to_m).is_none_or(|(from, to)| from < to));
    }
    check_list(
        tables.rows.iter().flat_map(|row| &row.provenance.sources).collect(),
        &tables.sources,
    );
}

#[test]
fn a_row_from_memory_is_never_the_only_one_of_its_kind() {
    let rows = published().rows;
    let memory: Vec<_> = rows.iter().filter(|row| row.provenance.seen == Seen::Memory).collect();
    assert_eq!(memory.len(), 5);
    for row in memory {
        let is_wider = |other: &Population| match row.population {
            Population::PonySmall | Population::PonyMedium | Population::PonyLarge => {
                *other == Population::Pony || *other == row.population
            }
            population => *other == population,
        };
        let supported = rows.iter().any(|other| {
            other.provenance.seen.is_read()
                && other.aside.is_none()
                && (other.kind, other.strides) == (row.kind, row.strides)
                && is_wider(&other.population)
        });
        assert!(supported, "{row:?}");
    }
}

/// Rows flatten their provenance and so cannot refuse a misspelt key by themselves.
#[test]
fn every_key_of_a_row_is_one_that_is_read() {
    let keys = |rows: &serde_json::Value| -> Vec<BTreeSet<String>> {
        let rows = rows["rows"].as_array().unwrap().iter();
        rows.map(|row| row.as_object().unwrap().keys().cloned().collect()).collect()
    };
    let in_file = |text: &str| keys(&serde_json::from_str(text).unwrap());
    let read = |table: serde_json::Value| keys(&table);
    let distances = in_file(include_str!("../../fixtures/distances.json"));
    assert_eq!(distances, read(serde_json::to_value(published()).unwrap()));
    let speeds = in_file(include_str!("../../fixtures/speeds.json"));
    let tables = SpeedTables::built_in().unwrap();
    assert_eq!(speeds, read(serde_json::to_value(tables).unwrap()));
}

#[test]
fn no_two_rows_are_the_same() {
    let rows = published().rows;
    for (at, row) in rows.iter().enumerate() {
        assert!(!rows[..at].contains(row), "{row:?}");
    }
}

#[test]
fn rules_rest_on_listed_sources() {
    use super::Rule;
    let published = published();
    let rules = [
        Rule::LandingTakeOffAndStrides,
        Rule::MiddleOfTables,
        Rule::TablesTimesStride,
        Rule::HorseTablesTimesStride,
        Rule::TwelveFoot,
        Rule::MetricStride,
        Rule::MetricPonyStride,
        Rule::HeightFormula,
        Rule::SimplifiedHeightFormula,
    ];
    for rule in rules {
        let listed = rule.sources().iter().all(|tag| published.source(tag).is_some());
        assert!(listed, "{rule:?}");
        assert_eq!(rule.sources().is_empty(), rule.words().contains("tables"), "{rule:?}");
    }
}
