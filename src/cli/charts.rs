//! `groundline charts`: stride lengths, tempo, speed and footfalls on one stride axis.

use std::io::Write;

use super::Failure;
use super::chosen_approach::{Unnamed, chosen_approach};
use super::drawn::{DRAWN, write_drawing};
use super::file_kind::FileKind;
use super::measured_round::MeasuredRound;
use super::picture_args::ChartsArgs;
use crate::draw::{StrideBracket, StrideChartsInput, Theme, stride_charts};
use crate::reading::Texts;

/// Width and type of the drawing, in its own units.
const SIZE: (f64, f64) = (720.0, 11.0);

pub(super) fn run(args: ChartsArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let kind = FileKind::of(&args.output, &DRAWN)?;
    let round = MeasuredRound::of(&args.measured)?;
    let approach =
        chosen_approach(&round.measurement.approaches, args.approach.as_deref(), Unnamed::First)?;
    let settings = args.judge.settings(args.band);
    let all = round.reading(None, &settings);
    let reading = all.approach(&approach.approach);
    let texts = Texts::english().map_err(Failure::new)?;
    let brackets = reading.map(|reading| StrideBracket::of_pace(&reading.pace, &texts));
    let (width, text) = SIZE;
    let drawing = stride_charts(&StrideChartsInput {
        approach,
        suspects: &round.survey.suspects,
        tolerance: args.band.tolerance(),
        brackets: &brackets.unwrap_or_default(),
        units: args.measured.units,
        theme: Theme::LIGHT,
        width,
        text,
    });
    write_drawing(&args.output, kind, drawing, Theme::LIGHT.card)?;
    writeln!(out, "drew the charts → `{}`", args.output.display())?;
    Ok(())
}
