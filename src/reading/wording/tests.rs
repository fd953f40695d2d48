//! The table, and sentences that no story of the arena tells.

use super::*;
use crate::draw::sample::{self, SEVEN};
use crate::quantity::{LengthUnits, Metres, Unit};
use crate::reading::sample::{drawn, line};
use crate::reading::{Answer, LineReading, Reading, Settings, read, read_line};
use crate::stride::{ApproachDraws, ShownStrides};

fn reading(lengths: &[f64], sd: f64, take_off: f64) -> Reading {
    let file = crate::marks::sample::sample();
    let draws = drawn(lengths, sd, take_off, 0.05);
    read(&file, &sample::approach(SEVEN), &draws, &Settings::default())
}

fn keys(reading: &Reading, audience: Audience) -> Vec<TextKey> {
    let texts = Texts::english().unwrap();
    let said = sentences(reading, &[], &texts, audience, LengthUnits::Metres);
    said.into_iter().map(|sentence| sentence.key).collect()
}

#[test]
fn every_sentence_is_in_the_table_and_names_only_what_is_filled() {
    let texts = Texts::english().unwrap();
    assert_eq!(texts.sentences.len(), TextKey::ALL.len());
    for (key, text) in &texts.sentences {
        assert!(!text.coach.is_empty(), "{key:?}");
        for said in [&text.coach, &text.rider] {
            assert!(said.is_empty() || said.ends_with('.'), "{key:?}: {said}");
        }
    }
}

#[test]
fn another_table_is_refused_where_it_would_leave_gaps() {
    let english = serde_json::to_value(Texts::english().unwrap()).unwrap();
    let refused = |change: &dyn Fn(&mut serde_json::Value)| {
        let mut table = english.clone();
        change(&mut table);
        Texts::of_json(&table.to_string()).unwrap_err().to_string()
    };
    let lacks = refused(&|table| {
        table["sentences"].as_object_mut().unwrap().remove("level_yes");
        table["words"].as_object_mut().unwrap().remove("left");
    });
    assert_eq!(lacks, "cannot use the table of texts: it lacks sentence `level_yes`, word `left`");
    let place = refused(&|table| table["sentences"]["asks"]["coach"] = "{fence}.".into());
    assert!(place.contains("names `{fence}`; it may name {parts}"), "{place}");
    assert!(
        refused(&|table| table["numbers"] = serde_json::json!([])).contains("numbers up to 12")
    );
    assert!(Texts::of_json("[]").is_err());
}

#[test]
fn what_spoilt_the_approach_comes_first() {
    let died = reading(&[3.60, 3.50, 3.35, 3.15, 2.95, 2.75], 0.02, 0.60);
    let said = keys(&died, Audience::Rider);
    assert_eq!(said[..3], [TextKey::DiedYes, TextKey::TakeOffNearer, TextKey::LevelNo]);
    // The one change that killed the canter is not called fine.
    assert!(!said.contains(&TextKey::OneChangeShorter), "{said:?}");
    assert!(!said.contains(&TextKey::TakeOffPublished), "for the coach only: {said:?}");
    let pushed = reading(&[3.50, 3.40, 3.20, 3.10, 3.30, 3.55], 0.02, 1.80);
    assert_eq!(keys(&pushed, Audience::Coach)[0], TextKey::ShorterThenLonger);
}

#[test]
fn two_fences_read_as_six_in_the_five() {
    let measured = line(72.0 * 0.3048, 6);
    let read =
        [read_line(&measured, ShownStrides::of_approaches(&[sample::approach(SEVEN)]).as_ref())];
    let mut second = reading(&[3.0; 6], 0.02, 1.80);
    second.approach = measured.second_approach.clone();
    let texts = Texts::english().unwrap();
    let said = sentences(&second, &read, &texts, Audience::Coach, LengthUnits::Metres);
    assert_eq!(said[0].key, TextKey::LineRidden, "a finding: {:?}", said[0]);
    let said: Vec<&str> = said
        .iter()
        .filter(|sentence| {
            sentence.key.rank() == TextKey::LineRidden.rank()
                || sentence.key.rank() == TextKey::LineMean.rank()
        })
        .map(|sentence| sentence.text.as_str())
        .collect();
    // (72 ft − 1.95 − 1.80 m) over 5, 6 and 7: 3.64, 3.03 and 2.60 m; the horse shows 3.36 to 3.77.
    assert_eq!(
        said,
        [
            "Six in the five: 21.95 ± 0.12 m from Gate to Planks, landing 1.95 ± 0.08 m, take-off 1.80 ± \
             0.06 m.",
            "A line for five is 21.95 m long by strides of 12 ft, 21.00 m by strides of 3.50 m.",
            "A line for six is 25.60 m long by strides of 12 ft, 24.50 m by strides of 3.50 m.",
            "The strides between were 3.03 ± 0.05 m in the mean.",
            "Five would need strides of 3.64 ± 0.05 m, such as this horse has shown here.",
            "Seven would need strides of 2.60 ± 0.05 m; none such is among those measured here.",
        ]
    );
}

#[test]
fn feet_are_feet_throughout() {
    let texts = Texts::english().unwrap();
    let said = sentences(
        &reading(&[3.50, 3.48, 3.52, 3.50, 3.49], 0.02, 1.80),
        &[],
        &texts,
        Audience::Coach,
        LengthUnits::Feet,
    );
    for sentence in said.iter().filter(|sentence| sentence.key != TextKey::PaceNumbers) {
        assert!(
            !sentence.text.contains(" m ") && !sentence.text.contains(" m."),
            "{}",
            sentence.text
        );
    }
}

/// The sentences of a reading to the coach, by key.
fn told(reading: &Reading, lines: &[LineReading]) -> Vec<(TextKey, String)> {
    let texts = Texts::english().unwrap();
    let said = sentences(reading, lines, &texts, Audience::Coach, LengthUnits::Metres);
    said.into_iter().map(|sentence| (sentence.key, sentence.text)).collect()
}

fn text_of(reading: &Reading, key: TextKey) -> String {
    let said = told(reading, &[]);
    let found = said.iter().find(|(said, _)| *said == key);
    found.unwrap_or_else(|| panic!("{key:?} is not said: {said:?}")).1.clone()
}

#[test]
fn the_way_the_pace_went_is_said_outright_only_where_that_way_is_sure() {
    // More than one change in nearly all draws; whether the last stride turned again is open.
    let turned = reading(&[3.50, 3.40, 3.20, 3.10, 3.30, 3.52, 3.37], 0.05, 1.80);
    assert!(
        matches!(turned.pace.is_one_at_most, Answer::No { .. }) && turned.pace.probability < 0.95
    );
    let said = text_of(&turned, TextKey::MoreThanOneChange);
    assert!(said.starts_with("More than one change of pace (over 99 % sure)"), "{said}");
    assert!(said.contains("; most likely shorter strides and then longer ("), "{said}");
}

#[test]
fn one_change_is_called_fine_only_where_it_made_no_fault() {
    let died = [3.60, 3.50, 3.35, 3.15, 3.00, 2.85];
    // Deep in some draws only: whether it was fine is open.
    let unsettled = reading(&died, 0.02, 0.92);
    assert!(text_of(&unsettled, TextKey::DiedCannotTell).starts_with("Perhaps the canter died"));
    let said = text_of(&unsettled, TextKey::OneChangeNotSettled);
    assert!(said.contains("whether it was fine cannot be told"), "{said}");
    // No take-off marked: the strides alone are told, and nothing is fine.
    let file = crate::marks::sample::sample();
    let draws = ApproachDraws { take_off_m: Vec::new(), ..drawn(&died, 0.02, 0.6, 0.05) };
    let mut approach = sample::approach(SEVEN);
    approach.take_off = None;
    let blind = read(&file, &approach, &draws, &Settings::default());
    let said = text_of(&blind, TextKey::DiedDepthUnknown);
    assert!(said.ends_with("whether the horse came deep cannot be told."), "{said}");
    assert!(told(&blind, &[]).iter().all(|(_, text)| !text.contains("is fine")), "{blind:?}");
    // Well away from the fence it is one change, and fine.
    let fine = reading(&died, 0.02, 1.80);
    assert!(text_of(&fine, TextKey::OneChangeShorter).ends_with("One is fine."));
}

#[test]
fn even_strides_of_another_length_than_was_set_are_not_called_uneven() {
    let file = crate::marks::sample::sample();
    let draws = drawn(&[3.50, 3.48, 3.52, 3.50, 3.49], 0.02, 1.80, 0.05);
    let settings = Settings { level_about_m: Some(Metres::new(3.0)), ..Settings::default() };
    let read = read(&file, &sample::approach(SEVEN), &draws, &settings);
    let said = text_of(&read, TextKey::LevelNoAbout);
    assert!(
        said.starts_with("Not all strides within 0.30 m of 3.00 m, over 99 % sure; "),
        "{said}"
    );
}

#[test]
fn what_cannot_be_told_is_never_written_as_sure_as_what_can() {
    let texts = Texts::english().unwrap();
    let teller =
        values::Teller { texts: &texts, audience: Audience::Coach, units: LengthUnits::Metres };
    let said = [0.947, 0.96, 0.5, 0.053].map(|p| teller.undecided(p, 0.95));
    assert_eq!(said, ["94 %", "94 %", "50 %", "6 %"]);
}

#[test]
fn a_number_of_strides_is_a_finding_only_where_no_other_fits() {
    let mut second = reading(&[3.5; 6], 0.02, 1.80);
    // 20.05 ± 0.12 m: 20.12 m is midway between four and five by 12 ft (R1, R4).
    let measured = line(20.05, 5);
    second.approach = measured.second_approach.clone();
    let said = told(&second, &[read_line(&measured, None)]);
    let (key, text) = said.iter().find(|(_, text)| text.starts_with("Five ")).unwrap();
    assert_eq!(*key, TextKey::LineRiddenEither);
    assert!(text.starts_with("Five strides where four or five fit: 20.05"), "{text}");
    assert_ne!(said[0].0, TextKey::LineRiddenEither);
}
