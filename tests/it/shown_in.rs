//! `--shown-in`: what a horse has shown in its other rounds counts where it is said whether it has
//! shown a stride.

use std::path::PathBuf;

use groundline::arena::{Clicking, Scene, Truth, marks};
use groundline::marks::MarksFile;
use groundline::store::save;
use serde_json::Value;
use tempfile::TempDir;

use crate::program::groundline;

/// A round of strides that are all of one length, metres.
pub fn round(horse: &str, length: f64, seed: u64) -> MarksFile {
    let mut scene = Scene::level(seed);
    scene.ride.strides_m = vec![length; 5];
    let mut file = marks(&scene, &Truth::of(&scene).unwrap(), &Clicking::with_sd(0.3, seed));
    file.round.horse = horse.into();
    file
}

/// Rounds of one horse at 3.5 and at 3.25 m, and one of another at 3.7 m.
fn stable() -> TempDir {
    let folder = TempDir::new().unwrap();
    let rounds = [("now", "Copper", 3.5), ("before", " copper", 3.25), ("another", "Flint", 3.7)];
    for ((name, horse, length), seed) in rounds.into_iter().zip(60..) {
        save(&place(&folder, name), &round(horse, length, seed)).unwrap();
    }
    folder
}

fn place(folder: &TempDir, name: &str) -> PathBuf {
    folder.path().join(format!("{name}.marks.json"))
}

fn poles(folder: &TempDir, name: &str, words: &[&str]) -> (Option<i32>, String, String) {
    let output = groundline()
        .env("XDG_CACHE_HOME", folder.path().join(".kept"))
        .arg("poles")
        .arg(place(folder, name))
        .args(["--height", "1.0", "--strides", "5"])
        .args(words)
        .output()
        .unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (output.status.code(), text(output.stdout), text(output.stderr))
}

#[test]
fn a_stride_of_another_week_is_one_the_horse_has_shown() {
    let folder = stable();
    let shown = folder.path().display().to_string();
    let never = "not among those measured of this horse";
    // The shorter version needs 3.5 × 23/24 = 3.35 m, which lies between 3.25 and 3.5 m, a tenth apart at most.
    let needed = |words: &[&str]| {
        let (code, out, err) = poles(&folder, "now", &[words, &["--json"]].concat());
        assert_eq!((code, err.as_str()), (Some(0), ""));
        let plan: Value = serde_json::from_str(&out).unwrap();
        let rounds = plan["asked"]["stride"]["shown"]["rounds"].as_u64().unwrap();
        let shorter = &plan["distances"][0]["shorter"];
        let warned = shorter["warnings"].to_string().contains("never_shown");
        (rounds, warned)
    };
    assert_eq!(needed(&[]), (1, true));
    assert_eq!(needed(&["--shown-in", &shown]), (2, false));
    let (_, out, _) = poles(&folder, "now", &["--shown-in", &shown]);
    assert!(out.contains("in 2 rounds") && out.contains(never), "the longer version:\n{out}");
}

#[test]
fn what_cannot_be_counted_is_said_and_a_horse_must_have_a_name() {
    let folder = stable();
    let shown = folder.path().display().to_string();
    std::fs::write(place(&folder, "broken"), "{").unwrap();
    let (code, out, _) = poles(&folder, "now", &["--shown-in", &shown]);
    assert_eq!(code, Some(0));
    assert!(out.contains("not counted among what the horse has shown"), "{out}");
    assert!(out.contains("in 2 rounds, 1 marks file left out"), "{out}");
    save(&place(&folder, "nameless"), &round("", 3.4, 70)).unwrap();
    let (code, _, err) = poles(&folder, "nameless", &["--shown-in", &shown]);
    assert_eq!(code, Some(1));
    assert!(err.starts_with("error: cannot tell which rounds are of this horse"), "{err}");
    let (code, _, _) = poles(&folder, "now", &["--shown-in", &shown, "--stride", "3.5"]);
    assert_eq!(code, Some(2), "a typed stride is no horse's");
}
