//! `groundline stand`: where to stand before filming.

use std::io::Write;
use std::path::Path;

use super::Failure;
use super::chosen_approach::{Unnamed, chosen_approach};
use super::drawn::{DRAWN, write_drawing};
use super::file_kind::FileKind;
use super::measured_args::MeasuredArgs;
use super::measured_round::MeasuredRound;
use super::stand_args::StandArgs;
use crate::draw::{StandPlanInput, Theme, stand_picture, with_margin};
use crate::quantity::LengthUnits;
use crate::stand::{
    Lesson, Phone, StandDoubt, StandError, StandPlan, Surveyed, place_words, stand, stood,
};
use crate::stride::Draws;

/// Width, greatest height and type of the drawing, in its own units.
const SIZE: (f64, f64, f64) = (840.0, 640.0, 11.0);
/// Around it, in sizes of the type.
const MARGIN: f64 = 1.6;
/// Where a phone is put that nothing is said of.
const USUAL_PLACE: (f64, f64) = (9.0, 12.0);

pub(super) fn run(args: StandArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let kind = args.output.as_ref().map(|path| FileKind::of(path, &DRAWN)).transpose()?;
    let base = base(&args)?;
    let lesson = args.lesson.over(base.lesson);
    let phone = args.phone.over(base.phone);
    let mut plan = stand(&lesson, &phone, &args.bounds.bounds(), Draws::default())?;
    plan.doubts = base.doubts;
    let units = args.units;
    if let (Some(path), Some(kind)) = (&args.output, kind) {
        draw(&plan, units, path, kind)?;
    }
    if args.json {
        writeln!(out, "{}", serde_json::to_string_pretty(&plan.told()).map_err(Failure::new)?)?;
        return Ok(());
    }
    print(&plan, units, out)?;
    match &args.output {
        Some(path) => Ok(writeln!(out, "drew where to stand → `{}`", path.display())?),
        None => Ok(()),
    }
}

/// What the marks file says, or a usual lesson.
fn base(args: &StandArgs) -> Result<Surveyed, Failure> {
    let Some(marks) = &args.marks else {
        let (along, away) = USUAL_PLACE;
        let (lesson, phone) = (Lesson::usual(), Phone::usual(along, away));
        return Ok(Surveyed { lesson, phone, doubts: Vec::new() });
    };
    let measured =
        MeasuredArgs { marks: marks.clone(), units: LengthUnits::Metres, capture_rate: None };
    let round = MeasuredRound::of(&measured)?;
    let approach =
        chosen_approach(&round.measurement.approaches, args.approach.as_deref(), Unnamed::First)?;
    Ok(stood(&round.file, &round.survey, approach)?)
}

fn draw(plan: &StandPlan, units: LengthUnits, path: &Path, kind: FileKind) -> Result<(), Failure> {
    let (width, max_height, text) = SIZE;
    let margin = MARGIN * text;
    let input = StandPlanInput {
        plan,
        units,
        theme: Theme::LIGHT,
        width: width - 2.0 * margin,
        max_height,
        text,
        captioned: true,
    };
    let drawing = with_margin(stand_picture(&input).drawing, "Where to stand", margin);
    write_drawing(path, kind, drawing, Theme::LIGHT.card)
}

fn print(plan: &StandPlan, units: LengthUnits, out: &mut dyn Write) -> Result<(), Failure> {
    let better = plan.better();
    writeln!(out, "now     {}", whereabouts(&plan.here.phone, units))?;
    if let Some(better) = better {
        writeln!(out, "better  {}", whereabouts(&better.phone, units))?;
    }
    writeln!(out)?;
    print_table(plan, units, out)?;
    writeln!(out, "\n{}", plan.advice.sentence(units))?;
    if let Some(unseen) = plan.here.unseen.sentence() {
        writeln!(out, "From where you stand now: {unseen}.")?;
    }
    print_changes(plan, units, out)?;
    for doubt in plan.doubt_sentences() {
        writeln!(out, "doubt: {doubt}")?;
    }
    // Those of where she stands are told; of the other place only what is new.
    let told = |doubt: &&StandDoubt| !plan.here.doubts.contains(doubt);
    for doubt in better.iter().flat_map(|better| &better.doubts).filter(told) {
        writeln!(out, "doubt: from the better place: {}", doubt.sentence())?;
    }
    writeln!(
        out,
        "\n± is half of the 95 % interval, expected for level strides of the lengths stated; the \
         advice goes by the largest of strides and take-off.\n{}",
        plan.safety
    )?;
    for caution in plan.cautions {
        writeln!(out, "{caution}")?;
    }
    Ok(())
}

fn whereabouts(phone: &Phone, units: LengthUnits) -> String {
    let held = if phone.turns() { "turned with the horse" } else { "on a stand" };
    format!("{}, {held}", place_words(phone, units))
}

/// A line a number, a column a place.
fn print_table(plan: &StandPlan, units: LengthUnits, out: &mut dyn Write) -> Result<(), Failure> {
    let mut line = |name: &str, now: &str, better: &str| {
        let cells = format!("  {name:<11} {now:<20}{better}");
        writeln!(out, "{}", cells.trim_end())
    };
    if plan.better().is_some() {
        line("", "now", "better")?;
    }
    for figure in plan.figures(units) {
        line(&figure.name, &figure.now, figure.better.as_deref().unwrap_or_default())?;
    }
    Ok(())
}

/// Single changes that help.
fn print_changes(plan: &StandPlan, units: LengthUnits, out: &mut dyn Write) -> Result<(), Failure> {
    let lines = plan.helping(units);
    if lines.is_empty() {
        return Ok(());
    }
    writeln!(out, "One thing alone done differently from now:")?;
    let width = lines.iter().map(|(words, _)| words.chars().count()).max().unwrap_or_default();
    for (words, half) in lines {
        writeln!(out, "  {words:<width$}  {half}")?;
    }
    Ok(())
}

impl From<StandError> for Failure {
    fn from(error: StandError) -> Self {
        let hint = error.hint();
        let failure = Self::new(error);
        match hint {
            Some(hint) => failure.hint(hint),
            None => failure,
        }
    }
}
