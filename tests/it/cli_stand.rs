//! `stand`: where to stand, from a typed layout and from a marks file.

use serde_json::Value;

use crate::program::{groundline, run};
use crate::sample::Stable;

/// Few places, so that the search is brief.
const BRIEF: &str = "--within-distance 17,18 --within-along 10,11 --within-height 1.6,1.6";

fn stand(words: &str) -> (Option<i32>, String, String) {
    let output = groundline().arg("stand").args(words.split_whitespace()).output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (output.status.code(), text(output.stdout), text(output.stderr))
}

#[test]
fn a_table_a_sentence_and_the_cautions_are_told() {
    let (code, out, err) = stand(&format!("--distance 24 --along 3 {BRIEF}"));
    assert_eq!((code, err.as_str()), (Some(0), ""));
    assert!(out.starts_with("now     24 m from the track on its right, 3 m before the fence"));
    for name in ["stride −5", "stride −1", "take-off", "landing", "tempo"] {
        let line = out.lines().find(|line| line.trim_start().starts_with(name)).unwrap();
        // One number a place.
        assert_eq!(line.matches('±').count(), 2, "{line}");
    }
    let told = out.lines().find(|line| line.starts_with("Stand ")).unwrap();
    assert!(told.contains("farther left (away from the fence)"), "{told}");
    assert!(told.contains("nearer to the track") && told.contains(" instead of ± "), "{told}");
    for caution in
        ["not a permit to jump", "the person on the ground decides", "4 m from the track"]
    {
        assert!(out.contains(caution), "{caution}");
    }
    // 24 m are 78.7 ft.
    let (_, feet, _) = stand(&format!("--distance 24 --along 3 --units ft {BRIEF}"));
    assert!(feet.starts_with("now     79 ft from the track"), "{feet}");
    assert!(feet.contains(" in instead of ± "), "{feet}");
}

#[test]
fn the_whole_plan_is_json_and_keeps_its_schema() {
    let (_, json, _) = stand(&format!("--distance 12 --along 9 --json {BRIEF}"));
    let plan: Value = serde_json::from_str(&json).unwrap();
    // Beside the fence 66° see 15.6 m of the track from 12 m; five strides and take-off take 20.1 m.
    assert!(plan["here"]["worst_plus_minus_m"].is_null());
    assert!(plan["unseen_sentence"].as_str().unwrap().contains("stride"), "{json}");
    assert_eq!(plan["here"]["strides"][0]["length_plus_minus_m"], Value::Null);
    assert!(plan["best"]["worst_plus_minus_m"].as_f64().unwrap() > 0.02);
    assert!(plan["cautions"].as_array().unwrap().len() > 5);
    let (_, schema, _) = {
        let output = groundline().args(["schema", "--stand"]).output().unwrap();
        (output.status.code(), String::from_utf8(output.stdout).unwrap(), ())
    };
    let schema: Value = serde_json::from_str(&schema).unwrap();
    let known = schema["properties"].as_object().unwrap();
    for key in plan.as_object().unwrap().keys() {
        assert!(known.contains_key(key), "{key}");
    }
}

#[test]
fn it_is_drawn_from_above() {
    let stable = Stable::new();
    let words = format!("--poles 3 --aside -2.4 -o {} {BRIEF}", stable.path("s.svg").display());
    let (code, out, err) = stand(&words);
    assert_eq!((code, err.as_str()), (Some(0), ""));
    assert!(out.contains("drew where to stand → "));
    let svg = std::fs::read_to_string(stable.path("s.svg")).unwrap();
    for words in ["take-off", "better", "hoof", "not a permit to"] {
        assert!(svg.contains(words), "{words}");
    }
}

#[test]
fn after_a_lesson_its_own_layout_is_taken() {
    let stable = Stable::new();
    let marks = concat!(env!("CARGO_MANIFEST_DIR"), "/fixtures/horse-jump-combination.marks.json");
    std::fs::copy(marks, stable.marks()).unwrap();
    let said = run(&stable, "stand", BRIEF);
    match said.code {
        // The file of a real clip knows lengths of the fence and no poles.
        Some(1) => {
            assert!(said.err.starts_with("error: cannot plan from these marks: "), "{}", said.err)
        }
        code => panic!("{code:?} {}{}", said.out, said.err),
    }
}

#[test]
fn what_cannot_be_planned_is_refused_with_what_is_needed() {
    for (words, code, told) in [
        ("--distance 3", 1, "the phone's distance from the track is 3 m (4 to 60 needed)"),
        ("--within-distance 2,9", 1, "the phone's distance from the track is 2 m (4 to 60 needed)"),
        ("--within-height 2,1", 1, "the range of heights runs from 2 to 1"),
        ("--strides 0", 1, "the number of strides is 0 strides (1 to 20 needed)"),
        ("--field 200", 1, "the field of view is 200 ° (15 to 110 needed)"),
        ("--within-along 3", 2, "two numbers as LEAST,MOST needed"),
        ("--picture 1920", 2, "width and height in pixels as 1920x1080 needed"),
        ("--side middle", 2, "possible values: left, right"),
        ("--paced --taped", 2, "cannot be used with"),
        ("--approach A-1", 2, "required arguments"),
        ("-o plan.pdf", 2, ".svg"),
        ("nowhere.marks.json", 1, "nowhere.marks.json"),
    ] {
        let (found, out, err) = stand(words);
        assert_eq!((found, out.as_str()), (Some(code), ""), "{words}: {err}");
        assert!(err.contains(told), "{words}: {err}");
    }
}
