//! The table, and sentences that no story of the arena tells.

use super::*;
use crate::draw::sample::{self, SEVEN};
use crate::quantity::LengthUnits;
use crate::reading::sample::{drawn, line};
use crate::reading::{Reading, Settings, read, read_line};
use crate::stride::ShownStrides;

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
