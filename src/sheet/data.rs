//! What `sheet.typ` reads: finished strings, drawings and pictures, and how dense to set them.

use std::collections::BTreeMap;

use serde::Serialize;
use typst::foundations::Bytes;

use super::facts::{Fact, facts};
use super::fit::SheetError;
use super::headline::headline;
use super::input::{SheetInput, SheetStill};
use super::prose::{Passage, cut, passages, within};
use super::table::{TableRow, heads, rows};
use super::words::{about, cautions, conventions};
use crate::draw::{PlanInput, StrideBarsInput, Theme, plan, stride_bars};

/// How much room things take; the first that fits one page is used.
#[derive(Clone, Copy, Debug, Serialize)]
pub(super) struct Density {
    /// Size of running text, points.
    pub text: f64,
    /// Greatest height of a still.
    pub still: f64,
    /// Height of the bars with tempo and speed.
    pub bars: f64,
    /// Greatest height of the plan.
    pub plan: f64,
    /// Space between blocks.
    pub gap: f64,
    /// Characters for readings, notes, next distances and doubts together.
    pub prose: usize,
}

const fn density(text: f64, still: f64, bars: f64, plan: f64, prose: usize) -> Density {
    Density { text, still, bars, plan, gap: text * 1.25, prose }
}

/// From roomy to dense. The last leaves the least that still reads on paper.
pub(super) const DENSITIES: [Density; 9] = [
    density(9.6, 200.0, 300.0, 250.0, 5000),
    density(9.2, 165.0, 270.0, 210.0, 5000),
    density(8.8, 140.0, 245.0, 180.0, 5000),
    density(8.4, 118.0, 225.0, 160.0, 5000),
    density(8.0, 100.0, 208.0, 144.0, 4000),
    density(7.6, 86.0, 192.0, 130.0, 2800),
    density(7.2, 74.0, 176.0, 116.0, 1900),
    density(6.9, 62.0, 160.0, 102.0, 1200),
    density(6.6, 52.0, 144.0, 86.0, 700),
];

/// Side margin of the page, points.
const MARGIN: f64 = 36.0;

/// Space between two stills, points.
const STILL_GAP: f64 = 6.0;

#[derive(Serialize)]
struct Data {
    title: String,
    headline: String,
    about: Vec<String>,
    paper: &'static str,
    margin: f64,
    density: Density,
    colours: BTreeMap<&'static str, String>,
    stills: Vec<Vec<Still>>,
    still_gap: f64,
    bars: Picture,
    plan: Picture,
    facts: Vec<Fact>,
    heads: Vec<[&'static str; 2]>,
    rows: Vec<TableRow>,
    prose: Vec<Passage>,
    conventions: String,
    cautions: &'static str,
    printed: String,
}

#[derive(Serialize)]
struct Picture {
    file: String,
    alt: String,
    width: f64,
    height: f64,
}

#[derive(Serialize)]
struct Still {
    picture: Picture,
    caption: String,
}

/// The files of the sheet's world at one density.
pub(super) fn files(
    input: &SheetInput,
    density: Density,
) -> Result<BTreeMap<String, Bytes>, SheetError> {
    let width = input.paper.width_pt() - 2.0 * MARGIN;
    let mut files = BTreeMap::new();
    let mut add_drawing = |name: &str, drawing: crate::draw::Drawing, alt: String| {
        let (width, height) = (drawing.width, drawing.height);
        files.insert(name.to_owned(), Bytes::from_string(drawing.svg));
        Picture { file: name.to_owned(), alt, width, height }
    };
    let sentence = headline(input.approach, input.units);
    let chart = chart_text(density);
    let bars = stride_bars(&StrideBarsInput {
        approach: input.approach,
        tolerance: input.tolerance,
        units: input.units,
        theme: Theme::LIGHT,
        width: (width - 18.0) * 2.0 / 3.0,
        height: density.bars,
        text: chart,
    });
    let bars_alt = format!("Bars of stride length with tempo and speed below. {sentence}.");
    let bars = add_drawing("bars.svg", bars, bars_alt);
    let plan = plan(&PlanInput {
        approach: input.approach,
        poles: input.poles,
        suspects: input.suspects,
        units: input.units,
        theme: Theme::LIGHT,
        width,
        max_height: density.plan,
        text: chart,
    });
    let plan_alt = "Plan of the hoof prints, poles and fence, to scale, seen from above.";
    let plan = add_drawing("plan.svg", plan, plan_alt.to_owned());
    let stills = stills(input, density, width, &mut files)?;
    let about = about(input).iter().map(|line| cut(line, 130)).collect();
    let prose = within(passages(input), density.prose);
    let data = Data {
        title: format!("Approach to {}", input.approach.fence.name),
        headline: unbroken(&sentence),
        about,
        paper: input.paper.typst_name(),
        margin: MARGIN,
        density,
        colours: colours(),
        stills,
        still_gap: STILL_GAP,
        bars,
        plan,
        facts: facts(input.approach, input.units),
        heads: heads(input.units),
        rows: rows(input.approach, input.units),
        prose,
        conventions: conventions(input),
        cautions: cautions(),
        printed: input.printed.to_owned(),
    };
    let json = serde_json::to_vec(&data)
        .map_err(|error| SheetError::Template { reason: error.to_string() })?;
    files.insert("sheet.json".to_owned(), Bytes::new(json));
    Ok(files)
}

/// Keeps each number with its ± and its unit on one line.
fn unbroken(sentence: &str) -> String {
    sentence
        .replace(" ± ", "\u{a0}±\u{a0}")
        .replace(" m;", "\u{a0}m;")
        .replace(" ft", "\u{a0}ft")
        .replace(" in;", "\u{a0}in;")
        .trim_end_matches(" m")
        .to_owned()
        + if sentence.ends_with(" m") { "\u{a0}m" } else { "" }
}

/// Type in charts: a little under the running text, never under 6.5 points.
fn chart_text(density: Density) -> f64 {
    (density.text * 0.92).max(6.5)
}

fn colours() -> BTreeMap<&'static str, String> {
    let theme = Theme::LIGHT;
    [
        ("ink", theme.ink),
        ("muted", theme.muted),
        ("line", theme.line),
        ("sand", theme.sand),
        ("paper", theme.paper),
        ("take_off", theme.take_off),
        ("landing", theme.landing),
        ("doubt", theme.doubt),
    ]
    .into_iter()
    .map(|(token, colour)| (token, colour.hex()))
    .collect()
}

/// Rows of pictures of one height each, as wide as the page where that does not make them
/// higher than the density allows.
fn stills(
    input: &SheetInput,
    density: Density,
    width: f64,
    files: &mut BTreeMap<String, Bytes>,
) -> Result<Vec<Vec<Still>>, SheetError> {
    let mut sized = Vec::new();
    for (index, still) in input.stills.iter().enumerate() {
        let (aspect, ending) = look_at(index, still)?;
        let name = format!("still-{index}.{ending}");
        files.insert(name.clone(), Bytes::new(still.image.clone()));
        sized.push((name, aspect, still));
    }
    let all: f64 = sized.iter().map(|(_, aspect, _)| aspect).sum();
    let one_row = (width - STILL_GAP * sized.len().saturating_sub(1) as f64) / all.max(1e-6);
    let per_row = if one_row < 62.0 && sized.len() > 3 {
        sized.len().div_ceil(2)
    } else {
        sized.len().max(1)
    };
    let rows = sized.chunks(per_row).map(|row| {
        let aspects: f64 = row.iter().map(|(_, aspect, _)| aspect).sum();
        let fitting = (width - STILL_GAP * (per_row - 1) as f64) / aspects;
        let height = fitting.min(density.still);
        row.iter()
            .map(|(name, aspect, still)| Still {
                picture: Picture {
                    file: name.clone(),
                    alt: if still.alt.is_empty() { &still.caption } else { &still.alt }.clone(),
                    width: aspect * height,
                    height,
                },
                caption: cut(&still.caption, 90),
            })
            .collect()
    });
    Ok(rows.collect())
}

/// Width over height of a still and the ending of its file name.
fn look_at(index: usize, still: &SheetStill) -> Result<(f64, &'static str), SheetError> {
    let reader = image::ImageReader::new(std::io::Cursor::new(&still.image))
        .with_guessed_format()
        .map_err(|error| SheetError::Still { number: index + 1, reason: error.to_string() })?;
    let ending = match reader.format() {
        Some(image::ImageFormat::Png) => "png",
        Some(image::ImageFormat::Jpeg) => "jpg",
        _ => {
            let reason = "it is neither PNG nor JPEG".to_owned();
            return Err(SheetError::Still { number: index + 1, reason });
        }
    };
    let (width, height) = reader
        .into_dimensions()
        .map_err(|error| SheetError::Still { number: index + 1, reason: error.to_string() })?;
    if width == 0 || height == 0 {
        let reason = format!("it has {width} × {height} pixels");
        return Err(SheetError::Still { number: index + 1, reason });
    }
    Ok((f64::from(width) / f64::from(height), ending))
}
