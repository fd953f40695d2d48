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
    JUDGED_BY, Lesson, Phone, StandDoubt, StandError, StandPlan, Start, Surveyed, place_words,
    stand, stood,
};
use crate::stride::Draws;

/// Width, greatest height and type of the drawing, in its own units.
const SIZE: (f64, f64, f64) = (840.0, 640.0, 11.0);
/// Around it, in sizes of the type.
const MARGIN: f64 = 1.6;
pub(super) fn run(args: StandArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let kind = args.output.as_ref().map(|path| FileKind::of(path, &DRAWN)).transpose()?;
    let units = args.units;
    let refused = |error: StandError| not_planned(&error, units);
    let base = base(&args, units)?;
    let lesson = args.lesson.over(base.lesson);
    let start = args.phone.start(base.start).map_err(refused)?;
    let bounds = args.bounds.bounds(&start, args.phone.height);
    let mut plan = stand(&lesson, &start, &bounds, Draws::default()).map_err(refused)?;
    plan.doubts = base.doubts;
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

/// What is planned for before anything that was typed stands in its place.
struct Base {
    lesson: Lesson,
    start: Start,
    doubts: Vec<StandDoubt>,
}

/// What the marks file says, or a usual lesson and no place.
fn base(args: &StandArgs, units: LengthUnits) -> Result<Base, Failure> {
    let Some(marks) = &args.marks else {
        let (lesson, start) = (Lesson::usual(), Start::Open(Phone::unplaced()));
        return Ok(Base { lesson, start, doubts: Vec::new() });
    };
    let measured =
        MeasuredArgs { marks: marks.clone(), units: LengthUnits::Metres, capture_rate: None };
    let round = MeasuredRound::of(&measured)?;
    let approach =
        chosen_approach(&round.measurement.approaches, args.approach.as_deref(), Unnamed::First)?;
    let surveyed = stood(&round.file, &round.survey, approach);
    let Surveyed { lesson, phone, doubts } =
        surveyed.map_err(|error| not_planned(&error, units))?;
    Ok(Base { lesson, start: Start::Here(phone), doubts })
}

fn not_planned(error: &StandError, units: LengthUnits) -> Failure {
    Failure::new(error.words(units)).hint(error.hint())
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
    if let Some(here) = &plan.here {
        writeln!(out, "now     {}", whereabouts(&here.phone, units))?;
    }
    if let Some(advised) = plan.advised() {
        let name = if plan.here.is_some() { "better" } else { "best" };
        writeln!(out, "{name:<7} {}", whereabouts(&advised.phone, units))?;
    }
    if plan.changed_from().is_some() {
        writeln!(out)?;
        print_table(plan, units, out)?;
        writeln!(out)?;
    }
    writeln!(out, "{}", plan.sentence(units))?;
    if let Some(unseen) = plan.unseen_sentence() {
        writeln!(out, "From where you stand now: {unseen}.")?;
    }
    for sentence in plan.view_sentences(units) {
        writeln!(out, "{sentence}")?;
    }
    print_changes(plan, units, out)?;
    for doubt in plan.doubt_sentences(units) {
        writeln!(out, "doubt: {doubt}")?;
    }
    // Those of where she stands are told; of the other place only what is new.
    let told =
        |doubt: &&StandDoubt| plan.changed_from().is_none_or(|from| !from.doubts.contains(doubt));
    for doubt in plan.advised().iter().flat_map(|there| &there.doubts).filter(told) {
        writeln!(out, "doubt: from the better place: {}", doubt.sentence(units))?;
    }
    writeln!(
        out,
        "\n± is half of the 95 % interval, expected for level strides of the lengths stated; \
         {JUDGED_BY}.\n{}",
        plan.safety(units)
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
    let mut line = |name: &str, now: Option<&str>, advised: Option<&str>| {
        let now = now.map_or_else(String::new, |now| format!("{now:<20}"));
        let cells = format!("  {name:<11} {now}{}", advised.unwrap_or_default());
        writeln!(out, "{}", cells.trim_end())
    };
    if plan.better().is_some() {
        line("", Some("now"), Some("better"))?;
    }
    for figure in plan.figures(units) {
        line(&figure.name, figure.now.as_deref(), figure.advised.as_deref())?;
    }
    Ok(())
}

/// Single changes that help.
fn print_changes(plan: &StandPlan, units: LengthUnits, out: &mut dyn Write) -> Result<(), Failure> {
    let lines = plan.helping(units);
    if lines.is_empty() {
        return Ok(());
    }
    writeln!(out, "{}:", plan.helping_head())?;
    let width = lines.iter().map(|(words, _)| words.chars().count()).max().unwrap_or_default();
    for (words, half) in lines {
        writeln!(out, "  {words:<width$}  {half}")?;
    }
    Ok(())
}
