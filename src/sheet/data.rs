//! What `sheet.typ` reads: finished strings, drawings and pictures, and how dense to set them.

use std::collections::BTreeMap;

use serde::Serialize;
use typst::foundations::Bytes;

use super::facts::{Fact, facts};
use super::fit::SheetError;
use super::free_text::{breakable_to, printable};
use super::headline::{headline, headline_lines};
use super::input::SheetInput;
use super::prose::{Passage, cut, passages, within};
use super::strip::{self, Still};
use super::table::{TableRow, heads, rows};
use super::words::{about, cautions, conventions};
use crate::draw::{Drawing, PlanInput, StrideBarsInput, Theme, Weight, plan, stride_bars};

/// How much room things take.
#[derive(Clone, Copy, Debug, Serialize)]
pub(super) struct Density {
    /// Size of running text, points.
    pub text: f64,
    /// Greatest height of the strip of stills, captions not counted.
    pub strip: f64,
    /// Height of the bars with tempo and speed.
    pub bars: f64,
    /// Greatest height of the plan.
    pub plan: f64,
    /// Space between blocks.
    pub gap: f64,
}

const fn density(text: f64, strip: f64, bars: f64, plan: f64) -> Density {
    Density { text, strip, bars, plan, gap: text * 1.25 }
}

impl Density {
    /// The same with bars and plan that many times as high: what a page has to spare is theirs.
    pub fn stretched(self, times: f64) -> Self {
        Self { bars: self.bars * times, plan: self.plan * times, ..self }
    }
}

/// From roomy to dense. The last leaves the least that still reads on paper. The strip keeps room
/// for two rows as wide as the page (192 points on A4, 198 on Letter) while the page allows it,
/// then for one.
pub(super) const DENSITIES: [Density; 11] = [
    density(9.6, 280.0, 300.0, 250.0),
    density(9.2, 250.0, 270.0, 210.0),
    density(8.8, 225.0, 245.0, 180.0),
    density(8.4, 212.0, 225.0, 160.0),
    density(8.0, 212.0, 208.0, 144.0),
    density(7.7, 212.0, 190.0, 130.0),
    density(7.4, 212.0, 172.0, 116.0),
    density(7.2, 212.0, 156.0, 104.0),
    density(7.2, 112.0, 176.0, 120.0),
    density(6.9, 112.0, 160.0, 110.0),
    density(6.6, 112.0, 144.0, 104.0),
];

/// The least size of any type, points.
pub(super) const LEAST_TEXT: f64 = 6.5;
/// Space between headline and the column beside it.
const HEAD_GAP: f64 = 16.0;
/// The share of the rest that column takes.
const ABOUT_SHARE: f64 = 0.33;

/// Side margin of the page, points.
const MARGIN: f64 = 36.0;

#[derive(Serialize)]
struct Data {
    title: String,
    headline: Vec<String>,
    about: Vec<String>,
    about_width: f64,
    head_gap: f64,
    least_text: f64,
    paper: &'static str,
    margin: f64,
    density: Density,
    colours: BTreeMap<&'static str, String>,
    stills: Vec<Vec<Still>>,
    still_gap: f64,
    bars: Option<Picture>,
    plan: Option<Picture>,
    facts: Vec<Fact>,
    heads: Vec<[&'static str; 2]>,
    rows: Vec<TableRow>,
    prose: Vec<Passage>,
    conventions: String,
    cautions: &'static str,
    printed: String,
}

/// A file of the sheet's world with its printed size in points.
#[derive(Serialize)]
pub(super) struct Picture {
    pub file: String,
    pub alt: String,
    pub width: f64,
    pub height: f64,
}

/// The files of the sheet's world at one density, with about `prose` characters of readings,
/// notes, next distances and doubts together.
pub(super) fn files(
    input: &SheetInput,
    density: Density,
    prose: usize,
) -> Result<BTreeMap<String, Bytes>, SheetError> {
    let width = input.paper.width_pt() - 2.0 * MARGIN;
    let mut files = BTreeMap::new();
    let sentence = headline(input.approach, input.units);
    let (bars, plan) = charts(input, density, width);
    let bars_alt = format!("Bars of stride length with tempo and speed below. {sentence}.");
    let bars = add_drawing(&mut files, "bars.svg", bars, &bars_alt);
    let plan_alt = "Plan of the hoof prints, poles and fence, to scale, seen from above.";
    let plan = add_drawing(&mut files, "plan.svg", plan, plan_alt);
    let stills = strip::rows(input, density.strip, width, &mut files)?;
    let about_width = (width - HEAD_GAP) * ABOUT_SHARE;
    let prose = within(passages(input), prose);
    let data = Data {
        title: format!("Approach to {}", cut(&printable(input, &input.approach.fence.name), 90)),
        headline: headline_lines(input.approach, input.units),
        about: about_lines(input, density, about_width),
        about_width,
        head_gap: HEAD_GAP,
        least_text: LEAST_TEXT,
        paper: input.paper.typst_name(),
        margin: MARGIN,
        density,
        colours: colours(),
        stills,
        still_gap: strip::GAP,
        bars: (!input.approach.strides.is_empty()).then_some(bars),
        plan: has_ground(input).then_some(plan),
        facts: facts(input.approach, input.units),
        heads: heads(input.units),
        rows: rows(input.approach, input.suspects, input.units),
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

/// Who and what, no word of it wider than its column.
fn about_lines(input: &SheetInput, density: Density, room: f64) -> Vec<String> {
    // Bold letters are the wider ones: only the first line is set in them.
    let broken = |line: &String| breakable_to(&cut(line, 130), room, density.text, Weight::Bold);
    about(input).iter().map(broken).collect()
}

/// Bars and plan for a page whose text is `width` wide.
fn charts(input: &SheetInput, density: Density, width: f64) -> (Drawing, Drawing) {
    let text = chart_text(density);
    let bars = stride_bars(&StrideBarsInput {
        approach: input.approach,
        suspects: input.suspects,
        tolerance: input.tolerance,
        brackets: input.brackets,
        units: input.units,
        theme: Theme::LIGHT,
        width: (width - 18.0) * 2.0 / 3.0,
        height: density.bars,
        text,
    });
    let plan = plan(&PlanInput {
        approach: input.approach,
        poles: input.poles,
        suspects: input.suspects,
        units: input.units,
        theme: Theme::LIGHT,
        width,
        max_height: density.plan,
        text,
    });
    (bars, plan)
}

fn add_drawing(
    files: &mut BTreeMap<String, Bytes>,
    name: &str,
    drawing: Drawing,
    alt: &str,
) -> Picture {
    let Drawing { svg, width, height } = drawing;
    files.insert(name.to_owned(), Bytes::from_string(svg));
    Picture { file: name.to_owned(), alt: alt.to_owned(), width, height }
}

/// Whether anything has a place on the plan.
fn has_ground(input: &SheetInput) -> bool {
    let fence = &input.approach.fence;
    let mut corners = fence.take_off_base.iter().chain(&fence.landing_base);
    let hooves = input.approach.footfalls.iter().any(|footfall| footfall.place.is_some());
    hooves || !input.poles.is_empty() || corners.any(Option::is_some)
}

/// Second type in a chart, in sizes of its first.
const CHART_SMALL: f64 = 0.92;

/// Type in charts: a little under the running text, and its second type not under the least.
fn chart_text(density: Density) -> f64 {
    (density.text * 0.92).max(LEAST_TEXT / CHART_SMALL)
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
