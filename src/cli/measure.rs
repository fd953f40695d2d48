//! `groundline measure`: the numbers of a marks file, as a table, JSON or CSV.

use std::io::Write;

use serde_json::{Value, json};

use super::Failure;
use super::args::MeasureArgs;
use super::measured_csv::csv_table;
use super::measured_round::MeasuredRound;
use super::measured_table::print_table;
use crate::marks::MarksDoubt;
use crate::store::{StoreError, write_whole};
use crate::survey::SurveyDoubt;

pub(super) fn run(args: MeasureArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let round = MeasuredRound::of(&args.measured)?;
    let units = args.measured.units.into();
    if let Some(path) = &args.csv {
        let bytes = csv_table(&round, units).map_err(Failure::new)?;
        write_whole(path, &bytes)
            .map_err(|source| StoreError::Unwritable { path: path.clone(), source })?;
    }
    if args.json {
        let all = as_json(&round).map_err(Failure::new)?;
        writeln!(out, "{}", serde_json::to_string_pretty(&all).map_err(Failure::new)?)?;
    } else {
        print_table(&round, units, out)?;
        if let Some(path) = &args.csv {
            writeln!(out, "wrote `{}`", path.display())?;
        }
    }
    Ok(())
}

/// What the places on the ground are counted from.
const GROUND_FRAME: &str = "x_m and y_m are metres on the ground: x runs the way the horse goes, y \
     to its left. The origin is the middle of the first pole (or the first point of a distance, \
     the middle of a fence's take-off base, the foot of a vertical) of the reference with the most \
     marked points; turn_rad turns from x towards y.";

/// Everything at full precision; each doubt with its sentence.
fn as_json(round: &MeasuredRound) -> serde_json::Result<Value> {
    let measurement = &round.measurement;
    let mut all = serde_json::to_value(measurement)?;
    all["ground_frame"] = json!(GROUND_FRAME);
    all["marks_doubts"] = serde_json::to_value(&round.doubts)?;
    let of_marks = round.doubts.iter().map(MarksDoubt::sentence);
    let of_survey = measurement.doubts.iter().map(SurveyDoubt::sentence);
    all["doubt_sentences"] = json!(of_marks.chain(of_survey).collect::<Vec<_>>());
    for (approach, value) in
        measurement.approaches.iter().zip(all["approaches"].as_array_mut().into_iter().flatten())
    {
        value["doubt_sentences"] =
            json!(approach.doubts.iter().map(|doubt| doubt.sentence()).collect::<Vec<_>>());
    }
    Ok(all)
}
