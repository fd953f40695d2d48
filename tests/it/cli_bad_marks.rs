//! Marks files that break a rule, that are none, or that hold too little.

use serde_json::{Value, json};

use crate::refusal::{measurable, one_error, refused, say, stable_with};
use crate::sample::Stable;

type Spoil = fn(&mut Value);

/// Marks files that break one thing each, and what is said of it.
const SPOILT: [(Spoil, &str); 21] = [
    (
        |f| first(f)["frame"] = json!(5000),
        "on frame 5000: frame 5000 is not in the clip (frames 0 to 7)",
    ),
    (|f| first(f)["x"] = json!(5000.126), "on frame 1: it lies at (5000.13, "),
    (|f| first(f)["y"] = json!(-1e300), "outside the picture of 3840 × 2160 px"),
    (
        |f| first(f)["x"] = Value::Null,
        "`approaches[0].footfalls[0]` does not fit: null found (a number needed)",
    ),
    (|f| first(f)["x"] = json!("12"), "the text \"12\" found (a number needed)"),
    (|f| first(f)["frame"] = json!(-3), "-3 found (a whole number, 0 or more, needed)"),
    (|f| first(f)["frame"] = json!(3.5), "3.5 found (a whole number, 0 or more, needed)"),
    (|f| first(f)["sd_px"] = json!(0.0), "the placing error is 0 px (0.01 to 200 px needed)"),
    (|f| first(f)["sd_px"] = json!(-1.5), "the placing error is -1.5 px (0.01 to 200 px needed)"),
    (
        |f| first(f)["sd_px"] = json!(1e9),
        "the placing error is 1000000000 px (0.01 to 200 px needed)",
    ),
    (|f| first(f)["frame"] = json!(2), "the leading hind meets the ground twice on this frame"),
    (
        |f| f["approaches"][0]["footfalls"][1]["id"] = json!("hoof 1"),
        "its id is used twice (each needs its own)",
    ),
    (
        |f| f["references"] = json!([f["references"][0], f["references"][0]]),
        "reference `poles`: its id is used twice (each needs its own)",
    ),
    (
        |f| f["references"][0]["spacing_m"]["value"] = json!(300),
        "the spacing is 300 m (0.3 to 50 m needed)",
    ),
    (
        |f| f["references"][0]["count"] = json!(4_000_000_000_u32),
        "the number of poles is 4000000000 (1 to 100 needed)",
    ),
    (|f| f["clip"]["frame_count"] = json!(0), "the clip: the list of its frames is empty"),
    (
        |f| f["clip"]["capture_seconds_per_second"] = json!(0),
        "the captured time per second of playing is 0 s (0.001 to 100 s needed)",
    ),
    (|f| f["clip"]["frames"][3]["time_s"] = json!(1e300), "the time is 1"),
    (|f| f["concealed_frames"] = json!([99]), "frame 99 is not in the clip (frames 0 to 7)"),
    (
        |f| f["approaches"][0]["fence"] = json!("wall"),
        "it names fence `wall`, which is not in the file",
    ),
    (
        |f| f["groundline_marks"] = json!(2),
        "it is of version 2 (version 1 or older needed)\nhint: a later version of groundline can read it",
    ),
];

fn first(file: &mut Value) -> &mut Value {
    &mut file["approaches"][0]["footfalls"][0]["mark"]
}

/// Every command that reads a marks file, none of which may write a thing.
fn refused_by_all(stable: &Stable, error: &str) {
    let marks = "@lesson.marks.json";
    refused(stable, &["measure", marks, "--csv", "@t.csv"], 1, error);
    refused(stable, &["measure", marks, "--xlsx", "@t.xlsx"], 1, error);
    refused(stable, &["measure", marks, "--json"], 1, error);
    refused(stable, &["stills", marks, "-o", "@stills"], 1, error);
    refused(stable, &["sheet", marks, "-o", "@sheet.pdf"], 1, error);
    refused(stable, &["frame", marks, "0", "-o", "@f.png"], 1, error);
    refused(stable, &["mark", marks, "round", "--rider", "Ada"], 1, error);
    refused(stable, &["mark", marks, "undo"], 1, error);
}

#[test]
fn marks_files_that_break_one_thing() {
    for (spoil, error) in SPOILT {
        let mut file = measurable();
        spoil(&mut file);
        let stable = stable_with(&file);
        refused_by_all(&stable, error);
        let said = say(&stable, &["check", "@lesson.marks.json"]);
        one_error(&said, 1);
        let reason = error.lines().next().unwrap();
        assert!(said.out.contains(reason) || said.err.contains(reason), "{}{}", said.out, said.err);
    }
}

#[test]
fn texts_that_are_no_marks_file() {
    let whole = format!("{:#}\n", measurable());
    let nan = whole.replacen("\"sd_px\": 0.01", "\"sd_px\": NaN", 1);
    let huge = whole.replacen("\"sd_px\": 0.01", "\"sd_px\": 1e999", 1);
    assert!(nan != whole && huge != whole);
    for (text, error) in [
        ("", "the file is empty (a marks file needed)"),
        (&whole[..whole.len() / 2], "it ends in the middle, as if it had been cut short"),
        ("[1, 2]", "it is JSON but no marks file (a number under `groundline_marks` needed)"),
        ("{\"groundline_marks\": -1}", "it is JSON but no marks file"),
        (&nan, "column 24: expected value"),
        (&huge, "number out of range"),
        ("\u{0}\u{1}\u{2}", "it is not JSON at line 1, column 1"),
    ] {
        refused_by_all(&Stable::with(text), error);
        refused(&Stable::with(text), &["check", "@lesson.marks.json"], 1, error);
    }
    let stable = Stable::with(&whole);
    refused(
        &stable,
        &["measure", "@gone.marks.json"],
        1,
        "there is no such file (a marks file needed)\nhint: `groundline begin CLIP` makes a marks file for a clip",
    );
    std::fs::create_dir(stable.path("folder.marks.json")).unwrap();
    refused(&stable, &["measure", "@folder.marks.json"], 1, "it is a folder (a marks file needed)");
}

#[test]
fn a_damaged_file_points_to_its_backup() {
    let stable = stable_with(&measurable());
    assert_eq!(
        say(&stable, &["mark", "@lesson.marks.json", "round", "--rider", "Ada"]).code,
        Some(0)
    );
    let mut file = stable.json();
    first(&mut file)["sd_px"] = json!(0);
    std::fs::write(stable.marks(), file.to_string()).unwrap();
    refused(
        &stable,
        &["measure", "@lesson.marks.json"],
        1,
        "hint: correct it in a text editor, or take the state before from `lesson.marks.json.backup`",
    );
    std::fs::write(stable.marks(), "{").unwrap();
    refused(
        &stable,
        &["measure", "@lesson.marks.json"],
        1,
        "hint: the state before is in `lesson.marks.json.backup`",
    );
}

#[test]
fn too_little_to_measure_from() {
    let with = |spoil: Spoil| {
        let mut file = measurable();
        spoil(&mut file);
        stable_with(&file)
    };
    let measure = ["measure", "@lesson.marks.json"];
    refused(
        &with(|f| f["references"] = json!([])),
        &measure,
        1,
        "there is nothing to tell a metre by\nhint: mark the ends of poles",
    );
    refused(
        &with(|f| f["approaches"] = json!([])),
        &measure,
        1,
        "the marks file holds no approach, so there is no stride\nhint: `groundline mark MARKS footfall --help`",
    );
    let doubted = |spoil: Spoil, doubt: &str| {
        let said = say(&with(spoil), &measure);
        assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
        assert_eq!(said.out.matches(doubt).count(), 1, "{}", said.out);
    };
    doubted(
        |f| f["approaches"][0]["footfalls"][6]["event"] = json!("stride"),
        "doubt: no take-off hind is marked: there is no take-off distance",
    );
    doubted(
        |f| f["approaches"][0]["footfalls"] = json!([f["approaches"][0]["footfalls"][0]]),
        "no stride: no hind limb is marked at two contacts",
    );
}
