//! `reading`: what the numbers support, run as the real program.

use groundline::arena::{Clicking, Scene, Truth, marks};
use serde_json::Value;

use crate::program::groundline;

struct Told {
    code: Option<i32>,
    out: String,
    err: String,
}

fn round(
    scene: &Scene,
    change: impl FnOnce(&mut groundline::marks::MarksFile),
) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let truth = Truth::of(scene).unwrap();
    let mut file = marks(scene, &truth, &Clicking::with_sd(0.5, 3));
    change(&mut file);
    let text = serde_json::to_string_pretty(&file).unwrap();
    std::fs::write(folder.path().join("round.marks.json"), text).unwrap();
    folder
}

fn reading(folder: &tempfile::TempDir, words: &[&str]) -> Told {
    let mut command = groundline();
    command.arg("reading").arg(folder.path().join("round.marks.json")).args(words);
    let output = command.output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    Told { code: output.status.code(), out: text(output.stdout), err: text(output.stderr) }
}

#[test]
fn an_approach_is_read_to_coach_and_rider_against_the_coachs_settings() {
    let folder = round(&Scene::died_and_deep(103), |_| {});
    let coach = reading(&folder, &[]);
    assert_eq!(coach.code, Some(0), "{}", coach.err);
    let lines: Vec<&str> = coach.out.lines().collect();
    assert!(
        lines[1].starts_with("  The canter died on the way, by its signs: strides shrink by "),
        "{lines:?}"
    );
    assert!(lines[2].starts_with("  Deep: take-off "), "{lines:?}");
    assert!(coach.out.contains("not a permit to jump"), "{}", coach.out);
    let rider = reading(&folder, &["--for", "rider"]);
    assert!(rider.out.contains("  It looks as if your canter died on the way"), "{}", rider.out);
    // A zone that holds the take-off, and neither fault nor deep are left.
    let near =
        reading(&folder, &["--zone", "0.6", "--zone-within", "0.4", "--level-within", "0.8"]);
    assert!(!near.out.contains("died") && !near.out.contains("Deep"), "{}", near.out);
    assert!(near.out.contains("Level within 0.80 m of the mean"), "{}", near.out);
    let feet = reading(&folder, &["--units", "ft"]);
    assert!(feet.out.contains("nearer than 3 ft"), "{}", feet.out);
}

#[test]
fn readings_are_json_too_and_names_can_be_left_off() {
    let folder = round(&Scene::level(103), |file| {
        file.round.horse = "Juniper".into();
        file.fences[0].name = "Juniper's gate".into();
    });
    let json = reading(&folder, &["--json", "--no-names"]);
    let all: Value = serde_json::from_str(&json.out).unwrap();
    let first = &all["approaches"][0];
    assert_eq!(first["reading"]["level"]["is_level"]["answer"], "yes");
    assert_eq!(first["reading"]["pace"]["is_one_at_most"]["answer"], "yes");
    assert_eq!(first["sentences"][0]["key"], "level_yes");
    assert_eq!(first["sentences"][0]["strides"].as_array().unwrap().len(), 6);
    assert!(!json.out.contains("Juniper"), "{}", json.out);
    let plain = reading(&folder, &["--no-names"]);
    assert!(plain.out.contains("to the horse's gate"), "{}", plain.out);
}

#[test]
fn another_language_is_a_file() {
    let folder = round(&Scene::level(103), |_| {});
    let table = groundline().args(["schema", "--texts"]).output().unwrap();
    let mut table: Value = serde_json::from_slice(&table.stdout).unwrap();
    table["sentences"]["level_yes"]["coach"] = "Gleichmäßig bis {within} ({probability}).".into();
    let path = folder.path().join("de.json");
    std::fs::write(&path, table.to_string()).unwrap();
    let path = path.to_string_lossy().into_owned();
    let told = reading(&folder, &["--texts", &path]);
    assert!(told.out.contains("Gleichmäßig bis 0.30 m (over 99 %)."), "{}{}", told.out, told.err);
    std::fs::write(&path, "{}").unwrap();
    let refused = reading(&folder, &["--texts", &path]);
    assert_eq!(refused.code, Some(1));
    assert!(refused.err.contains("cannot use the table of texts"), "{}", refused.err);
    assert!(refused.err.contains("schema --texts"), "{}", refused.err);
}

#[test]
fn an_approach_that_is_not_there_is_refused() {
    let folder = round(&Scene::level(103), |_| {});
    let refused = reading(&folder, &["--approach", "second"]);
    assert_eq!((refused.code, refused.out.as_str()), (Some(1), ""));
    assert!(refused.err.contains("it holds `approach-1`"), "{}", refused.err);
}
