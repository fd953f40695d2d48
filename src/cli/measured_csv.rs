//! The measured numbers as one table (CSV, RFC 4180): a row a stride, then take-off and landing,
//! then suspects and doubts in the last column.

use csv::{Error, Terminator, WriterBuilder};

use super::measured_round::MeasuredRound;
use super::measured_table::{edge_words, suspect_sentence};
use crate::marks::MarksDoubt;
use crate::quantity::{Estimate, LengthUnits, Metres, MetresPerSecond, Unit};
use crate::stride::{ApproachMeasurement, EdgeDistance, StrideDoubt, StrideRow};
use crate::survey::SurveyDoubt;

/// Decimals: a tenth of a millimetre and of a millisecond, far finer than any ±.
const DECIMALS: usize = 4;
/// Quantities of three columns each: value and both ends of its 95 % interval.
const QUANTITIES: usize = 4;

/// All rows.
pub(super) fn csv_table(round: &MeasuredRound, units: LengthUnits) -> Result<Vec<u8>, Error> {
    let mut table = WriterBuilder::new().terminator(Terminator::CRLF).from_writer(Vec::new());
    table.write_record(header(units))?;
    for approach in &round.measurement.approaches {
        for row in &approach.strides {
            table.write_record(stride(approach, row, units))?;
        }
        for (name, distance) in [("take_off", &approach.take_off), ("landing", &approach.landing)] {
            if let Some(distance) = distance {
                table.write_record(edge(approach, name, distance, units))?;
            }
        }
        for doubt in approach.doubts.iter().map(StrideDoubt::sentence) {
            table.write_record(sentence("doubt", Some(approach), doubt))?;
        }
    }
    for suspect in round.measurement.suspects.iter().map(suspect_sentence) {
        table.write_record(sentence("suspect", None, suspect))?;
    }
    let of_marks = round.doubts.iter().map(MarksDoubt::sentence);
    let of_survey = round.measurement.doubts.iter().map(SurveyDoubt::sentence);
    for doubt in of_marks.chain(of_survey) {
        table.write_record(sentence("doubt", None, doubt))?;
    }
    table.into_inner().map_err(|error| error.into_error().into())
}

fn header(units: LengthUnits) -> Vec<String> {
    let unit = units.symbol();
    let mut header: Vec<String> = ["row", "approach", "fence", "stride"].map(str::to_owned).into();
    let quantities: [String; QUANTITIES] = [
        format!("length_{unit}"),
        "duration_s".into(),
        "tempo_strides_per_min".into(),
        format!("speed_{unit}_per_s"),
    ];
    for quantity in quantities {
        header.extend(["", "_low95", "_high95"].map(|end| format!("{quantity}{end}")));
    }
    header.push("note".into());
    header
}

fn stride(approach: &ApproachMeasurement, row: &StrideRow, units: LengthUnits) -> Vec<String> {
    let mut cells = names("stride", Some(approach));
    cells.push(row.number.to_string());
    let length = |length: Metres| units.from_metres(length.get());
    let speed = |speed: MetresPerSecond| units.from_metres(speed.get());
    cells.extend(numbers(row.length_m.as_ref(), length));
    cells.extend(numbers(Some(&row.duration_s), Unit::get));
    cells.extend(numbers(Some(&row.tempo_strides_per_min), Unit::get));
    cells.extend(numbers(row.speed_m_per_s.as_ref(), speed));
    cells.push(row.note.clone());
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
    cells.extend(numbers(Some(&distance.distance_m), |m| units.from_metres(m.get())));
    cells.resize(cells.len() + 3 * (QUANTITIES - 1), String::new());
    cells.push(edge_words(distance));
    cells
}

fn sentence(name: &str, approach: Option<&ApproachMeasurement>, said: String) -> Vec<String> {
    let mut cells = names(name, approach);
    cells.resize(cells.len() + 1 + 3 * QUANTITIES, String::new());
    cells.push(said);
    cells
}

fn names(row: &str, approach: Option<&ApproachMeasurement>) -> Vec<String> {
    let of = approach.map(|approach| [approach.approach.clone(), approach.fence.name.clone()]);
    std::iter::once(row.to_owned()).chain(of.unwrap_or_default()).collect()
}

fn numbers<U: Unit>(estimate: Option<&Estimate<U>>, shown: impl Fn(U) -> f64) -> [String; 3] {
    match estimate {
        Some(e) => {
            [e.value, e.low95, e.high95].map(|number| format!("{:.DECIMALS$}", shown(number)))
        }
        None => Default::default(),
    }
}
