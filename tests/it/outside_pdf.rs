//! The sheet's PDF as another program finds it: pikepdf, which reads with qpdf.
//!
//! Stands for: the rules of ISO 14289-1:2014 (PDF/UA-1) and ISO 32000-1:2008 (PDF 1.7) that a
//! program can check without a reader's judgement. The clauses are cited from memory, the texts
//! were not at hand; veraPDF itself needs Java and is in none of the registries in use.

use std::path::PathBuf;

use groundline::arena::{Clicking, Scene, Truth, marks};
use groundline::draw::Names;
use groundline::marks::MarksFile;
use groundline::quantity::LengthUnits;
use groundline::sheet::{Fonts, Paper, SheetInput, SheetStill, set_sheet};
use groundline::stride::{Draws, Measurement, measure};
use groundline::survey::Survey;
use image::{Rgb, RgbImage};
use serde_json::{Value, json};

use crate::reference_python::{ask_python, numbers};
use crate::support::folder;

struct Measured {
    file: MarksFile,
    survey: Survey,
    measurement: Measurement,
}

fn measured(scene: &Scene, seed: u64) -> Measured {
    let truth = Truth::of(scene).unwrap();
    let mut file = marks(scene, &truth, &Clicking::usual(seed));
    file.round.rider = "Ada Quill".into();
    file.round.horse = "Pepper & Salt".into();
    file.round.date = Some("2026-09-18".into());
    let (survey, measurement) = measure(&file, Draws::default()).unwrap();
    Measured { file, survey, measurement }
}

fn picture(width: u32, height: u32, caption: &str) -> SheetStill {
    let picture = RgbImage::from_fn(width, height, |x, y| Rgb([x as u8, y as u8, 90]));
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut bytes, image::ImageFormat::Jpeg).unwrap();
    let alt = format!("The horse at {caption}");
    SheetStill { image: bytes.into_inner(), caption: caption.into(), alt }
}

fn input<'a>(measured: &'a Measured, stills: &'a [SheetStill]) -> SheetInput<'a> {
    SheetInput {
        approach: &measured.measurement.approaches[0],
        poles: &measured.survey.poles,
        suspects: &measured.survey.suspects,
        marks_doubts: &[],
        survey_doubts: &measured.survey.doubts,
        round: &measured.file.round,
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
    }
}

/// One sheet and what must be found in it.
struct Case {
    name: &'static str,
    pages: usize,
    figures: usize,
    tables: usize,
    title: &'static str,
    size: [f64; 2],
    path: PathBuf,
}

const A4: [f64; 2] = [595.28, 841.89];
const LETTER: [f64; 2] = [612.0, 792.0];

#[test]
fn another_program_finds_a_sheet_that_can_be_read_aloud_and_does_nothing() {
    let rounds = [
        measured(&Scene::level(3), 5),
        measured(&Scene::eased_then_pushed(4), 6),
        measured(&Scene::run_at_and_deep(5), 7),
    ];
    let stills: Vec<SheetStill> =
        (1..=3).map(|k| picture(192, 108, &format!("stride \u{2212}{k}"))).collect();
    let long = picture(1000, 250, "seven strides");
    let plain = input(&rounds[0], &stills);
    let letter = SheetInput { paper: Paper::Letter, units: LengthUnits::Feet, ..plain };
    let with_picture = SheetInput { approach_picture: Some(&long), ..plain };
    let foreign = Measured {
        file: MarksFile {
            round: groundline::marks::Round {
                horse: "馬 Θύελλα سهم \u{e000}".into(),
                note: "שמור על הקצב.".into(),
                ..rounds[0].file.round.clone()
            },
            ..rounds[0].file.clone()
        },
        survey: rounds[0].survey.clone(),
        measurement: rounds[0].measurement.clone(),
    };
    let several: Vec<SheetInput> = rounds.iter().map(|round| input(round, &stills)).collect();
    let folder = folder();
    let name = &rounds[0].measurement.approaches[0].fence.name;
    let title: &'static str = format!("Approach to {name}").leak();
    // Figures: pictures, bars and plan; on a cover a row of bars for each approach.
    let sheets: [(&'static str, &[SheetInput], _, _, _, &'static str, _); 5] = [
        ("plain", &[plain], 1, 5, 1, title, A4),
        ("letter", &[letter], 1, 5, 1, title, LETTER),
        ("picture", &[with_picture], 1, 3, 1, title, A4),
        ("foreign", &[input(&foreign, &stills)], 1, 5, 1, title, A4),
        ("several", &several, 4, 18, 4, "Three approaches, 2026-09-18", A4),
    ];
    let cases = sheets.map(|(name, inputs, pages, figures, tables, title, size)| {
        let sheet = set_sheet(inputs, &Fonts::embedded()).unwrap();
        assert_eq!(sheet.page_count(), pages, "{name}");
        let path = folder.path().join(format!("{name}.pdf"));
        std::fs::write(&path, sheet.pdf().unwrap()).unwrap();
        Case { name, pages, figures, tables, title, size, path }
    });
    let files: Vec<&PathBuf> = cases.iter().map(|case| &case.path).collect();
    let Some(found) = ask_python("pdf_structure.py", &json!({ "files": files })) else { return };
    for (case, found) in cases.iter().zip(found.as_array().unwrap()) {
        check_document(case, found);
        check_structure(case, found["structure"].as_array().unwrap());
        check_metadata(case, found);
        check_pages(case, found["pages"].as_array().unwrap());
    }
}

/// The document as a whole.
fn check_document(case: &Case, found: &Value) {
    let name = case.name;
    // qpdf reads the whole file and finds nothing to repair.
    assert_eq!(found["problems"], json!([]), "{name}");
    // ISO 32000-1, 14.7.1 and ISO 14289-1, 7.1: the file says that it is tagged.
    assert_eq!(found["marked"], json!(true), "{name}");
    // ISO 32000-1, 14.9.2 and ISO 14289-1, 7.2: its language.
    assert_eq!(found["lang"], json!("en"), "{name}");
    // ISO 14289-1, 7.1: its title stands in the window's bar, not the file's name.
    assert_eq!(found["title_shown"], json!(true), "{name}");
    // ISO 14289-1, 7.17: a way through it by its headings.
    assert_eq!(found["outline"], json!(true), "{name}");
    // Ours: a sheet does nothing and fetches nothing.
    assert_eq!(found["active"], json!([]), "{name}");
    let fonts = found["fonts"].as_array().unwrap();
    assert!(!fonts.is_empty(), "{name}");
    for font in fonts {
        // ISO 32000-1, 9.9 and ISO 14289-1, 7.21.4.1: every font comes with the file.
        assert_eq!(font["embedded"], json!(true), "{name}: {font}");
        // ISO 32000-1, 9.10.3 and ISO 14289-1, 7.21.7: what is copied or read aloud are letters.
        assert_eq!(font["letters"], json!(true), "{name}: {font}");
    }
}

fn check_structure(case: &Case, structure: &[Value]) {
    let name = case.name;
    let kind = |node: &Value| node["kind"].as_str().unwrap().to_owned();
    let of = |wanted: &str| structure.iter().filter(|node| kind(node) == wanted).count();
    let parent = |node: &Value| node["parents"].as_array().unwrap().last().cloned();
    // ISO 32000-1, 14.8.4.2: one document holds everything.
    assert_eq!((kind(&structure[0]).as_str(), of("Document")), ("Document", 1), "{name}");
    // ISO 14289-1, 7.4.2: headings skip no level; here a first one a page.
    assert_eq!(of("H1"), case.pages, "{name}");
    let headings = structure
        .iter()
        .map(kind)
        .filter(|kind| kind.strip_prefix('H').is_some_and(|level| level.parse::<u32>().is_ok()));
    assert!(headings.into_iter().all(|kind| kind == "H1" || kind == "H2"), "{name}");
    // ISO 14289-1, 7.3 and ISO 32000-1, 14.9.3: every picture has its words.
    assert_eq!(of("Figure"), case.figures, "{name}");
    for figure in structure.iter().filter(|node| kind(node) == "Figure") {
        let alt = figure["alt"].as_str().unwrap_or_default();
        assert!(alt.trim().len() > 8, "{name}: {figure}");
    }
    // ISO 14289-1, 7.5 and ISO 32000-1, 14.8.4.3.4: tables of rows of cells, the heads of which
    // say what they head.
    assert_eq!(of("Table"), case.tables, "{name}");
    assert!(of("TR") > of("Table") && of("TD") > of("TR"), "{name}");
    for node in structure {
        match kind(node).as_str() {
            "TR" => assert!(
                ["Table", "THead", "TBody"].iter().any(|one| parent(node) == Some(json!(one))),
                "{name}: {node}"
            ),
            "TD" | "TH" => assert_eq!(parent(node), Some(json!("TR")), "{name}"),
            _ => {}
        }
        if kind(node) == "TH" {
            assert_eq!(node["scope"], json!("Column"), "{name}");
        }
    }
    assert!(of("TH") >= 5 * case.tables, "{name}");
}

fn check_metadata(case: &Case, found: &Value) {
    let name = case.name;
    let xmp = found["xmp"].as_object().unwrap();
    let of = |key: &str| xmp.iter().find(|(k, _)| k.ends_with(key)).map(|(_, value)| value.clone());
    // ISO 14289-1, 7.1: the metadata name the document.
    assert_eq!(of("elements/1.1/}title"), Some(json!(case.title)), "{name}");
    // ISO 14289-1, clause 5: the claim to keep these rules; not made where a letter without a
    // meaning of its own stands in the file.
    assert_eq!(of("pdfua/ns/id/}part"), Some(json!("1")), "{name}");
    // ISO 32000-1, 14.3.3: both places agree, and say no more.
    let info = found["info"].as_object().unwrap();
    assert_eq!(info["/Title"], json!(case.title), "{name}");
    assert_eq!(info["/Creator"], json!("Groundline"), "{name}");
    assert_eq!(of("xap/1.0/}CreatorTool"), Some(info["/Creator"].clone()), "{name}");
    let mut keys: Vec<&str> = info.keys().map(String::as_str).collect();
    keys.retain(|key| !matches!(*key, "/Title" | "/Creator" | "/Producer"));
    assert!(keys.is_empty(), "{name}: {keys:?}");
    // Ours: neither who made it, where and when, nor who rides, is in what programs pass on unseen.
    let said = format!("{}{}", found["xmp"], found["info"]);
    let user = std::env::var("USER").unwrap_or_else(|_| "/home/".into());
    for private in ["Ada", "Pepper", "/tmp", "/work", "/home", ".mp4", "Date", user.as_str()] {
        assert!(!said.contains(private), "{name}: {private} in {said}");
    }
}

fn check_pages(case: &Case, pages: &[Value]) {
    let name = case.name;
    assert_eq!(pages.len(), case.pages, "{name}");
    for page in pages {
        // ISO 32000-1, 14.11.2: the paper, and all of it is shown.
        let media = numbers(&page["media"]);
        assert_eq!(media, numbers(&page["crop"]), "{name}");
        for (got, wanted) in media.iter().zip([0.0, 0.0, case.size[0], case.size[1]]) {
            assert!((got - wanted).abs() < 0.02, "{name}: {media:?}");
        }
        // ISO 14289-1, 7.1: whatever is painted is tagged or marked as decoration.
        assert_eq!(page["unmarked"], json!(0), "{name}");
        // ISO 14289-1, 7.18.3: where there are notes or links, they are reached in reading order.
        assert!(page["annotations"] == json!(0) || page["tabs"] == json!("/S"), "{name}");
    }
}
