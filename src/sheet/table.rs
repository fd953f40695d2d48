//! The table of strides.

use serde::Serialize;

use crate::draw::why_no_length;
use crate::quantity::{LengthUnits, Written, written, written_speed, written_tight};
use crate::stride::ApproachMeasurement;
use crate::survey::Suspect;

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
    /// Length, duration, tempo, speed.
    cells: Vec<Cell>,
}

/// The unit of lengths as heads of columns have it.
pub(super) fn length_head(units: LengthUnits) -> &'static str {
    match units {
        LengthUnits::Metres => "m",
        LengthUnits::Feet => "ft, in",
    }
}

/// The unit of speeds beside lengths in `units`.
pub(super) fn speed_head(units: LengthUnits) -> &'static str {
    match units {
        LengthUnits::Metres => "m/min",
        LengthUnits::Feet => "ft/s",
    }
}

/// The heads of the columns after the number: name and unit.
pub(super) fn heads(units: LengthUnits) -> Vec<[&'static str; 2]> {
    let (length, speed) = (length_head(units), speed_head(units));
    vec![["Length", length], ["Duration", "s"], ["Tempo", "strides/min"], ["Speed", speed]]
}

/// The strides in the order ridden.
pub(super) fn rows(
    approach: &ApproachMeasurement,
    suspects: &[Suspect],
    units: LengthUnits,
) -> Vec<TableRow> {
    let row = |row: &crate::stride::StrideRow| {
        let why = why_no_length(approach, row, suspects);
        let speed = row.speed_m_per_s.as_ref();
        TableRow {
            number: format!("\u{2212}{}", row.number.unsigned_abs()),
            cells: vec![
                cell(row.length_m.as_ref().map(|length| written_tight(length, units)), why),
                cell(Some(written(&row.duration_s, units)), why),
                cell(Some(written(&row.tempo_strides_per_min, units)), why),
                cell(speed.map(|speed| written_speed(speed, units)), why),
            ],
        }
    };
    approach.strides.iter().map(row).collect()
}

/// A number, or why there is none.
pub(super) fn cell(written: Option<Written>, why: &str) -> Cell {
    match written {
        Some(written) => Cell { value: written.value, plus_minus: written.plus_minus },
        None => Cell { value: why.to_owned(), plus_minus: String::new() },
    }
}

/// Words or a number that has no ± of its own.
pub(super) fn plain(value: String) -> Cell {
    Cell { value, plus_minus: String::new() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, SEVEN};

    #[test]
    fn each_quantity_has_one_column_in_one_unit() {
        let heads = [heads(LengthUnits::Metres), heads(LengthUnits::Feet)];
        for heads in &heads {
            let mut names: Vec<&str> = heads.iter().map(|head| head[0]).collect();
            names.dedup();
            assert_eq!(names.len(), heads.len());
        }
        assert_eq!((heads[0][3], heads[1][3]), (["Speed", "m/min"], ["Speed", "ft/s"]));
    }

    #[test]
    fn a_mark_left_out_is_called_so() {
        let mut approach = sample::approach(SEVEN);
        for row in &mut approach.strides[2..5] {
            (row.length_m, row.speed_m_per_s) = (None, None);
        }
        let rows = rows(&approach, &[sample::suspect("h3")], LengthUnits::Metres);
        let said = |i: usize| rows[i].cells[0].value.as_str();
        // h3 ends the third stride and begins the fourth.
        assert_eq!([said(2), said(3), said(4)], ["mark left out", "mark left out", "not seen"]);
        assert_eq!(rows[2].cells[3].value, "mark left out");
    }
}
