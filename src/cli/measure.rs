//! `groundline measure`: the numbers of a marks file, printed, as JSON, CSV or a workbook.

use std::io::Write;
use std::path::Path;

use super::Failure;
use super::file_kind::FileKind;
use super::measured_args::MeasureArgs;
use super::measured_round::MeasuredRound;
use super::measured_table::print_table;
use crate::store::{StoreError, write_whole};
use crate::tables::{MeasuredJson, TablesInput, csv_table, workbook};

pub(super) fn run(args: MeasureArgs, out: &mut dyn Write) -> Result<(), Failure> {
    if let Some(path) = &args.xlsx {
        // Spreadsheet programs refuse a workbook of another ending.
        FileKind::of(path, &[FileKind::Xlsx])?;
    }
    let mut round = MeasuredRound::of(&args.measured)?;
    if args.no_names {
        round.leave_names_off()?;
    }
    let input = TablesInput {
        measurement: &round.measurement,
        marks_doubts: &round.doubts,
        round: &round.file.round,
        clip: &round.file.clip.file,
        units: args.measured.units,
    };
    // All are made before the first is written, so that a refusal leaves no half of the answer.
    let mut files: Vec<(&Path, Vec<u8>)> = Vec::new();
    if let Some(path) = &args.csv {
        files.push((path, csv_table(&input)?));
    }
    if let Some(path) = &args.xlsx {
        files.push((path, workbook(&input)?));
    }
    for (path, bytes) in &files {
        write_whole(path, bytes)
            .map_err(|source| StoreError::Unwritable { path: path.to_path_buf(), source })?;
    }
    if args.json {
        let all = MeasuredJson::of(&input);
        writeln!(out, "{}", serde_json::to_string_pretty(&all).map_err(Failure::new)?)?;
    } else {
        print_table(&round, input.units, out)?;
        for (path, _) in &files {
            writeln!(out, "wrote `{}`", path.display())?;
        }
    }
    Ok(())
}
