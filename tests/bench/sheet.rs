//! How long one sheet takes to set, warm, as PDF: seconds, and beside them the same library setting
//! a plain page once.
//!
//! Ours finds the density that fills the page, which takes several settings, and writes a tagged
//! PDF. The peer is typst itself on one page of filler text with as many pictures of the same
//! bytes, set once and written with the same options: about the least any sheet could take. Each
//! repetition has another approach and other words, so that typst's memory of earlier settings
//! holds only what it would hold between two sheets of one session. Ours and the peer take turns.
//! The bar: under 1.5 s. Run: `cargo bench --profile dev --bench sheet [-- --repetitions 7]`.

#![expect(
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a benchmark that cannot run stops, and its figures are for the one who runs it"
)]

use std::process::ExitCode;
use std::time::Instant;

use groundline::arena::{Clicking, Scene, Truth, marks};
use groundline::draw::Names;
use groundline::quantity::LengthUnits;
use groundline::sheet::{Fonts, Paper, SheetInput, SheetStill, set_sheet};
use groundline::stride::{Draws, measure};
use image::{Rgb, RgbImage};
use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_layout::PagedDocument;
use typst_pdf::PdfOptions;

const BAR_S: f64 = 1.5;
const PICTURES: usize = 6;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().collect();
    let repetitions = arguments
        .iter()
        .position(|argument| argument == "--repetitions")
        .and_then(|place| arguments.get(place + 1))
        .and_then(|count| count.parse().ok())
        .unwrap_or(7);
    let fonts = Fonts::embedded();
    let mut times = Vec::new();
    // The first round warms both and does not count.
    for round in 0..=repetitions {
        let stills: Vec<SheetStill> = (0..PICTURES).map(|k| still(round, k)).collect();
        let ours = || ours(round, &stills, &fonts);
        let peer = || peer(round, &stills);
        let (ours, peer) = if round % 2 == 0 {
            let ours = ours();
            (ours, peer())
        } else {
            let peer = peer();
            (ours(), peer)
        };
        if round > 0 {
            println!("sheet {ours:.3} s   peer {peer:.3} s   ratio {:.1}", ours / peer);
            times.push((ours, peer));
        }
    }
    let middle = |mut values: Vec<f64>| {
        values.sort_by(f64::total_cmp);
        values[values.len() / 2]
    };
    let ours = middle(times.iter().map(|time| time.0).collect());
    let ratio = middle(times.iter().map(|time| time.0 / time.1).collect());
    println!("median: one sheet in {ours:.3} s (bar {BAR_S} s), {ratio:.1} times the peer");
    if ours < BAR_S { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// A photograph's worth of detail, of the size that stills of a clip have in the strip.
fn still(round: usize, k: usize) -> SheetStill {
    let salt = (round * PICTURES + k) as u32;
    let picture = RgbImage::from_fn(800, 450, |x, y| {
        let noise = (x.wrapping_mul(2_654_435_761) ^ y.wrapping_mul(40_503) ^ salt) >> 27;
        Rgb([(x / 4 + noise) as u8, (y / 2 + noise) as u8, (90 + salt % 60) as u8])
    });
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut bytes, image::ImageFormat::Jpeg).expect("a picture is written");
    let caption = format!("stride \u{2212}{}", PICTURES - k);
    SheetStill { image: bytes.into_inner(), alt: format!("Frame of {caption}"), caption }
}

fn ours(round: usize, stills: &[SheetStill], fonts: &Fonts) -> f64 {
    let scene = Scene::eased_then_pushed(round as u64);
    let truth = Truth::of(&scene).expect("the scene has a truth");
    let file = marks(&scene, &truth, &Clicking::usual(round as u64));
    let (survey, measurement) = measure(&file, Draws::default()).expect("it can be measured");
    let mut approach = measurement.approaches[0].clone();
    approach.note = format!("Round {round}: keep the canter from the corner; wait for the fence.");
    let input = SheetInput {
        approach: &approach,
        poles: &survey.poles,
        suspects: &survey.suspects,
        marks_doubts: &[],
        survey_doubts: &survey.doubts,
        round: &file.round,
        approach_picture: None,
        stills,
        readings: &[],
        next_lesson: &[],
        brackets: &[],
        tolerance: None,
        units: LengthUnits::Metres,
        names: Names::Shown,
        printed: "2026-09-20",
        paper: Paper::A4,
    };
    let began = Instant::now();
    let sheet = set_sheet(&[input], fonts).expect("it can be set");
    let pdf = sheet.pdf().expect("it can be written");
    assert!(pdf.len() > 20_000);
    began.elapsed().as_secs_f64()
}

fn peer(round: usize, stills: &[SheetStill]) -> f64 {
    let began = Instant::now();
    let world = Plain::new(round, stills);
    let document = typst::compile::<PagedDocument>(&world).output.expect("it can be set");
    assert_eq!(document.pages().len(), 1);
    let pdf = typst_pdf::pdf(&document, &PdfOptions::default()).expect("it can be written");
    assert!(pdf.len() > 20_000);
    began.elapsed().as_secs_f64()
}

/// A page of filler text with pictures.
struct Plain {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
    main: Source,
    pictures: Vec<Bytes>,
}

impl Plain {
    fn new(round: usize, stills: &[SheetStill]) -> Self {
        let sans = [notosans::REGULAR_TTF, notosans::BOLD_TTF];
        let fonts: Vec<Font> =
            sans.into_iter().flat_map(|bytes| Font::iter(Bytes::new(bytes))).collect();
        let names = (0..stills.len()).map(|k| format!("image(\"{k}.jpg\", alt: \"a still\")"));
        let text = format!(
            "#set document(title: \"Round {round}\")\n#set page(\"a4\")\n\
             #set text(font: \"Noto Sans\", size: 9pt)\n= Round {round}\n\
             #grid(columns: 3, gutter: 6pt, {})\n#lorem({})\n",
            names.collect::<Vec<_>>().join(", "),
            500 + round
        );
        let path = VirtualPath::new("/plain.typ").expect("a valid name");
        let id = RootedPath::new(VirtualRoot::Project, path).intern();
        Self {
            library: LazyHash::new(Library::default()),
            book: LazyHash::new(FontBook::from_fonts(&fonts)),
            fonts,
            main: Source::new(id, text),
            pictures: stills.iter().map(|still| Bytes::new(still.image.clone())).collect(),
        }
    }
}

impl World for Plain {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &self.book
    }

    fn main(&self) -> FileId {
        self.main.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.main.id() { Ok(self.main.clone()) } else { Err(FileError::NotSource) }
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let name = id.get().vpath().get_without_slash();
        let number = name.trim_end_matches(".jpg").parse::<usize>().ok();
        let found = number.and_then(|number| self.pictures.get(number)).cloned();
        found.ok_or_else(|| FileError::NotFound(name.into()))
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.fonts.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}
