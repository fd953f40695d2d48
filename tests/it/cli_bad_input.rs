//! What the program says to input that it cannot use: one error with what was found and needed, at
//! most one hint, the right exit code, and nothing written.

use std::fs::File;
use std::path::Path;
use std::process::{Command, Stdio};

use groundline::footage::write::{ClipWriter, WriteOptions};
use groundline::marks::{Limb, MarksFile};
use image::{Rgb, RgbImage};
use serde_json::{Value, json};

use crate::laid_out::{filmed, strides};
use crate::program::{Said, groundline};
use crate::sample::Stable;
use crate::support::{awkward, quick, skip};

/// Six strides up to a take-off, 0.6 s each.
fn measurable() -> Value {
    let file: MarksFile = filmed(&[strides(Limb::LeadingHind, &[(3.5, 0.6); 6])], 0.02);
    serde_json::to_value(file).unwrap()
}

fn stable_with(file: &Value) -> Stable {
    Stable::with(&format!("{file:#}\n"))
}

fn say(stable: &Stable, words: &[&str]) -> Said {
    let mut program = groundline();
    for word in words {
        match word.strip_prefix('@') {
            Some(name) => program.arg(stable.path(name)),
            None => program.arg(word),
        };
    }
    Said::of(program.output().unwrap(), stable)
}

/// Exactly one error and at most one hint, in words of the trade.
#[track_caller]
fn one_error(said: &Said, code: i32) {
    assert_eq!(said.code, Some(code), "{}", said.err);
    let lines = |start| said.err.lines().filter(|line| line.starts_with(start)).count();
    assert_eq!(lines("error: "), 1, "{}", said.err);
    if code == 1 {
        assert_eq!(lines("hint: "), said.err.lines().count() - 1, "{}", said.err);
        assert!(lines("hint: ") <= 1, "{}", said.err);
    }
    for ours in
        ["f64", "u32", "usize", "EOF", "variant", "struct ", "os error", "panicked", "digit"]
    {
        assert!(!said.err.contains(ours), "`{ours}` in: {}", said.err);
    }
}

/// A run that is refused and leaves every file as it was.
#[track_caller]
fn refused(stable: &Stable, words: &[&str], code: i32, error: &str) {
    let files = || -> Vec<(String, Option<Vec<u8>>)> {
        let names = stable.names();
        names.iter().map(|name| (name.clone(), std::fs::read(stable.path(name)).ok())).collect()
    };
    let before = files();
    let said = say(stable, words);
    one_error(&said, code);
    assert!(said.err.contains(error), "{words:?} says: {}", said.err);
    assert!(files() == before, "{words:?} changed a file");
}

#[test]
fn clips_that_are_none() {
    let stable = stable_with(&measurable());
    std::fs::write(stable.path("empty.mp4"), "").unwrap();
    std::fs::create_dir(stable.path("folder.mp4")).unwrap();
    std::fs::write(stable.path("notes.mp4"), "hello\n").unwrap();
    RgbImage::from_pixel(32, 32, Rgb([9, 9, 9])).save(stable.path("photo.png")).unwrap();
    let mut cases = vec![
        ("gone.mp4", "there is no such file\nhint: check the spelling and the folder"),
        ("empty.mp4", "the file is empty (0 bytes)\nhint: copy the clip from the phone again"),
        ("folder.mp4", "it is a folder, not a file\nhint: name a clip inside the folder"),
        (
            "notes.mp4",
            "no video was found in it (it is damaged or of an unknown kind)\nhint: choose the clip itself, as the phone saved it",
        ),
        ("photo.png", "no video was found in it (it is a still picture)\nhint: "),
    ];
    if let Some(path) = awkward("corrupt_bitstream.webm") {
        std::fs::copy(path, stable.path("cut.webm")).unwrap();
        cases.push(("cut.webm", "the file is damaged, it promises 51 frames and none can be read\nhint: copy the clip from the phone again"));
    }
    for (name, error) in cases {
        let clip = format!("@{name}");
        let error = format!("error: cannot open {}: {error}", stable.path(name).display())
            .replace(&stable.path("").display().to_string(), "");
        refused(&stable, &["look", &clip], 1, &error);
        refused(&stable, &["look", &clip, "--json", "--decode"], 1, &error);
        refused(&stable, &["begin", &clip, "-o", "@new.marks.json"], 1, &error);
        refused(&stable, &["frame", &clip, "0", "-o", "@f.png"], 1, &error);
    }
}

/// Everybody may read what an administrator may not be kept from.
#[cfg(target_os = "linux")]
fn as_nobody() -> Option<Command> {
    let is_root = std::fs::read("/proc/self/environ").is_ok() && {
        let id = Command::new("id").arg("-u").output().unwrap();
        id.stdout == b"0\n"
    };
    let mut command = Command::new(if is_root { "setpriv" } else { "env" });
    if is_root {
        command.args(["--reuid=65534", "--regid=65534", "--clear-groups"]);
    }
    command.arg(env!("CARGO_BIN_EXE_groundline"));
    let works = {
        let mut probe = Command::new(command.get_program());
        probe.args(command.get_args()).arg("--version").output()
    };
    if works.is_ok_and(|output| output.status.success()) {
        return Some(command);
    }
    skip("the program cannot be run as an ordinary user here");
    None
}

#[cfg(target_os = "linux")]
#[test]
fn what_may_not_be_read_or_written() {
    use std::os::unix::fs::PermissionsExt;
    let stable = stable_with(&measurable());
    std::fs::write(stable.path("clip.mp4"), "some bytes\n").unwrap();
    let allow = |path: &Path, mode| {
        std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode)).unwrap();
    };
    allow(&stable.path(""), 0o755);
    allow(&stable.marks(), 0o644);
    let said = |words: &[&str]| {
        let mut command = as_nobody()?;
        for word in words {
            match word.strip_prefix('@') {
                Some(name) => command.arg(stable.path(name)),
                None => command.arg(word),
            };
        }
        Some(Said::of(command.output().unwrap(), &stable))
    };
    // Others may look at the folder and not write to it, unless it is their own.
    allow(&stable.path(""), 0o555);
    let Some(unwritable) = said(&["measure", "@lesson.marks.json", "--csv", "@out.csv"]) else {
        return;
    };
    one_error(&unwritable, 1);
    assert_eq!(
        unwritable.err,
        "error: cannot save `out.csv`: the system does not allow it (nothing was changed)\n\
         hint: choose a folder that you may write to\n"
    );
    allow(&stable.path("clip.mp4"), 0o000);
    allow(&stable.marks(), 0o000);
    let clip = said(&["look", "@clip.mp4"]).unwrap();
    one_error(&clip, 1);
    assert_eq!(
        clip.err,
        "error: cannot read clip.mp4: the system does not allow it\nhint: check that you may read the file\n"
    );
    let marks = said(&["measure", "@lesson.marks.json"]).unwrap();
    one_error(&marks, 1);
    assert_eq!(marks.err, "error: cannot read `lesson.marks.json`: the system does not allow it\n");
    allow(&stable.path(""), 0o755);
    assert_eq!(stable.names(), ["clip.mp4", "lesson.marks.json"]);
}

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
fn a_clip_in_place_of_its_marks_file() {
    let stable = stable_with(&measurable());
    made_clip(&stable.path("ride.mp4"));
    for command in
        [&["measure", "@ride.mp4"][..], &["check", "@ride.mp4"], &["mark", "@ride.mp4", "undo"]]
    {
        refused(
            &stable,
            command,
            1,
            "error: cannot use `ride.mp4`: it is a clip (its marks file needed)\nhint: `groundline begin ",
        );
    }
    std::fs::write(stable.path("ride.marks.json"), "{}").unwrap();
    refused(&stable, &["measure", "@ride.mp4"], 1, "hint: beside it lies `ride.marks.json`");
}

#[test]
fn the_table_holds_all_that_is_printed() {
    let mut file = measurable();
    file["approaches"][0]["stride_notes"] =
        json!([{ "stride": -1, "text": "close, \"deep\"" }, { "stride": -9, "text": "x" }]);
    let stable = stable_with(&file);
    let table = |units: &str| {
        let words = ["measure", "@lesson.marks.json", "--csv", "@t.csv", "--units", units];
        let said = say(&stable, &words);
        assert!(said.out.ends_with("\nwrote `t.csv`\n"), "{}", said.out);
        (said.out, std::fs::read_to_string(stable.path("t.csv")).unwrap())
    };
    let (printed, metres) = table("m");
    assert!(printed.contains(
        "doubt: the note on stride −9 of approach `approach 0` is shown nowhere: it has 6 strides\n"
    ));
    let lines: Vec<&str> = metres.split_terminator("\r\n").collect();
    assert!(
        lines[0].starts_with("row,approach,fence,stride,length_m,length_m_low95,"),
        "{}",
        lines[0]
    );
    assert!(lines[6].ends_with(",\"close, \"\"deep\"\"\""), "{}", lines[6]);
    let mut reader = csv::Reader::from_reader(metres.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    for kind in ["stride", "take_off", "doubt"] {
        assert!(rows.iter().any(|row| &row[0] == kind), "{kind}: {metres}");
    }
    let length: f64 = rows[0][4].parse().unwrap();
    assert!(
        rows.iter().flatten().all(|cell| cell.parse::<f64>().is_err() || cell.len() <= 9),
        "{metres}"
    );
    let (printed, feet) = table("ft");
    assert!(feet.contains("length_ft,") && feet.contains("speed_ft_per_s,"), "{feet}");
    assert!(printed.contains(" ft/s") && printed.contains(" m/min") && !printed.contains(" m/s"));
    let mut reader = csv::Reader::from_reader(feet.as_bytes());
    let in_feet: f64 = reader.records().next().unwrap().unwrap()[4].parse().unwrap();
    assert!((in_feet * 0.3048 - length).abs() < 1e-4, "{in_feet} ft, {length} m");
    // Every line of the strides is as long as their heading, but for the notes.
    let columns =
        printed.lines().skip(1).take(7).map(|line| line.find(" ft/s").or(line.find("   speed")));
    assert!(columns.skip(1).collect::<std::collections::BTreeSet<_>>().len() == 1, "{printed}");
}

#[test]
fn places_on_the_ground_carry_their_unit() {
    let stable = stable_with(&measurable());
    let said = say(&stable, &["measure", "@lesson.marks.json", "--json", "--csv", "@t.csv"]);
    let found: Value = serde_json::from_str(&said.out).unwrap();
    assert!(found["ground_frame"].as_str().unwrap().contains("x runs the way the horse goes"));
    let place = &found["approaches"][0]["footfalls"][1]["place"];
    assert!(place["x_m"].is_f64() && place["y_m"].is_f64() && place.get("x").is_none(), "{place}");
}

#[test]
fn the_demo_replaces_nobodys_files() {
    let stable = stable_with(&measurable());
    std::fs::write(stable.path("sheet.pdf"), "mine").unwrap();
    let folder = "@";
    let error = "`sheet.pdf` there was not made by a demo\nhint: choose another folder: `groundline demo FOLDER`";
    refused(&stable, &["demo", folder], 1, error);
    std::fs::write(stable.path("about-this-demo.txt"), "Made by `groundline demo`").unwrap();
    std::fs::write(stable.path("schooling.marks.undo.json"), "{}").unwrap();
    refused(&stable, &["demo", folder], 1, "its marks were changed since");
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

#[test]
fn typed_numbers_and_names() {
    let stable = stable_with(&measurable());
    made_clip(&stable.path("clip.mp4"));
    std::fs::write(stable.path("edits.json"), "[{\"edit\": \"set_round\"}]").unwrap();
    std::fs::write(stable.path("cut.json"), "[{").unwrap();
    let footfall =
        |rest: &'static str| format!("mark @lesson.marks.json footfall --limb leading-hind {rest}");
    for (words, code, error) in [
        (
            "frame @clip.mp4 99999 -o @f.png",
            1,
            "the clip ends at frame 11 (0.4 s) in clip.mp4\nhint: use a frame from 0 to 11",
        ),
        ("frame @clip.mp4 -1 -o @f.png", 2, "a whole number, 0 or more, needed"),
        ("frame @clip.mp4 3.5 -o @f.png", 2, "a whole number, 0 or more, needed"),
        ("frame @clip.mp4 0 -o @f.png --crop nan,0,1,1", 2, "four whole numbers as X,Y,W,H needed"),
        (
            "frame @clip.mp4 0 -o @f.png --crop 500,0,1,1",
            1,
            "cannot crop at 500,0: the picture has 64 × 48 px",
        ),
        ("frame @clip.mp4 0 -o @f.png --stream 7", 1, "its only video stream is 0"),
        ("look @clip.mp4 --stream -1", 2, "a whole number, 0 or more, needed"),
        ("look @clip.mp4 --frames", 2, "--json"),
        (
            "mark @lesson.marks.json footfall --limb leading-hind --frame 5000 --at 5,5",
            1,
            "frame 5000 is not in the clip (frames 0 to 7)",
        ),
        (
            &footfall("--frame 0 --at 50000,5"),
            1,
            "it lies at (50000, 5), outside the picture of 3840 × 2160 px",
        ),
        (&footfall("--frame 0 --at nan,5"), 2, "two numbers as X,Y needed"),
        (&footfall("--frame 0 --at 1e999,5"), 2, "two numbers as X,Y needed"),
        (&footfall("--frame 0 --at 5,5 --sd 0"), 2, "a number above 0 needed"),
        (&footfall("--frame 0 --at 5,5 --sd -1"), 2, "a number above 0 needed"),
        (
            &footfall("--frame 0 --at 5,5 --sd 1e9"),
            1,
            "the placing error is 1000000000 px (0.01 to 200 px needed)",
        ),
        (&footfall("--frame 0 --at 5,5 --time inf --gap 1"), 2, "a number needed"),
        (
            "mark @lesson.marks.json poles poles --spacing -3",
            1,
            "the spacing is -3 m (0.3 to 50 m needed)",
        ),
        ("mark @lesson.marks.json poles poles --spacing nan", 2, "a number needed"),
        ("mark @lesson.marks.json poles poles --spacing 1e300", 1, "(0.3 to 50 m needed)"),
        ("mark @lesson.marks.json poles poles --count -4", 2, "a whole number, 0 or more, needed"),
        (
            "mark @lesson.marks.json poles poles --spacing-sd 5",
            1,
            "the sd of the spacing is 5 (0 or more and less than 3 needed)",
        ),
        (
            "mark @lesson.marks.json camera --height -1",
            1,
            "the height of the camera is -1 m (0.05 to 50 m needed)",
        ),
        ("mark @lesson.marks.json camera --focal 0", 2, "a number above 0 needed"),
        ("mark @lesson.marks.json slow-motion 0", 2, "a number from 0.01 to 1000 needed"),
        ("mark @lesson.marks.json slow-motion -8", 2, "a number from 0.01 to 1000 needed"),
        (
            "mark @lesson.marks.json distance poles --length 5",
            1,
            "it is a reference of another kind",
        ),
        ("mark @lesson.marks.json tie a/b --frame 0 --at 5,5", 1, "its id is not usable"),
        ("mark @lesson.marks.json note x --stride 0", 1, "a note is on stride 0"),
        ("mark @lesson.marks.json round --date 2026-13-01", 1, "the date is `2026-13-01`"),
        (
            "mark @lesson.marks.json --edits @edits.json",
            1,
            "cannot read the edits: `round` is missing at line 1",
        ),
        ("mark @lesson.marks.json --edits @cut.json", 1, "it ends in the middle"),
        (
            "mark @lesson.marks.json --edits @clip.mp4",
            1,
            "cannot read the edits: it is not text (`clip.mp4`)",
        ),
        (
            "mark @lesson.marks.json --edits @gone.json",
            1,
            "there is no such file or folder (`gone.json`)",
        ),
        (
            "sheet @lesson.marks.json -o @s.jpg",
            2,
            "cannot write `s.jpg`: its name has `.jpg` (.pdf or .png needed)",
        ),
        (
            "measure @lesson.marks.json --csv @t.csv --xlsx @t.xls",
            2,
            "cannot write `t.xls`: its name has `.xls` (.xlsx needed)",
        ),
        ("schema --edits --measurement", 2, "cannot be used with"),
        (
            "sheet @lesson.marks.json -o @s.pdf --approach nix",
            1,
            "holds no such approach (it holds `approach 0`)",
        ),
        (
            "stills @lesson.marks.json -o @s",
            1,
            "cannot find the clip `laid-out.mp4`: there is no such file",
        ),
        ("schema --edit", 2, "unexpected argument"),
        ("leap", 2, "unrecognized subcommand"),
    ] {
        refused(&stable, &words.split(' ').collect::<Vec<_>>(), code, error);
    }
}

/// Twelve small plain frames, 25 a second.
fn made_clip(path: &Path) {
    made_clip_of(path, (64, 48), 12);
}

fn made_clip_of(path: &Path, (width, height): (u32, u32), frames: u8) {
    let options = quick(WriteOptions::default());
    let mut writer = ClipWriter::at_rate(path, (width, height), (25, 1), &options).unwrap();
    for frame in 0..frames {
        let picture = RgbImage::from_pixel(width, height, Rgb([20 * frame, 120, 90]));
        writer.write(&picture).unwrap();
    }
    writer.finish().unwrap();
}

/// Measurable marks with a clip of their size and length beside them, known by no hash.
fn stable_with_its_clip() -> Stable {
    let mut file = measurable();
    file["clip"]["size_bytes"] = json!(0);
    let stable = stable_with(&file);
    made_clip_of(&stable.path("laid-out.mp4"), (3840, 2160), 8);
    stable
}

#[test]
fn a_clip_that_changed() {
    let mut file = measurable();
    let stable = stable_with(&file);
    made_clip(&stable.path("laid-out.mp4"));
    let bytes = std::fs::read(stable.path("laid-out.mp4")).unwrap();
    let doubt = "doubt: the clip `laid-out.mp4` is not the file that the marks were placed on";
    for (size, hash, error) in [
        (bytes.len() + 1, blake3::hash(&bytes), "needed)"),
        (bytes.len(), blake3::hash(b"other"), "(the same length, other content)"),
    ] {
        file["clip"]["size_bytes"] = json!(size);
        file["clip"]["blake3"] = json!(hash.to_hex().to_string());
        std::fs::write(stable.marks(), file.to_string()).unwrap();
        for words in [
            "frame @lesson.marks.json 0 -o @f.png",
            "stills @lesson.marks.json -o @s",
            "sheet @lesson.marks.json -o @s.pdf",
        ] {
            refused(&stable, &words.split(' ').collect::<Vec<_>>(), 1, error);
        }
        for command in ["measure", "check"] {
            let said = say(&stable, &[command, "@lesson.marks.json"]);
            assert_eq!((said.code, said.err.as_str()), (Some(0), ""));
            assert_eq!(said.out.matches(doubt).count(), 1, "{}", said.out);
        }
    }
}

#[test]
fn another_clip_in_place_of_one_without_hash() {
    let mut file = measurable();
    file["clip"]["size_bytes"] = json!(0);
    let stable = stable_with(&file);
    made_clip(&stable.path("laid-out.mp4"));
    for words in [
        "frame @lesson.marks.json 0 -o @f.png",
        "stills @lesson.marks.json -o @s",
        "sheet @lesson.marks.json -o @s.pdf",
    ] {
        let error = "cannot use the clip `laid-out.mp4`: it has 12 frames of 64 × 48 px (8 frames of 3840 × 2160 px needed)";
        refused(&stable, &words.split(' ').collect::<Vec<_>>(), 1, error);
    }
}

#[test]
fn places_that_cannot_be_written_to() {
    let stable = stable_with_its_clip();
    std::fs::create_dir(stable.path("folder")).unwrap();
    std::fs::write(stable.path("file"), "kept").unwrap();
    let no_folder = "there is no folder `no/such` (nothing was changed)\nhint: make the folder first, or choose another";
    for (words, error) in [
        ("frame @laid-out.mp4 0 -o @no/such/f.png", no_folder),
        ("begin @laid-out.mp4 -o @no/such/x.marks.json", no_folder),
        ("measure @lesson.marks.json --csv @no/such/t.csv", no_folder),
        ("sheet @lesson.marks.json -o @no/such/s.pdf", no_folder),
        ("frame @laid-out.mp4 0 -o @folder", "it is a folder (nothing was changed)"),
        ("measure @lesson.marks.json --csv @folder", "it is a folder (nothing was changed)"),
        ("measure @lesson.marks.json --xlsx @no/such/t.xlsx", no_folder),
        ("measure @lesson.marks.json --xlsx @folder", "it is a folder (nothing was changed)"),
        ("frame @laid-out.mp4 0 -o @file/f.png", "a part of the path is not a folder"),
        ("stills @lesson.marks.json -o @file", "there already is a file of that name"),
        ("demo @file", "there already is a file of that name"),
        ("begin @laid-out.mp4 -o @file", "there already is such a file"),
    ] {
        refused(&stable, &words.split(' ').collect::<Vec<_>>(), 1, error);
    }
}

/// An administrator may rename a file over a device; the program must not. A pipe stands for the
/// device here, so that a failing test harms nothing.
#[cfg(target_os = "linux")]
#[test]
fn a_pipe_is_not_written_over() {
    use std::os::unix::fs::FileTypeExt;
    let stable = stable_with(&measurable());
    assert!(Command::new("mkfifo").arg(stable.path("pipe")).status().unwrap().success());
    std::os::unix::fs::symlink("kept.csv", stable.path("link.csv")).unwrap();
    std::fs::write(stable.path("kept.csv"), "old").unwrap();
    let said = say(&stable, &["measure", "@lesson.marks.json", "--csv", "@pipe"]);
    one_error(&said, 1);
    assert_eq!(
        said.err,
        "error: cannot save `pipe`: it is a device or a pipe (a file needed) (nothing was changed)\nhint: choose the name of a file\n"
    );
    let kind = std::fs::symlink_metadata(stable.path("pipe")).unwrap().file_type();
    assert!(kind.is_fifo());
    assert_eq!(
        say(&stable, &["measure", "@lesson.marks.json", "--csv", "@link.csv"]).code,
        Some(0)
    );
    assert!(std::fs::symlink_metadata(stable.path("link.csv")).unwrap().is_symlink());
    assert!(std::fs::read_to_string(stable.path("kept.csv")).unwrap().contains("stride"));
}

/// Files may grow to 512 bytes only, which a program feels as on a full disk.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_leaves_no_half_file() {
    let stable = stable_with_its_clip();
    let before = (stable.names(), stable.text());
    for words in [
        "frame @laid-out.mp4 0 -o @f.png",
        "begin @laid-out.mp4 -o @new.marks.json",
        "measure @lesson.marks.json --csv @t.csv",
        "measure @lesson.marks.json --xlsx @t.xlsx",
        "sheet @lesson.marks.json -o @s.pdf",
    ] {
        let mut shell = Command::new("sh");
        let script = "trap '' XFSZ; ulimit -f 1; exec \"$@\"";
        shell.args(["-c", script, "sh", env!("CARGO_BIN_EXE_groundline")]);
        for word in words.split(' ') {
            match word.strip_prefix('@') {
                Some(name) => shell.arg(stable.path(name)),
                None => shell.arg(word),
            };
        }
        let said = Said::of(shell.output().unwrap(), &stable);
        one_error(&said, 1);
        assert!(said.err.contains("the file would be larger than is allowed"), "{}", said.err);
        assert_eq!((stable.names(), stable.text()), before, "{words}");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn an_answer_that_cannot_be_written() {
    let stable = stable_with(&measurable());
    let full = File::options().write(true).open("/dev/full").unwrap();
    let mut program = groundline();
    program.arg("check").arg(stable.marks()).stdout(full).stderr(Stdio::piped());
    let said = Said::of(program.output().unwrap(), &stable);
    one_error(&said, 1);
    assert_eq!(said.err, "error: cannot write the answer: the disk is full\n");
}

#[test]
fn slow_motion_is_measured_in_capture_time() {
    let Some(source) = awkward("slomo_240_samsung_sef.mp4") else {
        return;
    };
    // The clip plays at 30 frames a second: strides of 0.6 s at the fence take 4.8 s of playing.
    let laid: MarksFile = filmed(&[strides(Limb::LeadingHind, &[(3.5, 4.8); 6])], 1.0 / 30.0);
    let measured = |begin: &[&str], measure: &[&str]| {
        let stable = stable_with(&serde_json::to_value(&laid).unwrap());
        std::fs::copy(&source, stable.path("slow.mp4")).unwrap();
        let begin = [&["begin", "@slow.mp4"], begin].concat();
        assert_eq!(say(&stable, &begin).code, Some(0));
        let begun = std::fs::read_to_string(stable.path("slow.marks.json")).unwrap();
        let begun: Value = serde_json::from_str(&begun).unwrap();
        let mut file = stable.json();
        for key in ["file", "size_bytes", "blake3", "frame_count", "capture_seconds_per_second"] {
            file["clip"][key] = begun["clip"][key].clone();
        }
        std::fs::write(stable.marks(), file.to_string()).unwrap();
        let said = say(&stable, &[&["measure", "@lesson.marks.json", "--json"], measure].concat());
        let found: Value = serde_json::from_str(&said.out).unwrap();
        found["approaches"][0]["strides"][0]["duration_s"]["value"].as_f64().unwrap()
    };
    let near = |found: f64, wanted: f64| assert!((found - wanted).abs() < 0.001, "{found}");
    near(measured(&[], &[]), 0.6);
    near(measured(&["--capture-rate", "120"], &[]), 1.2);
    near(measured(&["--slowed", "1"], &[]), 4.8);
    near(measured(&[], &["--capture-rate", "120"]), 1.2);
    near(measured(&["--slowed", "1"], &["--capture-rate", "240"]), 0.6);
}

#[test]
fn absurd_capture_rates_are_refused() {
    let stable = stable_with(&measurable());
    made_clip(&stable.path("clip.mp4"));
    let (needed, most) = ("a number above 0 and up to 100000 needed", "100000");
    for command in [
        "look @clip.mp4",
        "begin @clip.mp4",
        "measure @lesson.marks.json",
        "stills @lesson.marks.json -o @s",
        "sheet @lesson.marks.json -o @s.pdf",
    ] {
        for rate in ["0", "-240", "nan", "inf", "1e9", "fast"] {
            let words = format!("{command} --capture-rate {rate}");
            refused(&stable, &words.split(' ').collect::<Vec<_>>(), 2, needed);
        }
        // Sane as a number, but no clip that plays at 25 or 50 frames a second comes from it.
        if !command.starts_with("look") {
            for rate in ["0.01", most] {
                let words = format!("{command} --capture-rate {rate}");
                let error = format!(
                    "cannot use a capture rate of {rate} frames per second: the captured time per second of playing is "
                );
                refused(&stable, &words.split(' ').collect::<Vec<_>>(), 1, &error);
            }
        }
    }
    refused(
        &stable,
        &["begin", "@clip.mp4", "--slowed", "8", "--capture-rate", "240"],
        2,
        "cannot be used with",
    );
}

#[test]
fn a_mark_on_a_guessed_picture_is_doubted() {
    let Some(source) = awkward("corrupt_middle.mp4") else {
        return;
    };
    let stable = Stable::new();
    std::fs::copy(source, stable.path("lesson.mp4")).unwrap();
    std::fs::remove_file(stable.marks()).unwrap();
    assert_eq!(say(&stable, &["begin", "@lesson.mp4"]).code, Some(0));
    let tie = |frame| {
        say(
            &stable,
            &["mark", "@lesson.marks.json", "tie", "post", "--frame", frame, "--at", "5,6"],
        )
    };
    tie("31").done("added tie `post`, marked tie `post` on frame 31 at (5, 6)");
    let doubt = "doubt: frame 32 is damaged in the clip and parts of its picture are guessed: the mark on it may stand on a guess";
    tie("32").done(&format!("marked tie `post` on frame 32 at (5, 6)\n{doubt}"));
    assert_eq!(stable.json()["concealed_frames"], json!([32]));
    assert!(say(&stable, &["check", "@lesson.marks.json"]).out.contains(doubt));
    say(&stable, &["frame", "@lesson.mp4", "32", "-o", "@f.png"]).done(
        "drew frame 32 → `f.png`\ndoubt: frame 32 is damaged in the clip and parts of its picture are guessed",
    );
    let error = "cannot read frame 30: its data is damaged (at 3.000 s) in lesson.mp4\nhint: use the frame before or after it";
    refused(
        &stable,
        &["mark", "@lesson.marks.json", "tie", "post", "--frame", "30", "--at", "5,6"],
        1,
        error,
    );
    assert_eq!(say(&stable, &["mark", "@lesson.marks.json", "undo"]).code, Some(0));
    assert_eq!(stable.json().get("concealed_frames"), None);
}

#[test]
fn measuring_from_a_guessed_picture_is_doubted() {
    let mut file = measurable();
    file["concealed_frames"] = json!([0, 3]);
    let stable = stable_with(&file);
    let said = say(&stable, &["measure", "@lesson.marks.json"]);
    assert_eq!(said.code, Some(0));
    for doubt in [
        "doubt: frame 0 is damaged in the clip and parts of its picture are guessed: the 10 marks on it may stand on a guess\n",
        "doubt: frame 3 is damaged in the clip and parts of its picture are guessed: the mark on it may stand on a guess\n",
    ] {
        assert!(said.out.contains(doubt), "{}", said.out);
    }
    let said = say(&stable, &["measure", "@lesson.marks.json", "--json"]);
    let found: Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(
        found["marks_doubts"][1],
        json!({ "doubt": "concealed_frame", "frame": 3, "marks": 1 })
    );
    assert!(found["doubt_sentences"][1].as_str().unwrap().starts_with("frame 3 is damaged"));
}
