//! `poles`: distances for the next lesson, from a typed stride and from measured ones.

use serde_json::Value;

use crate::program::{groundline, run};
use crate::sample::Stable;

fn poles(words: &str) -> (Option<i32>, String, String) {
    let output = groundline().arg("poles").args(words.split_whitespace()).output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (output.status.code(), text(output.stdout), text(output.stderr))
}

#[test]
fn a_typed_twelve_foot_stride_gives_the_course_builders_lines() {
    // (n+1) × 12 ft: 24, 36, 48, 60, 72, 84 ft (R1, R4 of the reference values, read).
    let (code, out, err) = poles("--stride 3.6576 --height 1.0");
    assert_eq!((code, err.as_str()), (Some(0), ""));
    for (name, feet) in [
        ("1 stride", "24 ft ("),
        ("2 strides", "36 ft ("),
        ("3 strides", "48 ft ("),
        ("4 strides", "60 ft ("),
        ("5 strides", "72 ft ("),
        ("6 strides", "84 ft ("),
    ] {
        let line = out.lines().find(|line| line.starts_with(name)).unwrap();
        assert!(line.contains(feet), "{line}");
    }
    // Eight of its four-to-a-stride paces are one stride with landing and take-off (R2, R11).
    assert!(
        out.lines().any(|line| line.starts_with("1 stride") && line.ends_with("8 walked paces"))
    );
    // Cautions stand on every plan.
    assert!(
        out.contains("not a permit to jump") && out.contains("the person on the ground decides")
    );
}

#[test]
fn tables_are_listed_with_source_and_grade_and_the_whole_plan_is_json() {
    let (_, out, _) = poles("--stride 3.5 --height 0.8 --gait trot --size medium-pony --sources");
    assert!(out.contains("· 9–10 ft (R20, grade B)"), "{out}");
    assert!(out.contains("\nR20 "), "{out}");
    assert!(out.contains("note: shortened by"), "{out}");
    let (_, json, _) = poles("--stride 3.5 --height 0.8 --json");
    let plan: Value = serde_json::from_str(&json).unwrap();
    assert_eq!(plan["stride_m"], 3.5);
    assert!(plan["distances"].as_array().unwrap().len() > 8);
    assert!(plan["cautions"].as_array().unwrap().len() > 5);
}

#[test]
fn what_no_plan_is_made_for_is_refused() {
    let (code, out, err) = poles("--stride 9 --height 1.0");
    assert_eq!((code, out.as_str()), (Some(1), ""));
    assert!(err.starts_with("error: cannot plan for a stride of 9 m"), "{err}");
    let (code, _, err) = poles("--height 1.0");
    assert_eq!(code, Some(2));
    assert!(err.contains("--stride"), "{err}");
}

#[test]
fn marks_without_strides_are_told_what_is_needed() {
    let stable = Stable::new();
    let said = run(&stable, "poles", "--height 1.0 --approach none");
    assert_eq!(said.code, Some(1), "{}", said.out);
    assert!(said.err.starts_with("error: cannot "), "{}", said.err);
}
