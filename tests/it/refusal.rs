//! Refusing what cannot be used: one error with what was found and needed, at most one hint, the
//! right exit code, and nothing written. With marks that can be measured, to be spoilt.

use std::path::Path;

use groundline::footage::write::{ClipWriter, WriteOptions};
use groundline::marks::{Limb, MarksFile};
use image::{Rgb, RgbImage};
use serde_json::{Value, json};

use crate::laid_out::{filmed, strides};
use crate::program::{Said, groundline};
use crate::sample::Stable;
use crate::support::quick;

/// Six strides up to a take-off, 0.6 s each.
pub fn measurable() -> Value {
    let file: MarksFile = filmed(&[strides(Limb::LeadingHind, &[(3.5, 0.6); 6])], 0.02);
    serde_json::to_value(file).unwrap()
}

pub fn stable_with(file: &Value) -> Stable {
    Stable::with(&format!("{file:#}\n"))
}

/// Measurable marks with a clip of their size and length beside them, known by no hash.
pub fn stable_with_its_clip() -> Stable {
    let mut file = measurable();
    file["clip"]["size_bytes"] = json!(0);
    let stable = stable_with(&file);
    made_clip_of(&stable.path("laid-out.mp4"), (3840, 2160), 8);
    stable
}

/// Twelve small plain frames, 25 a second.
pub fn made_clip(path: &Path) {
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

pub fn say(stable: &Stable, words: &[&str]) -> Said {
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
pub fn one_error(said: &Said, code: i32) {
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
pub fn refused(stable: &Stable, words: &[&str], code: i32, error: &str) {
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
