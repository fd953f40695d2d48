//! `stand`: where to stand, from a typed layout and from a marks file.

use groundline::arena::{Clicking, Scene, Truth, marks};
use serde_json::Value;

use crate::program::{Said, groundline, run};
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
    let (code, out, err) = stand(&format!("--distance 25 --along 14 {BRIEF}"));
    assert_eq!((code, err.as_str()), (Some(0), ""));
    assert!(out.starts_with("now     25 m from the track on its right, 14 m before the fence"));
    for name in ["stride −5", "stride −1", "take-off", "landing", "tempo"] {
        let line = out.lines().find(|line| line.trim_start().starts_with(name)).unwrap();
        // One number a place.
        assert_eq!(line.matches('±').count(), 2, "{line}");
    }
    let told = out.lines().find(|line| line.starts_with("Stand ")).unwrap();
    assert!(told.contains("farther right (towards the fence)"), "{told}");
    assert!(told.contains("nearer to the track") && told.contains(" at worst ("), "{told}");
    assert!(told.contains(") instead of ± "), "{told}");
    for caution in
        ["not a permit to jump", "the person on the ground decides", "4 m from the track"]
    {
        assert!(out.contains(caution), "{caution}");
    }
    // 25 m are 82.0 ft.
    let (_, feet, _) = stand(&format!("--distance 25 --along 14 --units ft {BRIEF}"));
    assert!(feet.starts_with("now     82 ft from the track"), "{feet}");
    assert!(feet.contains(") instead of ± ") && feet.contains("13 ft from the track at least"));
    assert!(!feet.contains(" m "), "{feet}");
}

#[test]
fn who_types_no_place_is_told_the_best_one_and_no_now() {
    let (code, out, err) = stand(BRIEF);
    assert_eq!((code, err.as_str()), (Some(0), ""));
    assert!(out.starts_with("best    1"), "{out}");
    assert!(out.contains("\nStand 1") && out.contains(" are then known to ± "), "{out}");
    assert!(!out.contains(" now") && !out.contains("instead of"), "{out}");
    let line = out.lines().find(|line| line.trim_start().starts_with("take-off")).unwrap();
    assert_eq!(line.matches('±').count(), 1, "{line}");
    // The height at which she will hold it is no place.
    let brief = BRIEF.replace(" --within-height 1.6,1.6", "");
    let (_, out, _) = stand(&format!("--height 1.4 {brief}"));
    assert!(out.starts_with("best    ") && out.contains("at chest height (1.4 m)"), "{out}");
}

#[test]
fn where_not_all_fit_it_is_said_how_many_do_and_what_all_need() {
    let (code, out, err) =
        stand("--within-distance 12,13 --within-along 6,9 --within-height 1.6,1.6");
    assert_eq!((code, err.as_str()), (Some(0), ""));
    let told = out.lines().find(|line| line.starts_with("Within ")).unwrap();
    let begins = "Within 13 m of the track three of the five strides can be measured. Stand 1";
    assert!(told.starts_with(begins), "{told}");
    assert!(told.contains(" For all five, turn the phone with the horse, or stand "), "{told}");
    assert!(!out.contains("stride −4"), "{out}");
}

#[test]
fn the_whole_plan_is_json_and_keeps_its_schema() {
    let (_, json, _) = stand(&format!("--distance 12 --along 9 --json {BRIEF}"));
    let plan: Value = serde_json::from_str(&json).unwrap();
    // Beside the fence 66° see 15.6 m of the track from 12 m; five strides and take-off take 20.1 m.
    assert!(plan["here"]["sureness"].is_null());
    assert!(plan["unseen_sentence"].as_str().unwrap().contains("stride"), "{json}");
    assert_eq!(plan["here"]["strides"][0]["length_plus_minus_m"], Value::Null);
    assert!(plan["best"]["sureness"]["judged"]["plus_minus_m"].as_f64().unwrap() > 0.02);
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
    for words in ["take-off", "stand here", "hoof", "not a permit to", " before the fence"] {
        assert!(svg.contains(words), "{words}");
    }
}

/// A lesson of the arena as its coach would mark it: four poles 3 m apart, the last 4 m before the
/// fence, six strides of 3.5 m filmed from 22 m, 8.5 m before the fence.
fn lesson() -> Stable {
    let scene = Scene::level(5);
    let file = marks(&scene, &Truth::of(&scene).unwrap(), &Clicking::usual(5));
    Stable::with(&serde_json::to_string_pretty(&file).unwrap())
}

fn plan_of(said: Said) -> Value {
    assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
    serde_json::from_str(&said.out).unwrap()
}

#[test]
fn after_a_lesson_its_own_layout_is_taken() {
    let stable = lesson();
    let bounds = "--within-distance 21,22 --within-along 8,9 --within-height 1.6,1.6 --json";
    let plan = plan_of(run(&stable, "stand", bounds));
    let near = |value: &Value, truth: f64, within: f64| {
        let found = value.as_f64().unwrap();
        assert!((found - truth).abs() < within, "{found} for {truth}");
    };
    let (lesson, phone) = (&plan["lesson"], &plan["here"]["phone"]);
    assert_eq!((&lesson["poles"]["count"], &lesson["strides"]["count"]), (&4.into(), &6.into()));
    near(&lesson["poles"]["spacing_m"]["value"], 3.0, 1e-9);
    near(&lesson["poles"]["before_fence_m"], 4.0, 0.15);
    near(&lesson["strides"]["length_m"], 3.5, 0.1);
    near(&phone["distance_m"], 22.0, 1.5);
    near(&phone["before_fence_m"], 8.5, 1.0);
    assert!(plan["here"]["sureness"]["judged"]["plus_minus_m"].as_f64().unwrap() > 0.02);
    // What is typed stands in place of what the file says, and the phone stays where it was.
    let plan = plan_of(run(&stable, "stand", &format!("--strides 2 --spacing 2.5 {bounds}")));
    assert_eq!(plan["here"]["strides"].as_array().unwrap().len(), 2);
    near(&plan["lesson"]["poles"]["spacing_m"]["value"], 2.5, 1e-9);
    near(&plan["here"]["phone"]["distance_m"], 22.0, 1.5);
    let said = run(&stable, "stand", &bounds.replace(" --json", ""));
    assert!(said.out.starts_with("now     2"), "{}", said.out);
}

#[test]
fn a_file_without_poles_is_no_lesson_to_plan_from() {
    let stable = Stable::new();
    let marks = concat!(env!("CARGO_MANIFEST_DIR"), "/fixtures/horse-jump-combination.marks.json");
    std::fs::copy(marks, stable.marks()).unwrap();
    let said = run(&stable, "stand", BRIEF);
    assert_eq!((said.code, said.out.as_str()), (Some(1), ""));
    assert!(said.err.starts_with("error: cannot plan from these marks: "), "{}", said.err);
}

#[test]
fn what_cannot_be_planned_is_refused_with_what_is_needed() {
    for (words, code, told) in [
        (
            "--distance 3 --along 9",
            1,
            "the phone's distance from the track is 3 m (4 to 60 m needed)",
        ),
        ("--distance 3 --along 9 --units ft", 1, "is 9 ft 10 in (13 ft 1 in to 196.9 ft needed)"),
        ("--distance 12", 1, "cannot tell where you stand now"),
        ("--along 9", 1, "hint: leave both away to be told the best place"),
        (
            "--within-distance 2,9",
            1,
            "the phone's distance from the track is 2 m (4 to 60 m needed)",
        ),
        ("--within-height 2,1", 1, "the range of heights runs from 2 m to 1 m"),
        ("--strides 0", 1, "the number of strides is 0 (1 to 20 needed)"),
        ("--field 200", 1, "the field of view is 200° (15 to 110° needed)"),
        ("--field 200", 1, "hint: from side to side"),
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
