//! What the templates read: finished strings, drawings and pictures, and how dense to set them.

use std::collections::BTreeMap;

use serde::Serialize;
use typst::foundations::Bytes;

use super::cover::Cover;
use super::error::SheetError;
use super::facts::{Fact, facts};
use super::free_text::{breakable_to, printable};
use super::headline::{headline, headline_lines, in_words};
use super::input::{Paper, SheetInput};
use super::lesson::{LessonInput, LessonPage};
use super::prose::{Passage, cut, passages, within};
use super::strip::{self, Still};
use super::table::{TableRow, heads, rows};
use super::weeks::{WeeksPage, WeeksSheetInput};
use super::words::{about, cautions, conventions};
use crate::draw::{Drawing, PlanInput, StrideBarsInput, Theme, Weight, plan, stride_bars};
use crate::quantity::capital;

/// How much room things take.
#[derive(Clone, Copy, Debug, Serialize)]
pub(super) struct Density {
    /// Size of running text, points.
    pub text: f64,
    /// Greatest height of the strip of stills, captions not counted.
    pub strip: f64,
    /// Greatest height of the approach picture, caption not counted.
    pub picture: f64,
    /// Height of the bars with tempo and speed.
    pub bars: f64,
    /// Greatest height of the plan.
    pub plan: f64,
    /// Space between blocks.
    pub gap: f64,
}

/// Gaps follow the type.
pub(super) const fn density(text: f64, strip: f64, bars: f64, plan: f64) -> Density {
    // As wide as the page it is 262 to 270 points high at the least aspect, 2 to 1.
    let picture = if strip < 200.0 { 1.5 * strip } else { 270.0 };
    Density { text, strip, picture, bars, plan, gap: text * 1.25 }
}

impl Density {
    /// The same with bars and plan that many times as high: what a page has to spare is theirs.
    pub fn stretched(self, times: f64) -> Self {
        Self { bars: self.bars * times, plan: self.plan * times, ..self }
    }
}

/// From roomy to dense. The last leaves the least that still reads on paper. The strip keeps room
/// for two rows as wide as the page (192 points on A4, 198 on Letter) while the page allows it,
/// then for one; the approach picture is as wide as the page just as long.
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

/// What `sheet.json` holds.
#[derive(Serialize)]
pub(super) struct SheetData {
    title: String,
    printed: String,
    paper: &'static str,
    margin: f64,
    head_gap: f64,
    still_gap: f64,
    least_text: f64,
    colours: BTreeMap<&'static str, String>,
    cautions: &'static str,
    cover: Option<Cover>,
    approaches: Vec<Page>,
    weeks: Vec<WeeksPage>,
    lesson: Option<LessonPage>,
}

/// One approach.
#[derive(Clone, Serialize)]
pub(super) struct Page {
    /// The words at its foot, and the title of a document that holds nothing else.
    pub title: String,
    density: Density,
    headline: Vec<String>,
    /// What of the reading matters most; may be empty.
    lead: String,
    about: Vec<String>,
    about_width: f64,
    approach_picture: Option<Still>,
    stills: Vec<Vec<Still>>,
    bars: Option<Picture>,
    plan: Option<Picture>,
    facts: Vec<Fact>,
    heads: Vec<[&'static str; 2]>,
    rows: Vec<TableRow>,
    prose: Vec<Passage>,
    conventions: String,
}

/// A file of the sheet's world with its printed size in points.
#[derive(Clone, Serialize)]
pub(super) struct Picture {
    pub file: String,
    pub alt: String,
    pub width: f64,
    pub height: f64,
}

/// Files of the sheet's world by their names.
pub(super) type Files = BTreeMap<String, Bytes>;

/// The whole document; `input` is that of the first approach.
pub(super) fn document(
    input: &SheetInput,
    cover: Option<Cover>,
    approaches: Vec<Page>,
) -> SheetData {
    let first = approaches.first().map(|page| page.title.clone());
    let title = cover.as_ref().map(|cover| cover.title.clone()).or(first);
    let empty = empty_document(title.unwrap_or_default(), input.printed, input.paper);
    SheetData { cover, approaches, ..empty }
}

/// The whole document of fences over the weeks.
pub(super) fn weeks_document(input: &WeeksSheetInput, weeks: Vec<WeeksPage>) -> SheetData {
    let title = match &weeks[..] {
        [only] => only.title.clone(),
        several => format!("{} fences, week by week", capital(&in_words(several.len()))),
    };
    SheetData { weeks, ..empty_document(title, input.printed, input.paper) }
}

/// The page of the next lesson.
pub(super) fn lesson_document(input: &LessonInput, page: LessonPage) -> SheetData {
    let empty = empty_document(page.title.clone(), input.printed, input.paper);
    SheetData { lesson: Some(page), ..empty }
}

fn empty_document(title: String, printed: &str, paper: Paper) -> SheetData {
    SheetData {
        title,
        printed: printed.to_owned(),
        paper: paper.typst_name(),
        margin: MARGIN,
        head_gap: HEAD_GAP,
        still_gap: strip::GAP,
        least_text: LEAST_TEXT,
        colours: colours(),
        cautions: cautions(),
        cover: None,
        approaches: Vec::new(),
        weeks: Vec::new(),
        lesson: None,
    }
}

/// One approach at one density, with about `prose` characters of readings, notes, next distances
/// and doubts together. Its drawings and pictures go to `files`, their names begin with `folder`.
pub(super) fn page(
    input: &SheetInput,
    density: Density,
    prose: usize,
    folder: &str,
    files: &mut Files,
) -> Result<Page, SheetError> {
    let width = text_width(input);
    let sentence = headline(input.approach, input.units);
    let (bars, plan) = charts(input, density, width);
    let bars_alt = format!("Bars of stride length with tempo and speed below. {sentence}.");
    let bars = add_drawing(files, format!("{folder}bars.svg"), bars, &bars_alt);
    let plan_alt = "Plan of the hoof prints, poles and fence, to scale, seen from above.";
    let plan = add_drawing(files, format!("{folder}plan.svg"), plan, plan_alt);
    let approach_picture = strip::approach_picture(input, density.picture, width, folder, files)?;
    let stills = match approach_picture {
        Some(_) => Vec::new(),
        None => strip::rows(input, density.strip, width, folder, files)?,
    };
    Ok(Page {
        title: format!("Approach to {}", cut(&printable(input, &input.approach.fence.name), 90)),
        density,
        headline: headline_lines(input.approach, input.units),
        lead: input
            .readings
            .first()
            .map(|said| cut(&printable(input, said), 260))
            .unwrap_or_default(),
        about: fitted(&about(input), density, about_width(input)),
        about_width: about_width(input),
        approach_picture,
        stills,
        bars: (!input.approach.strides.is_empty()).then_some(bars),
        plan: has_ground(input).then_some(plan),
        facts: facts(input.approach, input.units),
        heads: heads(input.units),
        rows: rows(input.approach, input.suspects, input.units),
        prose: within(passages(input), prose),
        conventions: conventions(input),
    })
}

/// Width of the page between its margins, points.
pub(super) fn text_width(input: &SheetInput) -> f64 {
    widths(input.paper).0
}

/// Width of the text between the margins of that paper, and of the column beside its headline,
/// points.
pub(super) fn widths(paper: Paper) -> (f64, f64) {
    let text = paper.width_pt() - 2.0 * MARGIN;
    (text, (text - HEAD_GAP) * ABOUT_SHARE)
}

/// Width of the column beside the headline, points.
pub(super) fn about_width(input: &SheetInput) -> f64 {
    widths(input.paper).1
}

/// Who and what, no word of it wider than `room`.
pub(super) fn fitted(lines: &[String], density: Density, room: f64) -> Vec<String> {
    // Bold letters are the wider ones: only the first line is set in them.
    let broken = |line: &String| breakable_to(&cut(line, 130), room, density.text, Weight::Bold);
    lines.iter().map(broken).collect()
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
        until_s: None,
        scale: None,
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

/// Puts a drawing among the files.
pub(super) fn add_drawing(files: &mut Files, file: String, drawing: Drawing, alt: &str) -> Picture {
    let Drawing { svg, width, height } = drawing;
    files.insert(file.clone(), Bytes::from_string(svg));
    Picture { file, alt: alt.to_owned(), width, height }
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
pub(super) fn chart_text(density: Density) -> f64 {
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
