//! The page of the next lesson, to take to the arena: what it says and how it is fitted.

use std::collections::BTreeSet;

use serde::Serialize;

use super::data::{Density, Files, Picture, add_drawing, chart_text, density, fitted, widths};
use super::direction::set_apart;
use super::free_text::breakable;
use super::input::Paper;
use super::prose::{Passage, within};
use super::table::length_head;
use crate::draw::{LessonPlanInput, Theme, lesson_plan};
use crate::poles::{
    Distance, Gait, Grade, Plan, PonyClass, Published, Readiness, Size, Stride, Version,
    as_it_lies, grouped_notes, laid_words, published_beside, version_with_stride, versions,
    walked_number,
};
use crate::quantity::{LengthUnits, Metres, capital, in_primes, unbroken, written};

/// From roomy to dense. The drawing follows the type; the other sizes are not used.
pub(super) const DENSITIES: [Density; 9] = [
    density(9.6, 0.0, 0.0, 0.0),
    density(9.0, 0.0, 0.0, 0.0),
    density(8.5, 0.0, 0.0, 0.0),
    density(8.1, 0.0, 0.0, 0.0),
    density(7.7, 0.0, 0.0, 0.0),
    density(7.4, 0.0, 0.0, 0.0),
    density(7.1, 0.0, 0.0, 0.0),
    density(6.8, 0.0, 0.0, 0.0),
    density(6.5, 0.0, 0.0, 0.0),
];

/// What a page of the next lesson is made of.
#[derive(Clone, Copy, Debug)]
pub struct LessonInput<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// The tables it was made beside, for the list of sources.
    pub published: &'a Published,
    /// For whom: the horse, or nothing where it is not to be named.
    pub whose: &'a str,
    /// What stands first and large: metres or feet.
    pub units: LengthUnits,
    /// The day of printing, as it shall be printed; empty for none.
    pub printed: &'a str,
    /// The paper.
    pub paper: Paper,
}

/// What `lesson.typ` reads.
#[derive(Clone, Serialize)]
pub(super) struct LessonPage {
    /// The words at its foot.
    pub title: String,
    density: Density,
    headline: Vec<String>,
    about: Vec<String>,
    about_width: f64,
    drawing: Picture,
    heads: Vec<[&'static str; 2]>,
    rows: Vec<Vec<String>>,
    prose: Vec<Passage>,
    conventions: &'static str,
    sources: Vec<String>,
}

/// The page at one density, with about so many characters of notes.
pub(super) fn lesson_page(
    input: &LessonInput,
    density: Density,
    prose: usize,
    files: &mut Files,
) -> LessonPage {
    let plan = input.plan;
    let (width, about_width) = widths(input.paper);
    let drawing = lesson_plan(&LessonPlanInput {
        plan,
        units: input.units,
        theme: Theme::LIGHT,
        width,
        text: chart_text(density),
    });
    let versions = has_versions(plan);
    let alt = format!("Poles and fences from above, to scale. {}", said(input));
    LessonPage {
        title: "Poles and lines for the next lesson".to_owned(),
        density,
        headline: headline(input),
        about: fitted(&about(input), density, about_width),
        about_width,
        drawing: add_drawing(files, "lesson.svg".to_owned(), drawing, &alt),
        heads: heads(plan, input.units),
        rows: plan.distances.iter().map(|distance| row(distance, versions, input.units)).collect(),
        prose: passages(input, prose),
        conventions: CONVENTIONS,
        sources: sources(input),
    }
}

const CONVENTIONS: &str = "Room: half the step between the published tables, joined with the ± of \
     the stride; no 95 % interval. Laid to 5 cm or 2 in it is near enough (common practice, no \
     source). Four walked paces of 3 ft are a 12-ft stride. Lines run from far base to near base, on \
     the ground. Shorter, longer: as many strides, each by 6 in of a 12-ft stride. Published: the \
     range of the rows that apply, their sources by grade: A official or reviewed, B handbook or \
     rule text at second hand, C coaches' articles and the like.";

/// "Next lesson: poles and lines for a stride of 3.50 m", in the parts it may be broken between.
fn headline(input: &LessonInput) -> Vec<String> {
    let stride = match &input.plan.asked.stride {
        Stride::Measured { mean_m, .. } => written(mean_m, input.units).to_string(),
        Stride::Typed { .. } => laid_words(input.plan.stride_m, input.units),
    };
    vec!["Next lesson:".to_owned(), format!("stride of {}", unbroken(&stride))]
}

/// For whom, the fences and the gait, ground and horse.
fn about(input: &LessonInput) -> Vec<String> {
    let asked = &input.plan.asked;
    let size = match asked.size {
        Size::Horse => "horse",
        Size::Pony(None) => "pony",
        Size::Pony(Some(PonyClass::Small)) => "pony to 1.30 m",
        Size::Pony(Some(PonyClass::Medium)) => "pony to 1.40 m",
        Size::Pony(Some(PonyClass::Large)) => "pony to 1.50 m",
    };
    let readiness = match asked.readiness {
        Readiness::Ready => "",
        Readiness::Tired => ", tired",
        Readiness::Green => ", green",
    };
    let gait = match asked.gait {
        Gait::Trot => "met in trot",
        Gait::Canter => "met in canter",
    };
    let fences = match asked.height_m {
        0.0 => format!("poles on the ground, {gait}"),
        height => format!(
            "fences {}, {gait}",
            laid_words(crate::quantity::Unit::new(height), input.units)
        ),
    };
    let ground = asked.ground_words();
    let whose = breakable(input.whose.trim());
    let basis = match &asked.stride {
        Stride::Measured { .. } => "stride as measured",
        Stride::Typed { .. } => "stride as typed",
    };
    let who = format!("{size}{readiness}");
    let first =
        if whose.is_empty() { capital(&who) } else { format!("{} · {who}", set_apart(&whose)) };
    let mut lines = vec![first, capital(&fences)];
    lines.push(capital(
        &ground.into_iter().chain([basis.to_owned()]).collect::<Vec<_>>().join(", "),
    ));
    lines
}

fn has_versions(plan: &Plan) -> bool {
    plan.distances.iter().any(|distance| versions(distance).next().is_some())
}

fn heads(plan: &Plan, units: LengthUnits) -> Vec<[&'static str; 2]> {
    let (length, other) = (length_head(units), length_head(units.other()));
    let mut heads =
        vec![["", ""], ["Distance", length], ["", other], ["Walked", "paces"], ["Room", length]];
    if has_versions(plan) {
        heads.extend([["Shorter", length], ["Longer", length]]);
    }
    heads.push(["Published", length]);
    heads
}

/// The cells of an exercise's row, as the heads say.
fn row(distance: &Distance, versions: bool, units: LengthUnits) -> Vec<String> {
    let length = distance.length;
    let version = |version: &Option<Version>| {
        version.as_ref().map_or_else(|| "–".to_owned(), |version| bare(version.length.aim_m, units))
    };
    let range = |low, high| {
        let (low, high) = (bare(low, units), bare(high, units));
        if low == high { low } else { format!("{low}–{high}") }
    };
    let mut cells = vec![
        capital(&distance.exercise.words()),
        bare(length.aim_m, units),
        bare(length.aim_m, units.other()),
        walked_number(length.aim_m).unwrap_or_else(|| "tape it".to_owned()),
        range(length.low_m, length.high_m),
    ];
    if versions {
        cells.extend([version(&distance.shorter), version(&distance.longer)]);
    }
    cells.push(match published_beside(distance) {
        Some(beside) => format!("{}   {}", range(beside.low_m, beside.high_m), beside.tags_words()),
        None => "none read".to_owned(),
    });
    cells
}

/// A length without its unit, which the head of the column has: metres, or feet and inches as
/// 23′7″.
fn bare(length: Metres, units: LengthUnits) -> String {
    let said = laid_words(length, units);
    match units {
        LengthUnits::Metres => said.strip_suffix(" m").unwrap_or(&said).to_owned(),
        LengthUnits::Feet => in_primes(&said),
    }
}

/// What to beware of, then the cautions of every plan.
fn passages(input: &LessonInput, room: usize) -> Vec<Passage> {
    let notes = grouped_notes(input.plan, input.units);
    let mut passages = Vec::new();
    if !notes.is_empty() {
        passages.push(Passage::doubtful("Beware", notes));
    }
    // Cautions are never cut.
    let mut passages = within(passages, room);
    passages.splice(0..0, adjusting(input));
    if let Some(pace) = &input.plan.pace_beside {
        // A unit stays in one piece, and beside its number.
        let sentence =
            format!("{}.", pace.sentence(input.units)).replace(" m/min", "\u{a0}m/\u{2060}min");
        passages.push(Passage::plain("Pace", vec![sentence]));
    }
    let cautions = vec![input.plan.cautions.join(" ")];
    passages.push(Passage::plain("Cautions", cautions));
    passages
}

/// Of a single line: what its versions and another number of strides need. Never cut.
fn adjusting(input: &LessonInput) -> Option<Passage> {
    let [line] = &input.plan.distances[..] else { return None };
    let of_version = |(name, version)| capital(&version_with_stride(name, version, input.units));
    let versions = versions(line).map(of_version);
    let lies = as_it_lies(&line.needed, input.units).into_iter().map(|line| capital(&line));
    let said = versions.chain(lies).map(|sentence| format!("{sentence}.")).collect();
    Some(Passage::plain("To adjust", said))
}

/// "R20 (B) handbook as quoted, docstoc.com; R12 (C) sstack.com", for the rows that the table names.
fn sources(input: &LessonInput) -> Vec<String> {
    let beside = input.plan.distances.iter().filter_map(published_beside);
    let used: BTreeSet<String> = beside.flat_map(|one| one.tags.into_values().flatten()).collect();
    let all = input.published.sources.iter().filter(|source| used.contains(&source.tag));
    all.map(|source| {
        let (tag, grade) = (&source.tag, source.grade.words());
        // What a coach wrote is told by its site; of a rule or handbook one wants to know which.
        let what = match source.grade {
            Grade::A | Grade::B => format!("{}, ", source.what),
            Grade::C | Grade::Ungraded => String::new(),
        };
        format!("{tag}\u{a0}({grade})\u{a0}{what}{}", source.site())
    })
    .collect()
}

/// The distances, for who cannot see them.
fn said(input: &LessonInput) -> String {
    let one = |distance: &Distance| {
        format!("{} {}", distance.exercise.words(), laid_words(distance.length.aim_m, input.units))
    };
    let all: Vec<String> = input.plan.distances.iter().map(one).collect();
    format!("{}.", all.join(", "))
}

#[cfg(test)]
mod tests;
