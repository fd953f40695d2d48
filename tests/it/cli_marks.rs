use std::path::Path;
use std::process::{Command, Output};

use serde_json::{Value, json};

use crate::program::{Said, groundline, mark, run};
use crate::sample::{Stable, marks_json};

#[test]
fn unfit_files_are_told_apart() {
    let refusal = |text: &str| {
        let stable = Stable::with(text);
        let said = run(&stable, "check", "");
        assert_eq!((said.code, said.out.as_str()), (Some(1), ""));
        assert_eq!(mark(&stable, "undo").err, said.err);
        assert_eq!(stable.text(), text);
        said.err
    };
    assert_eq!(
        refusal(""),
        "error: cannot read `lesson.marks.json`: the file is empty (a marks file needed)\n"
    );
    assert_eq!(
        refusal("{\"groundline_marks\": 1,\n \"clip\": }"),
        "error: cannot read `lesson.marks.json`: it is not JSON at line 2, column 10: expected value\n"
    );
    assert_eq!(
        refusal("{\"groundline_marks\": 7}"),
        "error: cannot read `lesson.marks.json`: it is of version 7 (version 1 or older needed)\n\
         hint: a later version of groundline can read it\n"
    );
    let stable = Stable::new();
    let at = |path: &Path| Said::of(groundline().arg("check").arg(path).output().unwrap(), &stable);
    at(&stable.path("gone.marks.json")).refused(
        1,
        "error: cannot read `gone.marks.json`: there is no such file (a marks file needed)\n\
         hint: `groundline begin CLIP` makes a marks file for a clip",
    );
    std::fs::create_dir(stable.path("folder")).unwrap();
    at(&stable.path("folder"))
        .refused(1, "error: cannot use `folder`: it is a folder (a marks file needed)");
}

#[test]
fn wrong_usage_ends_with_2() {
    let stable = Stable::new();
    for words in [
        "",
        "jump",
        "pole-end rails 1 up --frame 40 --at 1,2",
        "pole-end rails 1 left --frame 40 --at 1;2",
        "pole-end rails 1 left --frame -1 --at 1,2",
        "footfall --limb left-hind --frame 40 --at 1,2",
        "footfall --limb leading-hind --frame 40",
        "poles new --count 4",
        "camera",
        "camera --sway 0.1",
        "round",
        "move rails/1/left",
        "undo 0",
        "tie post --frame 40 --at 5,6 --time 1.2",
    ] {
        let before = stable.text();
        let said = mark(&stable, words);
        assert_eq!(said.code, Some(2), "{words}: {}", said.err);
        assert_eq!(stable.text(), before);
    }
    assert_eq!(groundline().output().unwrap().status.code(), Some(2));
    assert_eq!(groundline().arg("--version").output().unwrap().status.code(), Some(0));
}

#[test]
fn a_breach_is_refused_and_the_file_untouched() {
    let stable = Stable::new();
    let before = stable.text();
    mark(&stable, "pole-end rails 5 left --frame 40 --at 3,4").refused(
        1,
        "error: cannot mark the left end of pole 5 of `rails` on frame 40 at (3, 4): the reference has only poles 1 to 4",
    );
    mark(&stable, "tie post --frame 300 --at 3,4").refused(
        1,
        "error: cannot add tie `post`, mark tie `post` on frame 300 at (3, 4): frame 300 is not in the clip (frames 0 to 299)",
    );
    mark(&stable, "remove fence oxer").refused(
        1,
        "error: cannot remove fence `oxer`: the file has approach `oxer-1` of that fence\n\
         hint: first `remove approach oxer-1`",
    );
    mark(&stable, "remove tie post").refused(
        1,
        "error: cannot remove tie `post`: there is no tie `post` in the file (it has none)",
    );
    assert_eq!(stable.text(), before);
    assert_eq!(stable.names(), ["lesson.marks.json"]);
}

#[test]
fn an_unknown_time_needs_the_clip_or_is_typed() {
    let stable = Stable::new();
    mark(&stable, "tie post --frame 41 --at 3,4").refused(
        1,
        "error: cannot know the time of frame 41: cannot find the clip `lesson.mp4`: there is no such file\n\
         hint: put the clip beside the marks file, or type --time and --gap",
    );
    std::fs::write(stable.path("lesson.mp4"), "jello clip\n").unwrap();
    mark(&stable, "tie post --frame 41 --at 3,4").refused(
        1,
        "error: cannot know the time of frame 41: cannot use the clip `lesson.mp4`: the marks were placed on another file (the same length, other content)\n\
         hint: put the clip beside the marks file, or type --time and --gap",
    );
    mark(&stable, "tie post --frame 41 --at 3,4 --time 1.4 --gap 0.0334")
        .done("added tie `post`, marked tie `post` on frame 41 at (3, 4)");
    let frames = stable.json()["clip"]["frames"].clone();
    assert_eq!(frames[1], json!({ "frame": 41, "time_s": 1.4, "gap_s": 0.0334 }));
    mark(&stable, "tie post --frame 41 --at 3,5 --time 1.4 --gap 0.0334")
        .refused(2, "error: cannot use --time: the time of the frame is known");
}

#[test]
fn each_command_changes_what_it_says() {
    let stable = Stable::new();
    let value = |pointer: &str| stable.json().pointer(pointer).cloned().unwrap_or_default();
    mark(&stable, "poles rails --spacing 3.05").done("changed poles `rails`");
    assert_eq!(value("/references/0/spacing_m"), json!({ "value": 3.05, "sd": 0.01 }));
    assert_eq!(value("/references/0/bought"), 2021);
    mark(&stable, "pole-end rails 2 right --frame 40 --at 500.5,620")
        .done("marked the right end of pole 2 of `rails` on frame 40 at (500.5, 620)");
    assert_eq!(value("/references/0/ends/1/marks/0/y"), 620.0);
    mark(&stable, "distance --length 12 --length-sd 0.1").done("added distance `distance`");
    mark(&stable, "point distance/to --frame 90 --at 8,9 --sd 2")
        .done("marked the second point of `distance` on frame 90 at (8, 9)");
    assert_eq!(value("/references/1/to/0/sd_px"), 2.0);
    mark(&stable, "vertical post --height 1.6").done("added vertical `post`");
    mark(&stable, "fence-width --width 3.6").done("added width `oxer-width`");
    mark(&stable, "rails --heights 0.6,1.1").done("added rails `oxer-rails`");
    mark(&stable, "point oxer-rails/2/left --frame 90 --at 70,80")
        .done("marked the left end of rail 2 of `oxer-rails` on frame 90 at (70, 80)");
    mark(&stable, "fence oxer --height 1.1 --spread 1.2").done("changed fence `oxer`");
    assert_eq!(value("/fences/0/cups"), "safety");
    mark(&stable, "fence --kind cross-rail").done("added fence `cross-rail`");
    mark(&stable, "base oxer take-off-left --frame 90 --at 900,500")
        .done("marked the left end of the take-off base of fence `oxer` on frame 90 at (900, 500)");
    mark(&stable, "approach oxer-1 --lead left --left-turn 40").done("changed approach `oxer-1`");
    assert_eq!(value("/approaches/0/left_turn_frame"), 40);
    mark(&stable, "footfall --limb trailing-hind --frame 90 --at 650,612 --event take-off").done(
        "added footfall `th-90` of approach `oxer-1` on frame 90 at (650, 612), trailing hind, take-off",
    );
    mark(&stable, "footfall th-90 --hidden").done(
        "changed footfall `th-90` of approach `oxer-1` on frame 90, hidden, trailing hind, take-off",
    );
    assert_eq!(value("/approaches/0/footfalls/1/hidden"), true);
    mark(&stable, "note late --stride -2").done(
        "stated the notes on strides of approach `oxer-1`\ndoubt: the note on stride −2 of approach `oxer-1` is shown nowhere: it has 1 stride",
    );
    assert_eq!(value("/approaches/0/stride_notes/1"), json!({ "stride": -2, "text": "late" }));
    mark(&stable, "round --horse Flint --slope -1.5")
        .done("stated the round: Mira, Flint, 1.5 % downhill");
    assert_eq!(value("/round/weather"), "drizzle");
    mark(&stable, "camera --turning --sway 0.05")
        .done("stated the camera: turning, sway 0.05 m, 1.6 ± 0.3 m above the ground");
    assert_eq!(value("/camera/motion"), json!({ "kind": "turning", "sway_sd_m": 0.05 }));
    mark(&stable, "slow-motion 8").done("stated that the clip plays 8 times slower than life");
    mark(&stable, "move oxer-1/lh-90 --by -0.25,2")
        .done("moved footfall `lh-90` of approach `oxer-1` on frame 90 by (-0.25, 2) px");
    assert_eq!(value("/approaches/0/footfalls/0/mark/x"), 700.0);
    mark(&stable, "remove mark rails/1/left")
        .done("removed the mark of the left end of pole 1 of `rails` on frame 40");
    mark(&stable, "remove footfall oxer-1/lh-90")
        .done("removed footfall `lh-90` of approach `oxer-1`");
    assert_eq!(run(&stable, "check", "--list").code, Some(0));
}

#[test]
fn the_first_footfall_begins_its_approach() {
    let mut file = marks_json();
    file["approaches"] = json!([]);
    let stable = Stable::with(&file.to_string());
    mark(&stable, "footfall --limb leading-hind --frame 90 --at 650,612").done(
        "added approach `oxer-1`, added footfall `lh-90` of approach `oxer-1` on frame 90 at (650, 612), leading hind, stride",
    );
    file["fences"] = json!([]);
    let stable = Stable::with(&file.to_string());
    mark(&stable, "footfall --limb leading-hind --frame 90 --at 650,612").refused(
        1,
        "error: cannot mark a footfall: the file has no fence yet\n\
         hint: `groundline mark MARKS fence --kind oxer` adds one",
    );
}

#[test]
fn undo_redo_and_backup() {
    let stable = Stable::new();
    let start: Value = stable.json();
    mark(&stable, "undo")
        .refused(1, "error: cannot undo in `lesson.marks.json`: there is nothing to undo");
    mark(&stable, "round --rider Ada").done("stated the round: Ada, Pebble");
    let ada = stable.text();
    mark(&stable, "tie b --frame 40 --at 3,4")
        .done("added tie `b`, marked tie `b` on frame 40 at (3, 4)");
    let tied = stable.text();
    assert_eq!(std::fs::read_to_string(stable.path("lesson.marks.json.backup")).unwrap(), ada);
    assert_eq!(
        stable.names(),
        ["lesson.marks.json", "lesson.marks.json.backup", "lesson.marks.undo.json"]
    );
    mark(&stable, "undo").done("undone: added tie `b`, marked tie `b` on frame 40 at (3, 4)");
    assert_eq!(stable.text(), ada);
    mark(&stable, "redo").done("redone: added tie `b`, marked tie `b` on frame 40 at (3, 4)");
    assert_eq!(stable.text(), tied);
    mark(&stable, "undo 9")
        .done("undone: added tie `b`, marked tie `b` on frame 40 at (3, 4)\nundone: stated the round: Ada, Pebble\nnote: no more than 2 changes could be undone");
    assert_eq!(stable.json()["round"], {
        let mut round = start["round"].clone();
        for key in ["place", "surface", "note"] {
            round[key] = json!("");
        }
        round
    });
    // A file changed by hand has no undo list any more, and says so.
    mark(&stable, "redo").done("redone: stated the round: Ada, Pebble");
    std::fs::write(stable.marks(), stable.text().replace("drizzle", "sun")).unwrap();
    mark(&stable, "undo").refused(
        1,
        "error: cannot undo or redo in `lesson.marks.json`: `lesson.marks.undo.json` belongs to another state of the file (it was changed since without the list)\n\
         hint: what was done before cannot be taken back; new changes can",
    );
    let said = mark(&stable, "round --rider Bea");
    assert_eq!(
        said.out,
        "stated the round: Bea, Pebble\nnote: what was done before cannot be undone: the undo list belongs to another state of the file (it was changed since without the list)\n"
    );
    mark(&stable, "undo").done("undone: stated the round: Bea, Pebble");
    assert_eq!(stable.json()["round"]["weather"], "sun");
}

#[test]
fn a_list_of_edits_is_one_step_or_none() {
    let stable = Stable::new();
    let list = |edits: Value| std::fs::write(stable.path("edits.json"), edits.to_string()).unwrap();
    let words = format!("--edits {}", stable.path("edits.json").display());
    let tie = |id: &str, x: f64| {
        json!({ "edit": "tie", "change": "add", "thing": {
            "id": id, "marks": [{ "frame": 40, "x": x, "y": 6.5, "sd_px": 1.0 }] } })
    };
    list(json!([tie("b", 5.5), tie("c", -5.5)]));
    let before = stable.text();
    mark(&stable, &words).refused(
        1,
        "error: cannot add tie `b`, add tie `c`: tie `c` on frame 40: it lies at (-5.5, 6.5), outside the picture of 1280 × 720 px",
    );
    assert_eq!(stable.text(), before);
    list(json!([tie("b", 5.5), tie("c", 7.5)]));
    mark(&stable, &words).done("added tie `b`, added tie `c`");
    mark(&stable, "undo").done("undone: added tie `b`, added tie `c`");
    list(json!([{ "edit": "jump" }]));
    let said = mark(&stable, &words).err;
    assert!(
        said.starts_with("error: cannot read the edits: `jump` is not known (one of "),
        "{said}"
    );
    mark(&stable, "--edits gone.json")
        .refused(1, "error: cannot read the edits: there is no such file or folder (`gone.json`)");
}

#[test]
fn unknown_keys_are_kept() {
    let stable = Stable::new();
    mark(&stable, "round --rider Ada").done("stated the round: Ada, Pebble");
    mark(&stable, "pole-end rails 1 right --frame 40 --at 5,6")
        .done("marked the right end of pole 1 of `rails` on frame 40 at (5, 6)");
    mark(&stable, "undo")
        .done("undone: marked the right end of pole 1 of `rails` on frame 40 at (5, 6)");
    let text = stable.text();
    for key in [
        "clock", "codec", "weather", "colour", "\"by\"", "bought", "cups", "seen", "tone", "mood",
        "planner",
    ] {
        assert!(text.contains(key), "{key} is gone");
    }
}

#[test]
fn check_says_what_is_there_and_what_is_not() {
    let stable = Stable::new();
    let here = stable.path("").display().to_string();
    let said = run(&stable, "check", "--list");
    Said { out: said.out.replace(here.trim_end_matches('/'), "HERE"), ..said }.done(
        "fine: `lesson.marks.json` keeps every rule

marked:
  clip `lesson.mp4`: 1280 × 720 px, 300 frames
  round: Mira, Pebble
  camera: fixed, 1.6 ± 0.3 m above the ground
  poles `rails`: 4 poles, 3 ± 0.01 m apart, 3.5 ± 0.02 m long; 1 of 8 points marked
  fence `oxer` (oxer, White oxer): 0 base points marked
  approach `oxer-1` to fence `oxer`: 1 footfall (leading hind 1)

marks:
  rails/1/left  frame     40    512.30,   600.40  ± 1 px
  oxer-1/lh-90  frame     90    700.25,   610.50  ± 1.5 px

missing:
  no clip `lesson.mp4` in the folder `HERE`: `measure` works without it; pictures and marks on new frames need it
  1 of 8 points of poles `rails` are marked (2 or more needed)
  the take-off base of fence `oxer` is not marked: no take-off distance
  the landing base of fence `oxer` is not marked and no spread is stated: no landing distance
  no hind limb is marked twice in approach `oxer-1`: no stride yet
  no take-off in approach `oxer-1`: no take-off distance, and strides count back from the last contact marked
  no landing in approach `oxer-1`: no landing distance",
    );
}

#[test]
fn check_says_of_bases_and_hidden_hooves_what_measure_does() {
    let stable = Stable::new();
    mark(&stable, "base oxer take-off-left --frame 90 --at 900,500");
    mark(&stable, "footfall lh-90 --hidden");
    let said = run(&stable, "check", "--list").out;
    let one_end = "only one end of the take-off base of fence `oxer` is marked: it is taken as square to the track, and its distance has a doubt";
    assert!(said.contains(one_end), "{said}");
    assert!(!said.contains("base of fence `oxer` is not marked: no take-off"), "{said}");
    assert!(said.contains("  oxer-1/lh-90        frame     90    hidden\n"), "{said}");
    mark(&stable, "base oxer take-off-right --frame 90 --at 900,600");
    mark(&stable, "fence oxer --spread 1.2");
    assert!(!run(&stable, "check", "").out.contains(" base of fence"));
}

#[test]
fn the_only_approach_is_restated_and_a_second_must_be_meant() {
    let stable = Stable::new();
    mark(&stable, "approach --lead left").done("changed approach `oxer-1`");
    assert_eq!(stable.json()["approaches"][0]["lead"], "left");
    mark(&stable, "approach --fence oxer").done("added approach `oxer-2`");
    mark(&stable, "approach --lead right").refused(
        2,
        "error: cannot tell which approach is meant: the file has 2 (`oxer-1`, `oxer-2`)\n\
         hint: put its id after `approach`",
    );
    mark(&stable, "approach third --fence oxer").done("added approach `third`");
}

#[test]
fn what_is_not_stated_yet_is_said_with_how_to_state_it() {
    let stable = Stable::new();
    mark(&stable, "point tape/from --frame 40 --at 5,6").refused(
        1,
        "error: cannot find `tape/from`: no place of the file is called so\n\
         hint: state it first: `groundline mark MARKS distance tape --length 12.0`",
    );
    mark(&stable, "pole-end bars 1 left --frame 40 --at 5,6").refused(
        1,
        "error: cannot mark poles `bars`: not stated yet (the file has `rails`)\n\
         hint: state it first, such as `groundline mark MARKS poles bars --count 4 --spacing 3.0 --length 3.5`",
    );
    mark(&stable, "base wall take-off-left --frame 40 --at 5,6").refused(
        1,
        "error: cannot mark fence `wall`: not stated yet (the file has `oxer`)\n\
         hint: state it first, such as `groundline mark MARKS fence wall --kind vertical`",
    );
    let nothing = mark(&stable, "--edits x.json undo");
    nothing.refused(
        2,
        "error: cannot make the changes of --edits and another at once\nhint: use one command for each",
    );
    assert_eq!(mark(&stable, "").code, Some(2));
}

#[test]
fn a_footfall_goes_by_its_short_id_where_only_one_has_it() {
    let stable = Stable::new();
    mark(&stable, "move lh-90 --by \u{2212}0.25,2")
        .done("moved footfall `lh-90` of approach `oxer-1` on frame 90 by (-0.25, 2) px");
    mark(&stable, "approach second --fence oxer");
    mark(&stable, "footfall --approach second --limb leading-hind --frame 90 --at 650,612");
    mark(&stable, "remove footfall lh-90").refused(
        2,
        "error: cannot tell which footfall `lh-90` is meant: `oxer-1/lh-90`, `second/lh-90`\n\
         hint: put its approach before it",
    );
    mark(&stable, "remove footfall second/lh-90")
        .done("removed footfall `lh-90` of approach `second`");
}

#[test]
fn a_note_may_be_typed_as_it_is_printed_and_none_is_lost_unseen() {
    let stable = Stable::new();
    mark(&stable, "note fine --stride \u{2212}2")
        .done("stated the notes on strides of approach `oxer-1`");
    assert_eq!(stable.json()["approaches"][0]["stride_notes"][1]["stride"], -2);
    let said = mark(&stable, "footfall --limb leading-hind --frame 40 --at 650,612").out;
    let doubt =
        "doubt: the note on stride −2 of approach `oxer-1` is shown nowhere: it has 1 stride\n";
    assert!(said.ends_with(doubt), "{said}");
}

#[test]
fn many_points_come_from_a_table() {
    let mut file = marks_json();
    file["approaches"] = json!([]);
    let stable = Stable::with(&file.to_string());
    let table = |text: &str| std::fs::write(stable.path("t.csv"), text).unwrap();
    let words = format!("points {}", stable.path("t.csv").display());
    table(
        "\u{feff}place,frame,x,y,sd,event\r\n# the poles\r\nrails/1/right,40,500.5,620,,\r\n\
         oxer/take-off-left, 90, 900, 500,2\r\nleading-hind,40,650,612\r\n\
         leading-hind,90,,,,take-off\r\n",
    );
    mark(&stable, &words)
        .done("marked the right end of pole 1 of `rails` on frame 40 at (500.5, 620), and 4 more");
    let found = stable.json();
    assert_eq!(found["fences"][0]["take_off_base"]["left"][0]["sd_px"], 2.0);
    let footfalls = &found["approaches"][0]["footfalls"];
    assert_eq!((&footfalls[0]["id"], &footfalls[1]["id"]), (&json!("lh-40"), &json!("lh-90")));
    assert_eq!(
        (&footfalls[1]["hidden"], &footfalls[1]["event"]),
        (&json!(true), &json!("take_off"))
    );
    mark(&stable, "undo");
    assert_eq!(stable.json()["approaches"], json!([]));
    let before = stable.text();
    for (text, error) in [
        ("place,frame,x\na,1,2\n", "it has no column `y`"),
        ("place,frame,x,y,why\n", "its first line has `why`"),
        ("place,frame,x,y\n", "it holds no point"),
        (
            "place,frame,x,y\nrails/1/left,40,5,6\nbars/1/left,40,5,6\n",
            "cannot use line 3 of `t.csv`: cannot find `bars/1/left`",
        ),
        (
            "place,frame,x,y\nrails/1/left,40,5\n",
            "its x and y: both or, for a hidden hoof, none needed",
        ),
        ("place,frame,x,y\nrails/1/left,-4,5,6\n", "its frame: a whole number, 0 or more, needed"),
        (
            "place,frame,x,y,event\nleading-hind,40,5,6,jump\n",
            "its event: stride, take-off, landing or away needed",
        ),
        ("place,frame,x,y\nrails/1/left,40,5000,6\n", "outside the picture of 1280 × 720 px"),
    ] {
        table(text);
        let said = mark(&stable, &words);
        assert_eq!((said.code, stable.text() == before), (Some(1), true), "{}", said.err);
        assert!(said.err.contains(error), "{text}: {}", said.err);
    }
}

#[test]
fn check_lists_every_breach() {
    let mut file = marks_json();
    file["round"]["date"] = json!("yesterday");
    file["references"][0]["count"] = json!(0);
    let stable = Stable::with(&file.to_string());
    let said = run(&stable, "check", "");
    assert_eq!(said.code, Some(1));
    assert_eq!(
        said.out,
        "breach: the round: the date is `yesterday` (a day of the calendar as YYYY-MM-DD needed)\n\
         breach: reference `rails`: the number of poles is 0 (1 to 100 needed)\n\
         breach: left end of pole 1 of `rails`: the reference has no poles\n"
    );
    assert_eq!(
        said.err,
        "error: cannot measure from `lesson.marks.json`: 3 rules are broken\nhint: correct them in a text editor\n"
    );
}

/// Runs a change in a shell that lets files grow to 512 bytes only. With `ignored`, a write
/// beyond that fails as on a full disk; without, the system ends the program in mid-write.
#[cfg(target_os = "linux")]
fn with_little_room(stable: &Stable, ignored: bool) -> Output {
    let trap = if ignored { "trap '' XFSZ;" } else { "" };
    let script = format!("{trap} ulimit -f 1; exec \"$@\"");
    let mut shell = Command::new("sh");
    shell.args(["-c", &script, "sh", env!("CARGO_BIN_EXE_groundline"), "mark"]);
    shell.arg(stable.marks()).args(["round", "--rider", "Ada"]).output().unwrap()
}

#[cfg(target_os = "linux")]
#[test]
fn a_save_that_fails_or_is_killed_leaves_the_old_file() {
    let stable = Stable::new();
    let before = stable.text();
    let said = Said::of(with_little_room(&stable, true), &stable);
    said.refused(
        1,
        "error: cannot save `lesson.marks.json`: the file would be larger than is allowed (nothing was changed)",
    );
    assert_eq!(stable.names(), ["lesson.marks.json"]);
    let killed = with_little_room(&stable, false);
    assert_eq!(killed.status.code(), None, "ended by a signal");
    assert_eq!(stable.text(), before);
    // What the killed one left lying about does not stand in the way.
    mark(&stable, "round --rider Ada").done("stated the round: Ada, Pebble");
    assert_eq!(stable.json()["round"]["rider"], "Ada");
}

#[test]
fn the_kept_schema_is_current() {
    for (words, name) in [
        (&["schema"][..], "fixtures/marks.schema.json"),
        (&["schema", "--measurement"], "fixtures/measurement.schema.json"),
        (&["schema", "--plan"], "fixtures/plan.schema.json"),
        (&["schema", "--weeks"], "fixtures/weeks.schema.json"),
        (&["schema", "--reading"], "fixtures/reading.schema.json"),
        (&["schema", "--stand"], "fixtures/stand.schema.json"),
    ] {
        let output = groundline().args(words).output().unwrap();
        let printed = String::from_utf8(output.stdout).unwrap();
        let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join(name);
        let text = std::fs::read_to_string(&kept).unwrap_or_default();
        let words = words.join(" ");
        assert!(printed == text, "{name} is old: run `groundline {words} > {name}`");
    }
    let edits = groundline().args(["schema", "--edits"]).output().unwrap();
    let edits: Value = serde_json::from_slice(&edits.stdout).unwrap();
    assert_eq!(edits["type"], "array");
}
