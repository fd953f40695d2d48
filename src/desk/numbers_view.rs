//! Measured numbers as the page shows them.

use super::measured::{Measured, NoNumbers};
use super::plain_words::plain_words;
use super::reading_view::Told;
use super::spots::spot_of;
use super::steps::steps;
use super::wire::{ApproachNumbers, DoubtView, FactView, NumbersView, StrideView, SuspectView};
use crate::draw::{StrideBracket, StrideLaneInput, Theme, Tolerance, stride_lane, why_no_length};
use crate::marks::{MarksDoubt, MarksFile};
use crate::quantity::{
    LengthUnits, Unit, Written, as_sentence, written, written_pace, written_percent,
    written_probability, written_tight,
};
use crate::sheet::{facts, headline};
use crate::stride::{ApproachMeasurement, ExpectedStride, Measurement, PaceChanges, StrideRow};
use crate::survey::Suspect;

/// Width and type of the lane's drawing, in its own units.
const LANE: (f64, f64) = (1200.0, 13.0);

/// The numbers of a revision, written.
pub(super) fn numbers_view(
    measured: &Measured,
    told: &Told,
    theme: Theme,
    tolerance: Option<Tolerance>,
) -> NumbersView {
    let units = told.units;
    let file = &measured.file;
    let Some((_, measurement)) = &measured.numbers else {
        return without_numbers(measured, units);
    };
    let read = told.reading(measured);
    let approaches: Vec<ApproachNumbers> = measurement
        .approaches
        .iter()
        .filter(|approach| !approach.strides.is_empty())
        .map(|approach| {
            let lines = read.as_ref().map_or(&[][..], |read| &read.lines);
            let reading = read.as_ref().and_then(|read| read.approach(&approach.approach));
            let brackets = reading.map(|r| StrideBracket::of_pace(&r.pace, &told.texts));
            let brackets = brackets.unwrap_or_default();
            let said = reading.map(|reading| told.sentences(reading, lines, approach));
            ApproachNumbers {
                reading: said.unwrap_or_default(),
                ..approach_numbers(approach, measurement, (units, theme, tolerance), &brackets)
            }
        })
        .collect();
    let first = approaches.first().map(|approach| approach.headline.clone());
    NumbersView {
        revision: measured.revision.clone(),
        cannot: approaches.is_empty().then(|| with_expected(measured, wanting(measured), units)),
        headline: first.unwrap_or_else(|| "No stride yet".to_owned()),
        approaches,
        doubts: doubts(measured, measurement),
        suspects: measurement.suspects.iter().map(|suspect| suspect_view(file, suspect)).collect(),
        took_ms: measured.took_ms,
    }
}

fn without_numbers(measured: &Measured, units: LengthUnits) -> NumbersView {
    let open = wanting(measured);
    // What is still to be marked says more than why the survey could not start.
    let says_more = |refused: &&NoNumbers| open.is_empty() || refused.too_uncertain;
    let cannot = match measured.refused.as_ref().filter(says_more) {
        Some(refused) => {
            let hint = refused.hint.as_deref().map(|hint| format!(". {hint}")).unwrap_or_default();
            let why = plain_words(&measured.file, &format!("{}{hint}", refused.why));
            format!("{open} {}", as_sentence(&why)).trim_start().to_owned()
        }
        None => open,
    };
    NumbersView {
        revision: measured.revision.clone(),
        headline: "No numbers yet".to_owned(),
        cannot: Some(with_expected(measured, cannot, units)),
        approaches: Vec::new(),
        doubts: measured
            .doubts
            .iter()
            .map(|doubt| doubt_view(&measured.file, &doubt.sentence(), false))
            .collect(),
        suspects: Vec::new(),
        took_ms: measured.took_ms,
    }
}

/// What is wanting, and how well strides will be known from where the phone stood.
fn with_expected(measured: &Measured, wanting: String, units: LengthUnits) -> String {
    let mut strides: Vec<&ExpectedStride> = measured.expected.iter().collect();
    strides.sort_by(|a, b| a.length_m.plus_minus().total_cmp(&b.length_m.plus_minus()));
    let (Some(best), Some(worst)) = (strides.first(), strides.last()) else { return wanting };
    let half = |stride: &ExpectedStride| {
        let written = written_tight(&stride.length_m, units);
        format!("± {} {}", written.plus_minus, written.unit).trim_end().to_owned()
    };
    let said = format!(
        "From here a stride will be known to {} at best and {} at the far end of the picture: nearer \
         poles, more of them, or a phone closer to the track make it better.",
        half(best),
        half(worst)
    );
    if wanting.is_empty() { said } else { format!("{wanting} {said}") }
}

/// What the steps still want before there can be a stride.
fn wanting(measured: &Measured) -> String {
    let open = steps(&measured.file, measured.motion.as_deref())
        .into_iter()
        .filter(|step| !step.done && !step.says.is_empty());
    open.map(|step| step.says).collect::<Vec<_>>().join(" ")
}

fn approach_numbers(
    approach: &ApproachMeasurement,
    measurement: &Measurement,
    (units, theme, tolerance): (LengthUnits, Theme, Option<Tolerance>),
    brackets: &[StrideBracket],
) -> ApproachNumbers {
    let suspects = &measurement.suspects;
    let (width, text) = LANE;
    let lane = stride_lane(&StrideLaneInput {
        approach,
        suspects,
        tolerance,
        brackets,
        units,
        theme,
        width,
        text,
    });
    let mut shown: Vec<FactView> = facts(approach, units)
        .into_iter()
        .map(|fact| FactView {
            name: fact.label,
            value: fact.value,
            plus_minus: fact.plus_minus,
            explained: fact.note,
        })
        .collect();
    shown.extend(approach.pace_changes.as_ref().map(pace_changes));
    ApproachNumbers {
        approach: approach.approach.clone(),
        headline: headline(approach, units),
        facts: shown,
        reading: Vec::new(),
        strides: approach
            .strides
            .iter()
            .map(|row| stride(approach, row, suspects, units))
            .collect(),
        lane: lane.svg,
    }
}

fn pace_changes(changes: &PaceChanges) -> FactView {
    FactView {
        name: "Changes of pace".to_owned(),
        value: changes.count.to_string(),
        plus_minus: format!("most likely, {}", written_probability(changes.probability)),
        explained: format!(
            "strides that grow or shrink by more than {}",
            written_percent(changes.tolerance_percent.get())
        ),
    }
}

fn stride(
    approach: &ApproachMeasurement,
    row: &StrideRow,
    suspects: &[Suspect],
    units: LengthUnits,
) -> StrideView {
    let frame = |id: &str| {
        let footfall = approach.footfalls.iter().find(|known| known.footfall == id);
        footfall.map_or(0, |known| known.frame.0)
    };
    let length = row.length_m.as_ref().map(|length| written_tight(length, units));
    let why = why_no_length(approach, row, suspects);
    StrideView {
        number: row.number,
        name: format!("\u{2212}{}", row.number.unsigned_abs()),
        plus_minus: length.as_ref().map_or_else(String::new, plus_minus),
        length: length.map_or_else(|| why.to_owned(), |length| length.value),
        duration: written(&row.duration_s, units).to_string(),
        tempo: written(&row.tempo_strides_per_min, units).to_string().replace(" strides/min", ""),
        pace: row.speed_m_per_s.as_ref().map_or_else(String::new, |s| written_pace(s).to_string()),
        from_frame: frame(&row.from_footfall),
        to_frame: frame(&row.to_footfall),
        note: row.note.clone(),
    }
}

fn plus_minus(written: &Written) -> String {
    format!("± {} {}", written.plus_minus, written.unit).trim_end().to_owned()
}

fn doubts(measured: &Measured, measurement: &Measurement) -> Vec<DoubtView> {
    let file = &measured.file;
    // A note on a stride that is not there was told from the marks; here strides are numbered.
    let of_marks = measured
        .doubts
        .iter()
        .filter(|doubt| !matches!(doubt, MarksDoubt::NoteOnNoStride { .. }))
        .map(|doubt| doubt_view(file, &doubt.sentence(), false));
    let of_survey =
        measurement.doubts.iter().map(|doubt| doubt_view(file, &doubt.sentence(), false));
    let of_strides = measurement.approaches.iter().flat_map(|approach| {
        approach
            .doubts
            .iter()
            .map(|doubt| doubt_view(file, &doubt.sentence(), doubt.is_unfinished()))
    });
    of_marks.chain(of_survey).chain(of_strides).collect()
}

fn doubt_view(file: &MarksFile, sentence: &str, unfinished: bool) -> DoubtView {
    DoubtView { text: plain_words(file, sentence), unfinished }
}

fn suspect_view(file: &MarksFile, suspect: &Suspect) -> SuspectView {
    SuspectView {
        spot: spot_of(file, &suspect.mark),
        frame: suspect.frame.0,
        text: format!(
            "{:.1} px from where the other marks expect it ({:.1} times its own uncertainty); left out",
            suspect.off_px, suspect.off_sds
        ),
    }
}
