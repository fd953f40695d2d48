//! One page, whatever comes.

use image::{Rgb, RgbImage};

use super::{Fonts, Paper, SheetError, SheetInput, SheetStill, sheet_pdf, sheet_png};
use crate::draw::Names;
use crate::draw::sample::{self, SEVEN, Sample};
use crate::marks::Round;
use crate::quantity::LengthUnits;
use crate::stride::{ApproachMeasurement, StrideDoubt};
use crate::survey::SurveyDoubt;

fn still(width: u32, height: u32, caption: &str) -> SheetStill {
    let picture = RgbImage::from_pixel(width, height, Rgb([200, 180, 140]));
    let mut bytes = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
    SheetStill { image: bytes.into_inner(), caption: caption.into(), alt: String::new() }
}

pub(super) fn input<'a>(approach: &'a ApproachMeasurement, round: &'a Round) -> SheetInput<'a> {
    SheetInput {
        approach,
        poles: &[],
        suspects: &[],
        marks_doubts: &[],
        survey_doubts: &[],
        round,
        stills: &[],
        readings: &[],
        next_distances: &[],
        brackets: &[],
        tolerance: None,
        units: LengthUnits::Metres,
        names: Names::Shown,
        printed: "20 April 2026",
        paper: Paper::A4,
    }
}

fn pages(pdf: &[u8]) -> usize {
    assert!(pdf.starts_with(b"%PDF"));
    // Page objects name their parent; the page tree does not.
    let text = String::from_utf8_lossy(pdf);
    text.matches("/Type /Page\n").count() + text.matches("/Type/Page/").count()
}

fn one_page(input: &SheetInput) {
    assert_eq!(pages(&sheet_pdf(input, &Fonts::embedded()).unwrap()), 1);
}

#[test]
fn the_plain_sheet_is_one_page_and_the_same_each_time() {
    let approach = sample::approach(SEVEN);
    let round = sample::round();
    let input = input(&approach, &round);
    one_page(&input);
    let again = sheet_pdf(&input, &Fonts::embedded()).unwrap();
    assert_eq!(sheet_pdf(&input, &Fonts::embedded()).unwrap(), again);
    let png = sheet_png(&input, &Fonts::embedded(), 72.0).unwrap();
    let picture = image::load_from_memory(&png).unwrap();
    assert_eq!((picture.width(), picture.height()), (595, 842));
}

#[test]
fn extreme_sheets_are_one_page_too() {
    let long = "She waited well and then the neighbour's tractor came round the corner. ";
    let mut approach = sample::approach(Sample { strides: 15, jump: true, all_limbs: true });
    approach.note = long.repeat(60);
    for row in &mut approach.strides {
        row.note = long.repeat(3);
    }
    approach.fence.name = "The long blue and white oxer by the gate of the lower arena".into();
    approach.doubts = vec![StrideDoubt::NoTakeOff; 12];
    let round = Round {
        rider: "Alexandra-Wilhelmine von der Hohen Heide zu Unterwalden".into(),
        horse: "Thunderbolt's Golden Afternoon of the Northern Marshes".into(),
        note: long.repeat(40),
        ..sample::round()
    };
    let stills: Vec<SheetStill> =
        (0..6).map(|i| still(192, 108, &format!("Stride {i}, a caption of some length"))).collect();
    let suspects = [sample::suspect("h2"), sample::suspect("h4")];
    let poles = sample::poles();
    let readings = vec![long.repeat(4); 9];
    for paper in [Paper::A4, Paper::Letter] {
        one_page(&SheetInput {
            stills: &stills,
            suspects: &suspects,
            survey_doubts: &[SurveyDoubt::ReferencesOnOneLine { reference: "poles".into() }],
            poles: &poles,
            readings: &readings,
            next_distances: &readings,
            units: LengthUnits::Feet,
            paper,
            ..input(&approach, &round)
        });
    }
}

#[test]
fn bare_sheets_are_one_page_too() {
    let mut approach = sample::approach(Sample { strides: 1, jump: false, all_limbs: false });
    let round = Round::default();
    one_page(&input(&approach, &round));
    approach.strides.clear();
    approach.footfalls.clear();
    approach.track_line.clear();
    approach.track = None;
    approach.fence.take_off_base = [None, None];
    approach.fence.landing_base = [None, None];
    let mut bare = input(&approach, &round);
    bare.printed = "";
    one_page(&bare);
}

#[test]
fn names_left_off_are_nowhere() {
    let approach = sample::approach(SEVEN);
    let round = sample::round();
    let mut input = input(&approach, &round);
    input.names = Names::LeftOff;
    let files = super::data::files(&input, super::data::DENSITIES[0], 5000).unwrap();
    for (name, bytes) in &files {
        let text = String::from_utf8_lossy(bytes);
        assert!(!text.contains("Juniper") && !text.contains("Maren"), "in {name}");
    }
}

#[test]
fn a_still_that_is_no_picture_is_named() {
    let approach = sample::approach(SEVEN);
    let round = sample::round();
    let stills = [
        still(64, 36, "first"),
        SheetStill { image: b"GIF89a".to_vec(), caption: String::new(), alt: String::new() },
    ];
    let input = SheetInput { stills: &stills, ..input(&approach, &round) };
    let refused = sheet_pdf(&input, &Fonts::embedded()).unwrap_err();
    assert!(matches!(refused, SheetError::Still { number: 2, .. }), "{refused}");
}

#[test]
fn what_people_write_is_text_and_never_markup() {
    let mut approach = sample::approach(SEVEN);
    approach.note = "#set page(height: 1pt) *a* $x$ <b> @c #panic(\"no\") \\ ".into();
    approach.strides[0].note = "x".repeat(400);
    approach.fence.name = "Oxer <&> \"#1\"".into();
    let round = Round { horse: "J & <K>".into(), ..sample::round() };
    one_page(&input(&approach, &round));
}

#[test]
fn bytes_that_are_no_font_change_nothing() {
    let approach = sample::approach(SEVEN);
    let round = sample::round();
    let input = input(&approach, &round);
    let fonts = Fonts::embedded().with_bytes(b"not a font".to_vec());
    assert_eq!(sheet_pdf(&input, &fonts).unwrap(), sheet_pdf(&input, &Fonts::embedded()).unwrap());
}
