//! `groundline plan`: the approach from above, to scale.

use std::io::Write;

use super::Failure;
use super::chosen_approach::{Unnamed, chosen_approach};
use super::drawn::{DRAWN, write_drawing};
use super::file_kind::FileKind;
use super::measured_round::MeasuredRound;
use super::picture_args::PlanArgs;
use crate::draw::{PlanInput, Theme, plan, with_margin};

/// Width, greatest height and type of the drawing, in its own units.
const SIZE: (f64, f64, f64) = (840.0, 560.0, 10.0);
/// Around it, in sizes of the type.
const MARGIN: f64 = 1.6;

pub(super) fn run(args: PlanArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let kind = FileKind::of(&args.output, &DRAWN)?;
    let round = MeasuredRound::of(&args.measured)?;
    let approach =
        chosen_approach(&round.measurement.approaches, args.approach.as_deref(), Unnamed::First)?;
    let (width, max_height, text) = SIZE;
    let margin = MARGIN * text;
    let drawing = plan(&PlanInput {
        approach,
        poles: &round.survey.poles,
        suspects: &round.survey.suspects,
        units: args.measured.units,
        theme: Theme::LIGHT,
        width: width - 2.0 * margin,
        max_height,
        text,
    });
    let title = format!("Plan of the approach to {}", approach.fence.name);
    let drawing = with_margin(drawing, &title, margin);
    write_drawing(&args.output, kind, drawing, Theme::LIGHT.card)?;
    writeln!(out, "drew the plan → `{}`", args.output.display())?;
    Ok(())
}
