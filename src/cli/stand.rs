//! `groundline stand`: where to stand before filming.

use std::io::Write;
use std::path::Path;

use super::Failure;
use super::args::{MeasuredArgs, UnitsChoice};
use super::chosen_approach::chosen_approach;
use super::drawn::{DRAWN, write_drawing};
use super::file_kind::FileKind;
use super::measured_round::MeasuredRound;
use super::stand_args::StandArgs;
use crate::draw::{StandPlanInput, Theme, stand_picture, with_margin};
use crate::quantity::{LengthUnits, Metres, written_half, written_half_of};
use crate::stand::{
    Advice, Expectation, Lesson, Phone, StandDoubt, StandError, StandPlan, Surveyed, place_words,
    stand, stood,
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
    let units = args.units.into();
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
    let measured = MeasuredArgs { marks: marks.clone(), units: UnitsChoice::M, capture_rate: None };
    let round = MeasuredRound::of(&measured)?;
    let approach = chosen_approach(&round.measurement.approaches, args.approach.as_deref())?;
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
    };
    let drawing = with_margin(stand_picture(&input).drawing, "Where to stand", margin);
    write_drawing(path, kind, drawing, Theme::LIGHT.card)
}

fn print(plan: &StandPlan, units: LengthUnits, out: &mut dyn Write) -> Result<(), Failure> {
    let better = match plan.advice {
        Advice::Go { .. } => plan.best.as_ref(),
        Advice::Stay { .. } | Advice::Nowhere { .. } => None,
    };
    writeln!(out, "now     {}", whereabouts(&plan.here.phone, units))?;
    if let Some(better) = better {
        writeln!(out, "better  {}", whereabouts(&better.phone, units))?;
    }
    writeln!(out)?;
    print_table(&plan.here, better, units, out)?;
    writeln!(out, "\n{}", plan.advice.sentence(units))?;
    if let Some(unseen) = plan.here.unseen.sentence() {
        writeln!(out, "From now {unseen}.")?;
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
fn print_table(
    here: &Expectation,
    better: Option<&Expectation>,
    units: LengthUnits,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let half = |half: Option<Metres>| half.map_or("–".to_owned(), |half| written_half(half, units));
    let places: Vec<&Expectation> = std::iter::once(here).chain(better).collect();
    let mut line = |name: &str, cell: &dyn Fn(&Expectation) -> String| {
        let cells: Vec<String> = places.iter().map(|of| format!("{:<20}", cell(of))).collect();
        writeln!(out, "{}", format!("  {name:<11} {}", cells.concat()).trim_end())
    };
    if better.is_some() {
        line("", &|of| if std::ptr::eq(of, here) { "now" } else { "better" }.to_owned())?;
    }
    for (at, row) in here.strides.iter().enumerate() {
        let name = format!("stride \u{2212}{}", row.number.unsigned_abs());
        line(&name, &|of| half(of.strides[at].length_plus_minus_m))?;
    }
    line("take-off", &|of| half(of.take_off_plus_minus_m))?;
    line("landing", &|of| half(of.landing_plus_minus_m))?;
    let tempo = |of: &Expectation| {
        let found = of.strides.iter().find_map(|row| row.tempo_plus_minus_strides_per_min);
        found.map_or("–".to_owned(), written_half_of)
    };
    line("tempo", &tempo)?;
    Ok(())
}

/// Single changes that help.
fn print_changes(plan: &StandPlan, units: LengthUnits, out: &mut dyn Write) -> Result<(), Failure> {
    let helping = plan.changes.iter().filter(|changed| changed.helps(&plan.here));
    let lines: Vec<(String, String)> = helping
        .filter_map(|changed| {
            let half = written_half(changed.worst_plus_minus_m?, units);
            Some((changed.change.words(&plan.here.phone, units), half))
        })
        .collect();
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
