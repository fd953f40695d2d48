//! One page, whatever comes.

use image::{Rgb, RgbImage};

use super::{Fonts, Paper, SheetError, SheetInput, SheetStill, set_sheet};
use crate::draw::sample::{self, SEVEN, Sample};
use crate::draw::{Names, Weight, width_of};
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
        approach_picture: None,
        stills: &[],
        readings: &[],
        next_lesson: &[],
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

fn pdf(input: &SheetInput) -> Vec<u8> {
    set_sheet(&[*input], &Fonts::embedded()).unwrap().pdf().unwrap()
}

fn one_page(input: &SheetInput) {
    assert_eq!(pages(&pdf(input)), 1);
}

/// The files of one page.
fn files_at(input: &SheetInput, density: super::data::Density) -> super::data::Files {
    let mut files = super::data::Files::new();
    let page = super::data::page(input, density, 5000, "", &mut files).unwrap();
    let data = super::data::document(input, None, vec![page]);
    let json = serde_json::to_vec(&data).unwrap();
    files.insert("sheet.json".to_owned(), typst::foundations::Bytes::new(json));
    files
}

#[test]
fn the_plain_sheet_is_one_page_and_the_same_each_time() {
    let approach = sample::approach(SEVEN);
    let round = sample::round();
    let input = input(&approach, &round);
    one_page(&input);
    assert_eq!(pdf(&input), pdf(&input));
    let pngs = set_sheet(&[input], &Fonts::embedded()).unwrap().pngs(72.0).unwrap();
    assert_eq!(pngs.len(), 1);
    let picture = image::load_from_memory(&pngs[0]).unwrap();
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
            next_lesson: &readings,
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
    let files = files_at(&input, super::data::DENSITIES[0]);
    for (name, bytes) in &files {
        let text = String::from_utf8_lossy(bytes);
        assert!(!text.contains("Juniper") && !text.contains("Maren"), "in {name}");
        assert!(!text.contains("Lower arena") && !text.contains(".mp4"), "in {name}");
    }
    input.names = Names::Shown;
    let files = files_at(&input, super::data::DENSITIES[0]);
    let data = String::from_utf8_lossy(&files["sheet.json"]);
    assert!(data.contains("Lower arena"), "the sample has a place, or this proves nothing");
}

/// The column beside the headline is as wide as the template sets it; no word may be wider.
#[test]
fn the_longest_names_keep_within_their_column() {
    let approach = sample::approach(SEVEN);
    let round = Round {
        rider: "Alexandra-Wilhelmine von der Hohenheideunterwaldenobermarschland".into(),
        horse: "M".repeat(60),
        ..sample::round()
    };
    for paper in [Paper::A4, Paper::Letter] {
        let input = SheetInput { paper, ..input(&approach, &round) };
        for density in super::data::DENSITIES {
            let files = files_at(&input, density);
            let data: serde_json::Value = serde_json::from_slice(&files["sheet.json"]).unwrap();
            let room = data["approaches"][0]["about_width"].as_f64().unwrap();
            let lines = data["approaches"][0]["about"].as_array().unwrap();
            assert!(lines.iter().any(|line| line.as_str().unwrap().contains("MMM")));
            for line in lines {
                let words = line.as_str().unwrap().split([' ', '\u{200b}']);
                for word in words {
                    let wide = width_of(word, density.text, Weight::Bold);
                    assert!(wide <= room, "{word}: {wide} in {room}");
                }
            }
        }
    }
}

/// Nothing in the charts is set smaller than reads at arm's length, nor in a weight but regular or
/// bold; the template keeps the rest to the same size.
#[test]
fn no_type_of_the_charts_is_under_the_least_size() {
    for strides in [7, 15] {
        let approach = sample::approach(Sample { strides, jump: true, all_limbs: true });
        let round = sample::round();
        let input = input(&approach, &round);
        for density in super::data::DENSITIES {
            let files = files_at(&input, density);
            for name in ["bars.svg", "plan.svg"] {
                let svg = String::from_utf8_lossy(&files[name]).into_owned();
                for part in svg.split("font-size=\"").skip(1) {
                    let size: f64 = part.split('"').next().unwrap().parse().unwrap();
                    assert!(size >= 6.49, "{size} in {name} of {strides} strides");
                }
                assert!(!svg.contains("font-weight=\"3") && !svg.contains("light"));
            }
        }
    }
}

/// Six pictures of six are printed on either paper, with a usual note beside them.
#[test]
fn both_papers_have_room_for_six_pictures() {
    let mut approach = sample::approach(SEVEN);
    approach.note = "Keep the canter from the corner; wait for the fence.".into();
    let round = sample::round();
    let stills: Vec<SheetStill> =
        (0..6).map(|i| still(160 + 16 * i, 90 + 9 * i, "stride")).collect();
    let poles = sample::poles();
    for paper in [Paper::A4, Paper::Letter] {
        for units in [LengthUnits::Metres, LengthUnits::Feet] {
            let input = SheetInput {
                stills: &stills,
                poles: &poles,
                paper,
                units,
                ..input(&approach, &round)
            };
            let pdf = pdf(&input);
            let text = String::from_utf8_lossy(&pdf);
            let pictures =
                text.matches("/Subtype /Image").count() + text.matches("/Subtype/Image").count();
            assert_eq!(pictures, 6, "{paper:?} {units:?}");
        }
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
    let refused = set_sheet(&[input], &Fonts::embedded()).unwrap_err();
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
    assert_eq!(set_sheet(&[input], &fonts).unwrap().pdf().unwrap(), pdf(&input));
}

#[test]
fn several_approaches_are_a_cover_and_a_page_each() {
    let round = Round { note: "Once for all of them.".into(), ..sample::round() };
    let approaches: Vec<ApproachMeasurement> = (0..12)
        .map(|i| {
            let shape = Sample { strides: 1 + i, jump: i % 3 > 0, all_limbs: i % 2 == 0 };
            let mut approach = sample::approach(shape);
            approach.fence.name = format!("Fence {} with a name of some length by the gate", i + 1);
            approach
        })
        .collect();
    for (paper, units) in [(Paper::A4, LengthUnits::Metres), (Paper::Letter, LengthUnits::Feet)] {
        let of = |one| SheetInput { paper, units, ..input(one, &round) };
        let inputs: Vec<SheetInput> = approaches.iter().map(of).collect();
        let sheet = set_sheet(&inputs, &Fonts::embedded()).unwrap();
        assert_eq!(sheet.page_count(), 13);
        assert_eq!(pages(&sheet.pdf().unwrap()), 13);
    }
    assert_eq!(set_sheet(&[], &Fonts::embedded()).unwrap_err(), SheetError::NoApproach);
}

/// As wide as the page whatever its shape, never cut, and in place of the stills.
#[test]
fn the_approach_picture_takes_the_place_of_the_stills() {
    let round = sample::round();
    let stills = [still(192, 108, "stride")];
    for (strides, size) in [(7, (800, 400)), (7, (1600, 200)), (15, (800, 400))] {
        let approach = sample::approach(Sample { strides, jump: true, all_limbs: true });
        let picture = still(size.0, size.1, "all strides");
        for paper in [Paper::A4, Paper::Letter] {
            let approach_picture = Some(&picture);
            let input =
                SheetInput { approach_picture, stills: &stills, paper, ..input(&approach, &round) };
            one_page(&input);
            let files = files_at(&input, super::data::DENSITIES[7]);
            let data: serde_json::Value = serde_json::from_slice(&files["sheet.json"]).unwrap();
            let page = &data["approaches"][0];
            let printed = &page["approach_picture"]["picture"];
            let printed = [&printed["width"], &printed["height"]].map(|n| n.as_f64().unwrap());
            assert!((printed[0] - (paper.width_pt() - 72.0)).abs() < 1e-9, "{printed:?}");
            let aspect = f64::from(size.0) / f64::from(size.1);
            assert!((printed[0] / printed[1] - aspect).abs() < 1e-9, "{printed:?}");
            assert_eq!(page["stills"], serde_json::json!([]));
        }
    }
    let bad = SheetStill { image: vec![1, 2], caption: String::new(), alt: String::new() };
    let approach = sample::approach(SEVEN);
    let input = SheetInput { approach_picture: Some(&bad), ..input(&approach, &round) };
    let refused = set_sheet(&[input], &Fonts::embedded()).unwrap_err();
    assert!(matches!(refused, SheetError::ApproachPicture { .. }), "{refused}");
}

/// Scripts of the world, with none but the embedded fonts: a page all the same, and what it lacks
/// is told.
#[test]
fn letters_that_no_font_has_are_told_and_never_stop_a_sheet() {
    let mut approach = sample::approach(SEVEN);
    approach.fence.name = "Οξύ · Оксер".into();
    approach.note = "שמור על הקצב. حافظ على الإيقاع، 3.5 m\nघोड़ा 🐎 👩\u{200d}🌾".into();
    approach.strides[2].note = "馬術 \u{e000}\u{7}\u{feff}\u{202e}".into();
    let round = Round { horse: "سهم".into(), rider: "דנה".into(), ..sample::round() };
    let sheet = set_sheet(&[input(&approach, &round)], &Fonts::embedded()).unwrap();
    let missing: String = sheet.missing_letters().collect();
    for letter in "שحघ馬🐎".chars() {
        assert!(missing.contains(letter), "{letter} in {missing}");
    }
    assert!(!missing.chars().any(|c| "ΟξОк3.\u{200d}\u{7}".contains(c)), "{missing}");
    assert_eq!(pages(&sheet.pdf().unwrap()), 1);
}

#[test]
fn a_fence_over_the_weeks_is_one_page_whatever_was_ridden_and_written() {
    use crate::weeks::sample::{entry, evenly};
    for (count, words) in [(1, 0), (2, 1), (3, 6), (12, 6), (150, 3)] {
        let entries = (0..count).map(|i| {
            let date = format!("2026-{:02}-{:02}", i / 28 % 12 + 1, i % 28 + 1);
            let date = (i % 7 != 6).then_some(date);
            let fence = "The long oxer with the blue planks beside the old gate at the far end";
            let mut one = entry(&format!("{i}"), date.as_deref(), fence, &evenly(3.4));
            one.approach.notes = vec!["Keep the canter from the corner. ".repeat(words); words];
            one.approach.doubts = vec![format!("doubt {}", i % 9); words.min(1)];
            if i % 3 == 0 {
                one.approach.take_off = None;
            }
            if i % 4 == 1 {
                one.approach.rider = "Maximiliane Hohenberg-Lindenthal-Wetterstein".into();
            }
            one
        });
        let weeks = crate::weeks::by_fence(entries.collect());
        for (units, paper) in [(LengthUnits::Metres, Paper::A4), (LengthUnits::Feet, Paper::Letter)]
        {
            let (names, printed) = (true, "2026-09-20");
            let input = super::WeeksSheetInput { weeks: &weeks, units, names, printed, paper };
            let sheet = super::set_weeks(&input, &Fonts::embedded()).unwrap();
            assert_eq!(sheet.page_count(), 1, "{count} approaches, {words} notes");
            assert!(sheet.pdf().unwrap().starts_with(b"%PDF"));
        }
    }
}
