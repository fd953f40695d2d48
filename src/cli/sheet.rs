//! `groundline sheet`: the one page to hand out, as PDF or picture.

use std::io::Write;

use super::Failure;
use super::args::SheetArgs;
use super::file_kind::FileKind;
use super::measured_round::MeasuredRound;
use super::pictures::{Style, clip_of, strip_stills};
use crate::sheet::{Fonts, Paper, SheetInput, sheet_pdf, sheet_png};
use crate::store::{StoreError, write_whole};

/// Dots per inch of the sheet as a picture: still sharp when a printer gets it.
const PRINTED_DPI: f64 = 200.0;

pub(super) fn run(args: SheetArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let kind = FileKind::of(&args.output, &[FileKind::Pdf, FileKind::Png])?;
    let round = MeasuredRound::of(&args.measured)?;
    let approaches = &round.measurement.approaches;
    let approach = match &args.approach {
        Some(id) => approaches.iter().find(|approach| approach.approach == *id),
        None => approaches.first(),
    };
    let approach = approach.ok_or_else(|| {
        let known: Vec<_> = approaches.iter().map(|a| format!("`{}`", a.approach)).collect();
        Failure::new(format!(
            "cannot set the sheet: the marks file holds no such approach (it holds {})",
            if known.is_empty() { "none".into() } else { known.join(", ") }
        ))
    })?;
    let clip = clip_of(&args.measured.marks, &round.file)?;
    let style = Style::of(&args.measured, args.no_names);
    let stills = strip_stills(&round, approach, &mut clip.reader()?, style)?;
    let printed = jiff::ZonedDateTime::now().date().to_string();
    let input = SheetInput {
        approach,
        poles: &round.survey.poles,
        suspects: &round.survey.suspects,
        marks_doubts: &round.doubts,
        survey_doubts: &round.survey.doubts,
        round: &round.file.round,
        stills: &stills,
        readings: &[],
        next_distances: &[],
        brackets: &[],
        tolerance: None,
        units: style.units,
        names: style.names,
        printed: &printed,
        paper: if args.letter { Paper::Letter } else { Paper::A4 },
    };
    let fonts = Fonts::embedded().with_scanned(typst_kit::fonts::system());
    let sheet = match kind {
        FileKind::Png => sheet_png(&input, &fonts, PRINTED_DPI),
        _ => sheet_pdf(&input, &fonts),
    };
    write_whole(&args.output, &sheet.map_err(Failure::new)?)
        .map_err(|source| StoreError::Unwritable { path: args.output.clone(), source })?;
    writeln!(out, "set the sheet → `{}`", args.output.display())?;
    Ok(())
}
