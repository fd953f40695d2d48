//! The page of one fence over the weeks: what it says and how it is fitted.

use serde::Serialize;

use super::data::{Density, Files, Picture, add_drawing, chart_text, density, fitted, widths};
use super::direction::{Words, set_apart};
use super::free_text::breakable;
use super::headline::in_words;
use super::input::Paper;
use super::prose::{Passage, cut, shortened, within};
use super::table::{Cell, cell, length_head, plain};
use super::words::{on_paper, weeks_conventions};
use crate::draw::{
    Theme, WeeksLineInput, WeeksNumber, WeeksStridesInput, weeks_line, weeks_strides,
};
use crate::quantity::{
    LengthUnits, Written, capital, unbroken, written, written_bare, written_tight,
};
use crate::stride::{EdgeDistance, Levelness};
use crate::weeks::{
    ChangeWords, DatedApproach, FenceWeeks, WeeksDoubt, change_words, grouped_doubts,
    pace_changes_words,
};

/// From roomy to dense: type, overlaid strides (as bars), the two lines (as plan).
pub(super) const DENSITIES: [Density; 6] = [
    density(9.2, 0.0, 250.0, 130.0),
    density(8.8, 0.0, 230.0, 120.0),
    density(8.2, 0.0, 210.0, 108.0),
    density(7.7, 0.0, 190.0, 98.0),
    density(7.2, 0.0, 180.0, 90.0),
    density(6.8, 0.0, 172.0, 84.0),
];

/// What a sheet of weeks is made of: a page a fence.
#[derive(Clone, Copy, Debug)]
pub struct WeeksSheetInput<'a> {
    /// The fences in the order of their pages.
    pub weeks: &'a [FenceWeeks],
    /// Metres or feet.
    pub units: LengthUnits,
    /// Whether horses and riders may be named; where not, the names are left off `weeks` already.
    pub names: bool,
    /// The day of printing, as it shall be printed; empty for none.
    pub printed: &'a str,
    /// The paper.
    pub paper: Paper,
}

/// What `weeks.typ` reads.
#[derive(Clone, Serialize)]
pub(super) struct WeeksPage {
    /// The words at its foot.
    pub title: String,
    density: Density,
    headline: Vec<String>,
    about: Vec<String>,
    about_width: f64,
    strides: Picture,
    changes_title: &'static str,
    changes: Vec<ChangeLine>,
    changes_note: &'static str,
    lines: [Picture; 2],
    heads: Vec<[&'static str; 2]>,
    rows: Vec<Row>,
    legend: &'static str,
    prose: Vec<Passage>,
    conventions: String,
}

/// One line of the comparison.
#[derive(Clone, Serialize)]
struct ChangeLine {
    name: String,
    first: String,
    last: String,
    difference: String,
    verdict: &'static str,
    probability: String,
    certain: bool,
}

/// One approach, or how many stand between the one before and the one after.
#[derive(Clone, Serialize)]
struct Row {
    date: String,
    who: Words,
    doubts: bool,
    between: usize,
    /// As the heads say.
    cells: Vec<Cell>,
}

/// The page of `weeks`, with at most so many rows and about so many characters of notes and
/// doubts; its drawings go to `files`, their names begin with `folder`.
pub(super) fn weeks_page(
    input: &WeeksSheetInput,
    weeks: &FenceWeeks,
    density: Density,
    (most_rows, prose): (usize, usize),
    folder: &str,
    files: &mut Files,
) -> WeeksPage {
    let (width, about_width) = widths(input.paper);
    let changes = weeks.last_against_first.as_ref();
    let changes: Vec<ChangeWords> =
        changes.map(|change| change_words(change, input.units)).unwrap_or_default();
    let headline = headline(weeks, &changes);
    let (strides, lines) = charts(input, weeks, density, width);
    let alt = format!("Stride lengths by number: first, last, median, spread. {}", said(weeks));
    let strides = add_drawing(files, format!("{folder}strides.svg"), strides, &alt);
    let mut number = 0;
    let lines = lines.map(|(drawing, alt)| {
        number += 1;
        add_drawing(files, format!("{folder}line{number}.svg"), drawing, alt)
    });
    let fence = breakable(&weeks.fence);
    WeeksPage {
        title: format!("{}, week by week", cut(&fence, 90)),
        density,
        headline,
        about: fitted(&about(weeks, input.names), density, about_width),
        about_width,
        strides,
        changes_title: "Last against first",
        changes_note: if weeks.approaches.len() < 2 {
            "One approach only: nothing to compare it with."
        } else if changes.is_empty() {
            "First and last have no number in common."
        } else if !changes.iter().any(|words| words.name == "take-off") {
            "Take-off is not known of both."
        } else {
            ""
        },
        changes: changes.into_iter().map(ChangeLine::from).collect(),
        lines,
        heads: heads(input.units),
        rows: rows(weeks, input, most_rows),
        legend: if weeks.approaches.iter().any(|one| !one.doubts.is_empty()) {
            "? There are doubts about this approach."
        } else {
            ""
        },
        prose: within(passages(weeks, input.names), prose),
        conventions: weeks_conventions(),
    }
}

impl From<ChangeWords> for ChangeLine {
    fn from(words: ChangeWords) -> Self {
        Self {
            name: capital(words.name),
            first: unbroken(&words.first),
            last: unbroken(&words.last),
            difference: unbroken(&words.difference),
            verdict: words.verdict,
            probability: words.probability,
            certain: words.certain,
        }
    }
}

/// A fence's name longer than this is cut in the headline and stands whole beside it, letters.
const HEADLINE_FENCE: usize = 26;

/// "Blue vertical: strides more even than at first", in the parts it may be broken between.
fn headline(weeks: &FenceWeeks, changes: &[ChangeWords]) -> Vec<String> {
    let fence = shortened(&breakable(&weeks.fence), HEADLINE_FENCE);
    let Some(variation) = changes.iter().find(|words| words.name == "variation") else {
        return vec![format!("{fence}: {}", counted(weeks))];
    };
    let said = if variation.certain {
        format!("strides {} than at first", variation.verdict)
    } else {
        "no change in evenness beyond its ±".to_owned()
    };
    vec![format!("{fence}:"), said]
}

/// "three approaches".
fn counted(weeks: &FenceWeeks) -> String {
    let count = weeks.approaches.len();
    let noun = if count == 1 { "approach" } else { "approaches" };
    format!("{} {noun}", in_words(count))
}

/// Horse and rider when there is one of each, how many approaches, then the first and the last day.
fn about(weeks: &FenceWeeks, names: bool) -> Vec<String> {
    let only = |name: fn(&DatedApproach) -> &String| -> String {
        let mut all: Vec<&String> = weeks.approaches.iter().map(name).collect();
        all.dedup();
        match all[..] {
            [only] => only.clone(),
            _ => String::new(),
        }
    };
    let mut lines = Vec::new();
    if names {
        let said = [only(|one| &one.horse), only(|one| &one.rider)];
        let said: Vec<String> =
            said.iter().filter(|name| !name.is_empty()).map(|name| set_apart(name)).collect();
        lines.push(said.join(" · "));
    }
    if weeks.fence.chars().count() > HEADLINE_FENCE {
        lines.push(set_apart(&weeks.fence));
    }
    if weeks.approaches.len() > 1 {
        lines.push(counted(weeks));
    }
    let mut dates = weeks.approaches.iter().filter_map(|one| one.date.as_deref());
    if let Some(first) = dates.next() {
        lines.push(match dates.next_back().filter(|last| *last != first) {
            Some(last) => format!("{first} to {last}"),
            None => first.to_owned(),
        });
    }
    lines.retain(|line| !line.is_empty());
    lines
}

type Lines<'a> = [(crate::draw::Drawing, &'a str); 2];

fn charts<'a>(
    input: &WeeksSheetInput,
    weeks: &FenceWeeks,
    density: Density,
    width: f64,
) -> (crate::draw::Drawing, Lines<'a>) {
    let (theme, units, text) = (Theme::LIGHT, input.units, chart_text(density));
    let strides = weeks_strides(&WeeksStridesInput {
        weeks,
        units,
        theme,
        width: (width - 18.0) * 2.0 / 3.0,
        height: density.bars,
        text,
    });
    let line = |number| {
        let (width, height) = ((width - 18.0) / 2.0, density.plan);
        weeks_line(&WeeksLineInput { weeks, number, units, theme, width, height, text })
    };
    let variation = (line(WeeksNumber::Variation), "Variation of the strides by date.");
    let take_off = (line(WeeksNumber::TakeOff), "Take-off distance by date.");
    (strides, [variation, take_off])
}

/// What the overlaid strides show, for who cannot see them.
fn said(weeks: &FenceWeeks) -> String {
    let medians = weeks.strides.iter().map(|stride| {
        let median = written_bare(stride.median_m, LengthUnits::Metres);
        format!("\u{2212}{}: {median}", stride.number.unsigned_abs())
    });
    format!("Medians {}.", medians.collect::<Vec<_>>().join(", "))
}

fn heads(units: LengthUnits) -> Vec<[&'static str; 2]> {
    let length = length_head(units);
    vec![
        ["Strides", ""],
        ["Mean", length],
        ["Variation", "%"],
        ["Longest\n\u{2212} shortest", length],
        ["Changes\nof pace", "likely count"],
        ["Take-off", length],
        ["Landing", length],
    ]
}

/// All approaches, or the first and the latest with what stands between counted.
fn rows(weeks: &FenceWeeks, input: &WeeksSheetInput, most: usize) -> Vec<Row> {
    let approaches = &weeks.approaches;
    let mixed = weeks.doubts.iter().any(|doubt| {
        matches!(doubt, WeeksDoubt::SeveralHorses { .. } | WeeksDoubt::SeveralRiders { .. })
    });
    let row = |one: &DatedApproach| row(one, mixed && input.names, input.units);
    if approaches.len() <= most {
        return approaches.iter().map(row).collect();
    }
    let latest = most.saturating_sub(2).max(1);
    let between = approaches.len() - 1 - latest;
    let gap =
        Row { date: String::new(), who: Words::new(""), doubts: false, between, cells: Vec::new() };
    let (first, last) = (&approaches[..1], &approaches[approaches.len() - latest..]);
    first.iter().map(row).chain(std::iter::once(gap)).chain(last.iter().map(row)).collect()
}

fn row(one: &DatedApproach, who: bool, units: LengthUnits) -> Row {
    let level = one.levelness.as_ref();
    let why = if one.strides.len() < 3 { "too few" } else { "not seen" };
    let of = |number: &dyn Fn(&Levelness) -> Written| cell(level.map(number), why);
    let edge = |edge: &Option<EdgeDistance>| {
        cell(edge.as_ref().map(|edge| written_tight(&edge.distance_m, units)), "not known")
    };
    let names = [&one.horse, &one.rider].into_iter().filter(|name| who && !name.is_empty());
    let names: Vec<String> = names.map(|name| shortened(name, 18)).collect();
    Row {
        date: one.date_words().to_owned(),
        who: Words::new(names.join(" · ")),
        doubts: !one.doubts.is_empty(),
        between: 0,
        cells: vec![
            plain(one.strides.len().to_string()),
            of(&|level| written_tight(&level.mean_m, units)),
            of(&|level| written(&level.variation_percent, units)),
            of(&|level| written_tight(&level.range_m, units)),
            plain(one.pace_changes.as_ref().map_or_else(|| why.to_owned(), pace_changes_words)),
            edge(&one.take_off),
            edge(&one.landing),
        ],
    }
}

/// The coach's notes by date, then the doubts.
fn passages(weeks: &FenceWeeks, names: bool) -> Vec<Passage> {
    let with_notes = weeks.approaches.iter().filter(|one| !one.notes.is_empty());
    let notes = with_notes.map(|one| {
        let notes: Vec<String> = one.notes.iter().map(|note| set_apart(note)).collect();
        // Notes end as their writers ended them, so that a mark of its own stands between two.
        breakable(&format!("{}: {}", one.date_words(), notes.join(" · ")))
    });
    let mixed = weeks.doubts.iter().map(|doubt| on_paper(&doubt.sentence(names)));
    let own = grouped_doubts(weeks).into_iter();
    let own = own.map(|(whose, doubt)| format!("{}: {}", capital(&whose), on_paper(&doubt)));
    let doubts = mixed.chain(own).map(|doubt| breakable(&doubt)).collect();
    [Passage::plain("Notes", notes.collect()), Passage::doubtful("Doubts", doubts)]
        .into_iter()
        .filter(|passage| !passage.sentences.is_empty())
        .collect()
}
