//! A small marks file and a folder for it. The numbers are invented.

use std::path::PathBuf;

use serde_json::{Value, json};
use tempfile::TempDir;

/// A folder that holds `lesson.marks.json`.
pub struct Stable {
    folder: TempDir,
}

impl Stable {
    /// With the usual file.
    pub fn new() -> Self {
        Self::with(&format!("{:#}\n", marks_json()))
    }

    /// With this text as its file.
    pub fn with(text: &str) -> Self {
        let stable = Self { folder: TempDir::new().unwrap() };
        std::fs::write(stable.marks(), text).unwrap();
        stable
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn marks(&self) -> PathBuf {
        self.path("lesson.marks.json")
    }

    pub fn text(&self) -> String {
        std::fs::read_to_string(self.marks()).unwrap()
    }

    pub fn json(&self) -> Value {
        serde_json::from_str(&self.text()).unwrap()
    }

    /// Names of all files in it, sorted.
    pub fn names(&self) -> Vec<String> {
        let entries = std::fs::read_dir(self.folder.path()).unwrap();
        let mut names: Vec<String> =
            entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }
}

/// Poles of which one end is marked, a fence and an approach, with keys no version knows.
pub fn marks_json() -> Value {
    json!({
        "groundline_marks": 1,
        "clip": {
            "file": "lesson.mp4",
            "size_bytes": 11,
            "blake3": blake3::hash(b"hello clip\n").to_hex().to_string(),
            "picture": { "width": 1280, "height": 720 },
            "frame_count": 300,
            "capture_seconds_per_second": 1.0,
            "frames": [
                { "frame": 40, "time_s": 1.3666666666666667, "gap_s": 0.03333333333333333 },
                { "frame": 90, "time_s": 3.0333333333333337, "gap_s": 0.0334, "clock": "odd" }
            ],
            "codec": "ours"
        },
        "round": { "rider": "Mira", "horse": "Pebble", "weather": "drizzle" },
        "camera": { "motion": { "kind": "fixed" } },
        "references": [{
            "id": "rails", "kind": "poles", "count": 4,
            "spacing_m": { "value": 3.0, "sd": 0.01 },
            "length_m": { "value": 3.5, "sd": 0.02 },
            "ends": [{
                "pole": 1, "end": "left", "colour": "red",
                "marks": [{ "frame": 40, "x": 512.3, "y": 600.4, "sd_px": 1.0, "by": "Jo" }]
            }],
            "bought": 2021
        }],
        "fences": [{ "id": "oxer", "name": "White oxer", "kind": "oxer", "cups": "safety" }],
        "approaches": [{
            "id": "oxer-1", "fence": "oxer",
            "footfalls": [{
                "id": "lh-90", "limb": "leading_hind", "seen": "clearly",
                "mark": { "frame": 90, "x": 700.25, "y": 610.5, "sd_px": 1.5 }
            }],
            "stride_notes": [{ "stride": -1, "text": "close", "tone": "kind" }],
            "mood": "calm"
        }],
        "planner": { "page": 7 }
    })
}
