//! `groundline weeks` on rounds of known truth: one horse, one fence, three weeks.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use groundline::arena::{Clicking, Scene, Truth, marks};
use groundline::marks::MarksFile;
use groundline::store::save;
use serde_json::Value;
use tempfile::TempDir;

use crate::program::groundline;

/// A folder of rounds and a folder for what the program keeps.
struct Library {
    rounds: TempDir,
    kept: TempDir,
}

struct Answer {
    code: Option<i32>,
    out: String,
    err: String,
}

fn round(scene: &Scene, date: Option<&str>, seed: u64) -> MarksFile {
    let truth = Truth::of(scene).unwrap();
    let mut file = marks(scene, &truth, &Clicking::usual(seed));
    file.round.date = date.map(Into::into);
    file.round.horse = "Copper".into();
    file.round.rider = "Ada".into();
    file.fences[0].name = "Blue vertical".into();
    file
}

/// Eased and pushed, then better, then level.
fn three_weeks() -> [MarksFile; 3] {
    let mut better = Scene::level(32);
    better.ride.strides_m = vec![3.50, 3.38, 3.27, 3.36, 3.52, 3.40, 3.35];
    let mut level = Scene::level(33);
    level.ride.strides_m = vec![3.47, 3.52, 3.50, 3.46, 3.53, 3.50, 3.49];
    level.filming = Scene::eased_then_pushed(31).filming;
    better.filming = level.filming;
    [
        round(&Scene::eased_then_pushed(31), Some("2026-04-04"), 1),
        round(&better, Some("2026-04-11"), 2),
        round(&level, Some("2026-04-18"), 3),
    ]
}

impl Library {
    fn new() -> Self {
        Self { rounds: TempDir::new().unwrap(), kept: TempDir::new().unwrap() }
    }

    /// Three weeks, named so that the order of names is not that of dates.
    fn of_three_weeks() -> Self {
        let library = Self::new();
        std::fs::create_dir(library.path("spring")).unwrap();
        for (name, file) in ["spring/c", "b", "a"].into_iter().zip(three_weeks()) {
            library.put(name, &file);
        }
        library
    }

    fn path(&self, name: &str) -> PathBuf {
        self.rounds.path().join(name)
    }

    fn put(&self, name: &str, file: &MarksFile) {
        save(&self.path(&format!("{name}.marks.json")), file).unwrap();
    }

    fn weeks(&self, words: &[&str]) -> Answer {
        let mut program = groundline();
        program.env("XDG_CACHE_HOME", self.kept.path()).arg("weeks").arg(self.rounds.path());
        let output = program.args(words).output().unwrap();
        let folder = self.rounds.path().display().to_string();
        let text = |bytes| String::from_utf8(bytes).unwrap().replace(&folder, "FOLDER");
        Answer { code: output.status.code(), out: text(output.stdout), err: text(output.stderr) }
    }

    fn json(&self, words: &[&str]) -> Value {
        let answer = self.weeks(&[words, &["--json"]].concat());
        assert_eq!((answer.code, answer.err.as_str()), (Some(0), ""), "{}", answer.out);
        serde_json::from_str(&answer.out).unwrap()
    }

    fn kept(&self) -> BTreeMap<PathBuf, Vec<u8>> {
        contents(self.kept.path())
    }
}

/// Every file below a folder with its bytes.
fn contents(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut found = BTreeMap::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(contents(&path));
        } else {
            found.insert(path.clone(), std::fs::read(&path).unwrap());
        }
    }
    found
}

#[test]
fn three_weeks_of_one_horse_stand_in_order_and_what_became_more_even_is_said() {
    let library = Library::of_three_weeks();
    let weeks = library.json(&[]);
    let fence = &weeks["fences"][0];
    assert_eq!(fence["fence"], "Blue vertical");
    let files: Vec<&str> =
        (0..3).map(|i| fence["approaches"][i]["file"].as_str().unwrap()).collect();
    assert_eq!(files, ["spring/c.marks.json", "b.marks.json", "a.marks.json"]);
    // True: 12.9 %, 2.6 %, 0.7 %; 1.30 m and 1.80 m.
    let change = &fence["last_against_first"];
    for number in ["variation_percent", "range_m"] {
        let change = &change[number];
        assert_eq!(change["more_than_its_uncertainty"], true, "{change}");
        assert!(change["probability_larger"].as_f64().unwrap() < 0.001, "{change}");
    }
    let take_off = &change["take_off_m"];
    assert!(take_off["probability_larger"].as_f64().unwrap() > 0.99, "{take_off}");
    let low_high = [&take_off["difference"]["low95"], &take_off["difference"]["high95"]];
    let [low, high] = low_high.map(|end| end.as_f64().unwrap());
    assert!(low < 0.5 && 0.5 < high, "{take_off}");
    let changes: Vec<u64> =
        (0..3).map(|i| fence["approaches"][i]["pace_changes"]["count"].as_u64().unwrap()).collect();
    assert_eq!((changes[0], changes[2]), (3, 0), "{changes:?}");
    let strides = fence["strides"].as_array().unwrap();
    assert_eq!(strides.len(), 7);
    assert_eq!((&strides[0]["number"], &strides[6]["count"]), (&(-7).into(), &3.into()));
}

#[test]
fn damaged_and_foreign_files_are_named_and_no_file_is_touched() {
    let library = Library::of_three_weeks();
    let whole = std::fs::read_to_string(library.path("a.marks.json")).unwrap();
    std::fs::write(library.path("copy of a.marks.json"), &whole).unwrap();
    std::fs::write(library.path("torn.marks.json"), &whole[..whole.len() / 2]).unwrap();
    std::fs::write(library.path("foreign.marks.json"), "{\"type\": \"other\"}\n").unwrap();
    std::fs::write(library.path("empty.marks.json"), "").unwrap();
    std::fs::write(library.path("notes.txt"), "not ours\n").unwrap();
    let before = contents(library.rounds.path());
    let weeks = library.json(&[]);
    let skipped: Vec<&str> =
        (0..4).map(|i| weeks["skipped"][i]["file"].as_str().unwrap()).collect();
    let expected = ["copy of a", "empty", "foreign", "torn"].map(|n| format!("{n}.marks.json"));
    assert_eq!(skipped, expected);
    assert_eq!(weeks["fences"][0]["approaches"].as_array().unwrap().len(), 3);
    let said = library.weeks(&[]);
    assert_eq!(said.code, Some(0));
    for line in [
        "skipped: cannot read `FOLDER/empty.marks.json`: the file is empty (a marks file needed)",
        "skipped: cannot count `copy of a.marks.json`: it is a copy of `a.marks.json`",
    ] {
        assert!(said.out.contains(line), "{}", said.out);
    }
    assert_eq!(contents(library.rounds.path()), before);
}

#[test]
fn what_was_measured_before_gives_the_same_answer_until_the_marks_change() {
    let library = Library::of_three_weeks();
    let first = library.json(&[]);
    let kept = library.kept();
    assert_eq!(kept.len(), 3);
    assert_eq!(library.json(&[]), first);
    assert_eq!(library.kept(), kept);
    // Every entry spoilt: measured again, to the same numbers, and kept again.
    for path in kept.keys() {
        std::fs::write(path, "spoilt").unwrap();
    }
    assert_eq!(library.json(&[]), first);
    assert_eq!(library.kept(), kept);
    // Other marks: another answer.
    let [mut file, ..] = three_weeks();
    file.approaches[0].note = "again".into();
    library.put("spring/c", &file);
    assert_eq!(library.json(&[])["fences"][0]["approaches"][0]["notes"][0], "again");
    assert_eq!(library.kept().len(), 4);
}

#[test]
fn rounds_of_one_choice_and_the_names_when_there_is_none() {
    let library = Library::of_three_weeks();
    let mut other = three_weeks()[2].clone();
    other.round.horse = "Pebble".into();
    other.round.date = None;
    library.put("d", &other);
    let count = |weeks: &Value| weeks["fences"][0]["approaches"].as_array().unwrap().len();
    let mixed = library.json(&[]);
    assert_eq!(count(&mixed), 4);
    let doubts: Vec<&str> =
        (0..2).map(|i| mixed["fences"][0]["doubts"][i]["doubt"].as_str().unwrap()).collect();
    assert_eq!(doubts, ["undated", "several_horses"]);
    assert_eq!(count(&library.json(&["--horse", "copper"])), 3);
    assert_eq!(count(&library.json(&["--horse", "Pebble", "--fence", "BLUE VERTICAL"])), 1);
    let refused = library.weeks(&["--horse", "Juno", "--rider", "Ada"]);
    assert_eq!((refused.code, refused.out.as_str()), (Some(1), ""));
    assert_eq!(
        refused.err,
        "error: cannot compare: no approach has horse `Juno` and rider `Ada` (found: horses \
         `Copper`, `Pebble`; riders `Ada`)\nhint: a name must be written in full; large and small \
         letters are the same\n"
    );
}

#[test]
fn names_are_left_off_everything_that_is_handed_on() {
    let library = Library::new();
    for (name, mut file) in ["Copper 1", "Copper 2", "Copper 3"].into_iter().zip(three_weeks()) {
        file.fences[0].name = "Copper's vertical".into();
        file.approaches[0].note = "Ada waited".into();
        library.put(name, &file);
    }
    std::fs::write(library.path("Copper 4.marks.json"), "").unwrap();
    let csv = library.path("weeks.csv");
    for words in [&["--json"][..], &[], &["--csv", csv.to_str().unwrap()]] {
        let said = library.weeks(&[words, &["--no-names"]].concat());
        assert_eq!(said.code, Some(0), "{}", said.err);
        assert!(!said.out.contains("Copper") && !said.out.contains("Ada"), "{}", said.out);
        assert!(said.out.contains("the horse's vertical"), "{}", said.out);
    }
    let csv = std::fs::read_to_string(csv).unwrap();
    assert!(!csv.contains("Copper") && !csv.contains("Ada"), "{csv}");
}

#[test]
fn a_table_has_a_row_an_approach_and_its_units_in_the_heads() {
    let library = Library::of_three_weeks();
    let path = library.path("weeks.csv");
    let said = library.weeks(&["--units", "ft", "--csv", path.to_str().unwrap()]);
    assert_eq!(said.code, Some(0), "{}", said.err);
    let bytes = std::fs::read(&path).unwrap();
    let mut table = csv::Reader::from_reader(&bytes[..]);
    let heads = table.headers().unwrap().clone();
    let at = |head: &str| heads.iter().position(|one| one == head).unwrap();
    let rows: Vec<csv::StringRecord> = table.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 3);
    let dates: Vec<&str> = rows.iter().map(|row| &row[at("date")]).collect();
    assert_eq!(dates, ["2026-04-04", "2026-04-11", "2026-04-18"]);
    let mean: f64 = rows[2][at("mean_ft")].parse().unwrap();
    assert!((mean - 3.496 / 0.3048).abs() < 0.4, "{mean}");
    assert!(!rows[0][at("take_off_ft_low95")].is_empty());
}

#[test]
fn a_page_is_set_beside_any_answer() {
    let library = Library::of_three_weeks();
    let pdf = library.kept.path().join("weeks.pdf");
    let said = library.weeks(&["--json", "-o", pdf.to_str().unwrap()]);
    assert_eq!(said.code, Some(0), "{}", said.err);
    assert!(serde_json::from_str::<Value>(&said.out).is_ok(), "{}", said.out);
    assert!(std::fs::read(&pdf).unwrap().starts_with(b"%PDF"));
    let refused = library.weeks(&["-o", "weeks.txt"]);
    assert_eq!((refused.code, refused.out.as_str()), (Some(2), ""));
    assert!(refused.err.contains("`.txt` (.pdf or .png needed)"), "{}", refused.err);
}

#[test]
fn folders_without_rounds_are_refused_with_what_is_needed() {
    let library = Library::new();
    let refused = library.weeks(&[]);
    assert_eq!(refused.code, Some(1));
    assert!(
        refused.err.starts_with("error: cannot compare: there is no marks file in `FOLDER` ("),
        "{}",
        refused.err
    );
    std::fs::write(library.path("empty.marks.json"), "").unwrap();
    let refused = library.weeks(&[]);
    assert!(refused.err.contains("none of the 1 marks files in `FOLDER` can be measured"));
    let mut program = groundline();
    let gone = program.arg("weeks").arg(library.path("gone")).output().unwrap();
    let gone = String::from_utf8(gone.stderr).unwrap();
    assert!(gone.contains("there is no such folder\nhint: "), "{gone}");
    let mut program = groundline();
    let file = program.arg("weeks").arg(library.path("empty.marks.json")).output().unwrap();
    let file = String::from_utf8(file.stderr).unwrap();
    assert!(file.contains("it is a file (a folder with marks files needed)\nhint: "), "{file}");
}
