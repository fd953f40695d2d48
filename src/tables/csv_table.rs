//! The measured numbers as one table (CSV, RFC 4180): a row a stride, then take-off and landing,
//! then suspects and doubts in the last column.

use csv::{Terminator, WriterBuilder};

use super::columns::ENDS;
use super::error::TablesError;
use super::formula::guarded;
use super::input::TablesInput;
use super::said::{Said, said_of_all, said_of_approach};
use super::unit_word::{in_units, unit_word};
use super::wording::edge_words;
use crate::quantity::{
    Estimate, LengthUnits, Metres, MetresPerSecond, Seconds, StridesPerMinute, Unit,
};
use crate::stride::{ApproachMeasurement, EdgeDistance, StrideRow};

/// Decimals: a tenth of a millimetre and of a millisecond, far finer than any ±.
const DECIMALS: usize = 4;
/// Quantities of three columns each: value and both ends of its 95 % interval.
const QUANTITIES: usize = 4;

/// A measured round as the bytes of a CSV table in UTF-8: lines end in CR LF, cells that need it
/// stand in quotes. Units are in the heads. Words that a spreadsheet would take for a formula have
/// an apostrophe before them.
pub fn csv_table(input: &TablesInput) -> Result<Vec<u8>, TablesError> {
    let units = input.units;
    let mut table = WriterBuilder::new().terminator(Terminator::CRLF).from_writer(Vec::new());
    table.write_record(header(units))?;
    for approach in &input.measurement.approaches {
        for row in &approach.strides {
            table.write_record(stride(approach, row, units))?;
        }
        for (name, distance) in [("take_off", &approach.take_off), ("landing", &approach.landing)] {
            if let Some(distance) = distance {
                table.write_record(edge(approach, name, distance, units))?;
            }
        }
        for said in said_of_approach(&approach.doubts) {
            table.write_record(sentence(Some(approach), &said))?;
        }
    }
    for said in said_of_all(input) {
        table.write_record(sentence(None, &said))?;
    }
    Ok(table.into_inner().map_err(|error| csv::Error::from(error.into_error()))?)
}

fn header(units: LengthUnits) -> Vec<String> {
    let mut header: Vec<String> = ["row", "approach", "fence", "stride"].map(str::to_owned).into();
    let quantities: [String; QUANTITIES] = [
        format!("length_{}", unit_word::<Metres>(units)),
        format!("duration_{}", unit_word::<Seconds>(units)),
        format!("tempo_{}", unit_word::<StridesPerMinute>(units)),
        format!("speed_{}", unit_word::<MetresPerSecond>(units)),
    ];
    for quantity in quantities {
        header.extend(ENDS.map(|end| format!("{quantity}{end}")));
    }
    header.push("note".into());
    header
}

fn stride(approach: &ApproachMeasurement, row: &StrideRow, units: LengthUnits) -> Vec<String> {
    let mut cells = names("stride", Some(approach));
    cells.push(row.number.to_string());
    cells.extend(numbers(row.length_m.as_ref(), units));
    cells.extend(numbers(Some(&row.duration_s), units));
    cells.extend(numbers(Some(&row.tempo_strides_per_min), units));
    cells.extend(numbers(row.speed_m_per_s.as_ref(), units));
    cells.push(guarded(&row.note));
    cells
}

/// Take-off or landing; its distance stands under the lengths.
fn edge(
    approach: &ApproachMeasurement,
    name: &str,
    distance: &EdgeDistance,
    units: LengthUnits,
) -> Vec<String> {
    let mut cells = names(name, Some(approach));
    cells.push(String::new());
    cells.extend(numbers(Some(&distance.distance_m), units));
    cells.resize(cells.len() + ENDS.len() * (QUANTITIES - 1), String::new());
    cells.push(edge_words(distance));
    cells
}

fn sentence(approach: Option<&ApproachMeasurement>, said: &Said) -> Vec<String> {
    let mut cells = names(said.kind, approach);
    cells.resize(cells.len() + 1 + ENDS.len() * QUANTITIES, String::new());
    cells.push(guarded(&said.sentence));
    cells
}

fn names(row: &str, approach: Option<&ApproachMeasurement>) -> Vec<String> {
    let of = approach.map(|of| [guarded(&of.approach), guarded(&of.fence.name)]);
    std::iter::once(row.to_owned()).chain(of.unwrap_or_default()).collect()
}

fn numbers<U: Unit>(estimate: Option<&Estimate<U>>, units: LengthUnits) -> [String; 3] {
    match estimate {
        Some(e) => [e.value, e.low95, e.high95]
            .map(|number| format!("{:.DECIMALS$}", in_units(number, units))),
        None => Default::default(),
    }
}
