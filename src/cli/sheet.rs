//! `groundline sheet`: the one-page PDF.

use std::io::Write;

use super::Failure;
use super::args::SheetArgs;
use super::measured_round::MeasuredRound;
use super::pictures::{Style, clip_of, strip_stills};
use crate::sheet::{Fonts, Paper, SheetInput, sheet_pdf};
use crate::store::{StoreError, write_whole};

pub(super) fn run(args: SheetArgs, out: &mut dyn Write) -> Result<(), Failure> {
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
    let pdf = sheet_pdf(&input, &fonts).map_err(Failure::new)?;
    write_whole(&args.output, &pdf)
        .map_err(|source| StoreError::Unwritable { path: args.output.clone(), source })?;
    writeln!(out, "done: sheet in `{}`", args.output.display())?;
    Ok(())
}
