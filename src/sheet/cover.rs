//! The cover of several approaches: a row each, so that they can be compared, and what is said of
//! all of them once.

use serde::Serialize;

use super::data::{Density, Files, Picture, about_width, add_drawing, density, fitted, text_width};
use super::direction::Words;
use super::facts::trend_words;
use super::free_text::printable;
use super::headline::in_words;
use super::input::SheetInput;
use super::prose::{Passage, cut, shared_passages, within};
use super::table::{Cell, cell, length_head, speed_head};
use super::words::{about_round, cover_conventions, own_doubts};
use crate::draw::{StrideRowInput, Theme, longest_m, stride_row, why_no_length};
use crate::quantity::{
    Estimate, LengthUnits, Metres, Unit, Written, capital, unbroken, written, written_speed,
};
use crate::stride::{EdgeDistance, Levelness};

/// From roomy to dense; of a density only type and gaps count here. More approaches than the last
/// one holds take a second page.
pub(super) const DENSITIES: [Density; 4] = [
    density(9.0, 0.0, 0.0, 0.0),
    density(8.4, 0.0, 0.0, 0.0),
    density(7.8, 0.0, 0.0, 0.0),
    density(7.2, 0.0, 0.0, 0.0),
];

/// Up to that many rows have high bars.
const FEW: usize = 9;

/// What the round's note and the doubts may take together, characters.
const MOST_PROSE: usize = 1500;

/// What `cover.typ` reads.
#[derive(Clone, Serialize)]
pub(super) struct Cover {
    /// The words at its foot, and the title of the document.
    pub title: String,
    density: Density,
    headline: Vec<String>,
    about: Vec<String>,
    about_width: f64,
    heads: Vec<[&'static str; 2]>,
    rows: Vec<Row>,
    legend: String,
    prose: Vec<Passage>,
    conventions: String,
}

/// One approach.
#[derive(Clone, Serialize)]
struct Row {
    fence: Words,
    /// Where the strides tend to; may be empty.
    words: &'static str,
    /// Whether there are doubts about it alone, which its page tells.
    doubts: bool,
    strides: usize,
    bars: Picture,
    /// As the heads say.
    cells: Vec<Cell>,
    page: usize,
}

/// The cover, `pages` of paper long; its drawings go to `files`.
pub(super) fn cover(
    inputs: &[SheetInput],
    density: Density,
    pages: usize,
    files: &mut Files,
) -> Cover {
    // Round, names, units and paper are those of all approaches.
    let first = &inputs[0];
    let most_strides = inputs.iter().map(|input| input.approach.strides.len()).max().unwrap_or(0);
    let longest_m = inputs.iter().map(|input| longest_m(input.approach)).fold(0.0, f64::max);
    let rows = inputs.iter().enumerate().map(|(i, input)| {
        let bars = stride_row(&StrideRowInput {
            approach: input.approach,
            tolerance: input.tolerance,
            most_strides,
            longest_m,
            theme: Theme::LIGHT,
            width: 0.17 * text_width(first),
            height: if inputs.len() <= FEW { 4.6 } else { 2.9 } * density.text,
        });
        let bars = add_drawing(files, format!("cover/{i}.svg"), bars, &in_figures(input));
        Row { page: pages + 1 + i, ..row(input, named(input, inputs), bars) }
    });
    let rows: Vec<Row> = rows.collect();
    let headline = headline(inputs);
    Cover {
        title: title(inputs),
        density,
        about: fitted(&about_round(first), density, about_width(first)),
        about_width: about_width(first),
        heads: heads(first.units),
        legend: legend(&rows),
        rows,
        prose: within(shared_passages(first), MOST_PROSE),
        conventions: cover_conventions(),
        headline,
    }
}

/// "Three approaches, 2026-04-18".
fn title(inputs: &[SheetInput]) -> String {
    let count = capital(&format!("{} approaches", in_words(inputs.len())));
    match &inputs[0].round.date {
        Some(date) if !date.trim().is_empty() => format!("{count}, {}", date.trim()),
        _ => count,
    }
}

/// "Three approaches; mean stride 3.42 to 3.60 m", in the parts it may be broken between.
fn headline(inputs: &[SheetInput]) -> Vec<String> {
    let count = capital(&format!("{} approaches", in_words(inputs.len())));
    let units = inputs[0].units;
    let levelness = inputs.iter().filter_map(|input| input.approach.levelness.as_ref());
    let mut means: Vec<&Estimate<Metres>> = levelness.map(|level| &level.mean_m).collect();
    means.sort_by(|a, b| a.value.get().total_cmp(&b.value.get()));
    let said = match means[..] {
        [] => return vec![count],
        [only] => format!("mean stride {}", written(only, units)),
        [shortest, .., longest] => {
            let (low, high) = (written(shortest, units), written(longest, units));
            let longest = format!("{}{}", high.value, high.unit_behind());
            if low.value == high.value {
                format!("mean stride {longest} each")
            } else {
                format!("mean stride {} to {longest}", low.value)
            }
        }
    };
    vec![format!("{count};"), unbroken(&said)]
}

/// The heads of the columns between strides and page: name and unit.
fn heads(units: LengthUnits) -> Vec<[&'static str; 2]> {
    let length = length_head(units);
    vec![
        ["Mean", length],
        ["Tempo", "strides/min"],
        ["Speed", speed_head(units)],
        ["Longest\n\u{2212} shortest", length],
        ["Take-off", length],
        ["Landing", length],
    ]
}

/// The fence's name, and where several approaches share it, which of them this is.
fn named(input: &SheetInput, inputs: &[SheetInput]) -> String {
    let fence = &input.approach.fence.name;
    let alike = inputs.iter().filter(|other| other.approach.fence.name == *fence).count();
    if alike > 1 { format!("{fence} · {}", input.approach.approach) } else { fence.clone() }
}

fn row(input: &SheetInput, name: String, bars: Picture) -> Row {
    let SheetInput { approach, units, .. } = *input;
    let level = approach.levelness.as_ref();
    // Levelness needs three strides with a length.
    let why = if approach.strides.len() < 3 { "too few" } else { "not seen" };
    let of = |number: fn(&Levelness, LengthUnits) -> Written| {
        cell(level.map(|level| number(level, units)), why)
    };
    let edge = |edge: &Option<EdgeDistance>| {
        cell(edge.as_ref().map(|edge| written(&edge.distance_m, units)), "not known")
    };
    Row {
        fence: Words::new(cut(&printable(input, &name), 90)),
        words: level.map_or("", |level| trend_words(level, approach.strides.len(), units)),
        doubts: !own_doubts(input).is_empty(),
        strides: approach.strides.len(),
        bars,
        cells: vec![
            of(|level, units| written(&level.mean_m, units)),
            of(|level, units| written(&level.mean_tempo_strides_per_min, units)),
            of(|level, units| written_speed(&level.mean_speed_m_per_s, units)),
            of(|level, units| written(&level.range_m, units)),
            edge(&approach.take_off),
            edge(&approach.landing),
        ],
        page: 0,
    }
}

/// "Bars of seven strides, as ridden: 3.52, 3.61, not seen … m." The small bars carry no numbers,
/// so their words do.
fn in_figures(input: &SheetInput) -> String {
    let SheetInput { approach, units, suspects, .. } = *input;
    let count = approach.strides.len();
    let noun = if count == 1 { "stride" } else { "strides" };
    let lengths = approach.strides.iter().map(|row| match &row.length_m {
        Some(length) => written(length, units).value,
        None => why_no_length(approach, row, suspects).to_owned(),
    });
    let unit = if units == LengthUnits::Metres { " m" } else { "" };
    let lengths = lengths.collect::<Vec<_>>().join(", ");
    format!("Bars of {} {noun}, as ridden: {lengths}{unit}.", in_words(count))
}

/// What the small bars and the sign of a doubt mean.
fn legend(rows: &[Row]) -> String {
    let mut said = "Bars: the strides as ridden, fence at the right, all approaches to one scale; \
                    paler bars lie outside the shaded band by more than their ±."
        .to_owned();
    if rows.iter().any(|row| row.doubts) {
        said.push_str(" ? There are doubts about this approach: its page tells them.");
    }
    said
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, SEVEN, Sample};
    use crate::sheet::tests;

    #[test]
    fn the_headline_compares_what_was_measured() {
        let round = sample::round();
        let seven = sample::approach(SEVEN);
        let few = sample::approach(Sample { strides: 2, ..SEVEN });
        let long = sample::approach(Sample { strides: 15, ..SEVEN });
        let said = |approaches: &[&crate::stride::ApproachMeasurement]| {
            let inputs: Vec<_> = approaches.iter().map(|one| tests::input(one, &round)).collect();
            headline(&inputs).join(" ").replace('\u{a0}', " ")
        };
        let (mean, other) = (
            written(&seven.levelness.as_ref().unwrap().mean_m, LengthUnits::Metres),
            written(&long.levelness.as_ref().unwrap().mean_m, LengthUnits::Metres),
        );
        assert_eq!(said(&[&few, &few]), "Two approaches");
        assert_eq!(said(&[&few, &seven]), format!("Two approaches; mean stride {mean}"));
        assert_eq!(
            said(&[&seven, &few, &long]),
            format!("Three approaches; mean stride {} to {} m", other.value, mean.value)
        );
        assert_eq!(
            said(&[&seven, &seven]),
            format!("Two approaches; mean stride {} m each", mean.value)
        );
    }

    #[test]
    fn a_row_says_why_a_number_is_not_there_and_whose_the_doubts_are() {
        let round = sample::round();
        let mut few = sample::approach(Sample { strides: 2, jump: false, all_limbs: false });
        few.approach = "second".into();
        let input = tests::input(&few, &round);
        let mut files = Files::new();
        // h3 is a footfall of the approach called "first".
        let suspects = [sample::suspect("h3")];
        let seven = sample::approach(SEVEN);
        let inputs = [
            SheetInput { suspects: &suspects, ..input },
            SheetInput { approach: &seven, suspects: &suspects, ..input },
        ];
        let cover = cover(&inputs, DENSITIES[0], 1, &mut files);
        assert_eq!(cover.rows.iter().map(|row| row.doubts).collect::<Vec<_>>(), [false, true]);
        assert_eq!(cover.rows.iter().map(|row| row.page).collect::<Vec<_>>(), [2, 3]);
        let json = serde_json::to_value(&cover.rows[0]).unwrap();
        let cells: Vec<&str> =
            (0..6).map(|i| json["cells"][i]["value"].as_str().unwrap()).collect();
        let few = "too few";
        assert_eq!(cells, [few, few, few, few, "not known", "not known"]);
        assert!(
            json["bars"]["alt"].as_str().unwrap().starts_with("Bars of two strides, as ridden")
        );
    }
}
