//! The table of strides.

use serde::Serialize;

use crate::quantity::{LengthUnits, Written, written, written_pace, written_tight};
use crate::stride::ApproachMeasurement;

/// A value and the ± behind it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct Cell {
    value: String,
    plus_minus: String,
}

/// One stride.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct TableRow {
    number: String,
    /// Length, duration, tempo, speed in m/s and in m/min.
    cells: Vec<Cell>,
}

/// The heads of the columns after the number: name and unit.
pub(super) fn heads(units: LengthUnits) -> Vec<[&'static str; 2]> {
    let length = match units {
        LengthUnits::Metres => "m",
        LengthUnits::Feet => "ft, in",
    };
    vec![
        ["Length", length],
        ["Duration", "s"],
        ["Tempo", "strides/min"],
        ["Speed", "m/s"],
        ["Speed", "m/min"],
    ]
}

/// The strides in the order ridden.
pub(super) fn rows(approach: &ApproachMeasurement, units: LengthUnits) -> Vec<TableRow> {
    let row = |row: &crate::stride::StrideRow| TableRow {
        number: format!("\u{2212}{}", row.number.unsigned_abs()),
        cells: vec![
            cell(row.length_m.as_ref().map(|length| written_tight(length, units))),
            cell(Some(written(&row.duration_s, units))),
            cell(Some(written(&row.tempo_strides_per_min, units))),
            cell(row.speed_m_per_s.as_ref().map(|speed| written(speed, units))),
            cell(row.speed_m_per_s.as_ref().map(written_pace)),
        ],
    };
    approach.strides.iter().map(row).collect()
}

fn cell(written: Option<Written>) -> Cell {
    match written {
        Some(written) => Cell { value: written.value, plus_minus: written.plus_minus },
        None => Cell { value: "not seen".to_owned(), plus_minus: String::new() },
    }
}
