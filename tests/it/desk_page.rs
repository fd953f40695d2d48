//! The desk's page in a real browser: scripts in `tests/desk`, each run by Node against the real
//! program on a rendered clip of known truth.

use std::io::{BufRead, BufReader, Lines};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdout, Command, Stdio};
use std::sync::OnceLock;
use std::time::{Duration, Instant};

use axum::http::{Method, StatusCode};
use groundline::arena::render::Renderer;
use groundline::arena::{Scene, Truth};
use groundline::footage::write::{ClipWriter, WriteOptions};
use groundline::quantity::{FrameNumber, Unit};
use groundline::store::load;
use groundline::stride::{Draws, measure};
use image::RgbImage;
use rayon::prelude::*;
use serde_json::json;

use crate::served::Served;
use crate::support::{folder, made, quick, skip};

/// The first week of the demo, of which the scripts know where the coach clicks.
fn scene() -> Scene {
    let [first, ..] = Scene::three_weeks(11);
    first
}

/// Its clip, rendered once for all tests.
fn clip() -> &'static Path {
    static CLIP: OnceLock<(tempfile::TempDir, PathBuf)> = OnceLock::new();
    let (_, path) = CLIP.get_or_init(|| {
        let folder = folder();
        let path = folder.path().join("schooling.mp4");
        let scene = scene();
        let truth = Truth::of(&scene).unwrap();
        let renderer = Renderer::new(&scene, &truth);
        let size = (scene.filming.picture.width, scene.filming.picture.height);
        let options = quick(WriteOptions::default());
        let mut writer = ClipWriter::at_rate(&path, size, (60, 1), &options).unwrap();
        let count = truth.frames.len() as u32;
        for first in (0..count).step_by(16) {
            let batch: Vec<RgbImage> = (first..(first + 16).min(count))
                .into_par_iter()
                .map(|number| renderer.frame(FrameNumber(number)))
                .collect();
            for picture in &batch {
                writer.write(picture).unwrap();
            }
        }
        writer.finish().unwrap();
        (folder, path)
    });
    path
}

/// A folder with the clip and another one, and no marks.
fn stable() -> tempfile::TempDir {
    let folder = folder();
    std::fs::copy(clip(), folder.path().join("schooling.mp4")).unwrap();
    let other = folder.path().join("lunge.mp4");
    made(&other, (320, 180), 20, &quick(WriteOptions::default()));
    folder
}

fn scripts() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/desk")
}

/// Whether Node, its packages and a browser are there; says what is missing.
fn browser_is_there() -> bool {
    let answers = |program: &str| {
        let asked = Command::new(program).arg("--version").stdout(Stdio::null()).status();
        asked.is_ok_and(|status| status.success())
    };
    let chromium = std::env::var("CHROMIUM").unwrap_or_else(|_| "chromium".to_owned());
    for program in ["node", &chromium] {
        if !answers(program) {
            skip(&format!("no {program} on the path"));
            return false;
        }
    }
    if !scripts().join("node_modules/playwright-core").is_dir() {
        skip("tests/desk/make-node has not been run");
        return false;
    }
    true
}

/// The real program on a folder.
struct Desk {
    child: Child,
    url: String,
    /// Kept open: a program that cannot say what it has to say ends.
    _said: Lines<BufReader<ChildStdout>>,
}

impl Desk {
    fn on(folder: &Path) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_groundline"))
            .args(["desk", "--no-open"])
            .arg(folder)
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        let told = lines.by_ref().map_while(Result::ok).find(|line| line.contains("http://"));
        let told = told.unwrap();
        let url = told.split(' ').find(|word| word.starts_with("http://")).unwrap().to_owned();
        Self { child, url, _said: lines }
    }
}

impl Drop for Desk {
    fn drop(&mut self) {
        // A test that failed has nothing more to say of a desk that is gone.
        drop(self.child.kill());
        drop(self.child.wait());
    }
}

/// Runs a script and prints what it says.
fn run(script: &str, set: &[(&str, &str)]) {
    let mut command = Command::new("node");
    command.arg(script).current_dir(scripts()).envs(set.iter().copied());
    let done = command.output().unwrap();
    let said = String::from_utf8_lossy(&done.stdout);
    let errors = String::from_utf8_lossy(&done.stderr);
    println!("{said}");
    assert!(done.status.success(), "{script}: {said}{errors}");
}

#[test]
fn the_pages_types_hold() {
    if browser_is_there() {
        run("node_modules/typescript/bin/tsc", &[("NO_COLOR", "1")]);
    }
}

#[test]
fn a_coach_marks_the_clip_from_nothing_to_numbers_near_the_truth() {
    if !browser_is_there() {
        return;
    }
    let stable = stable();
    let desk = Desk::on(stable.path());
    run("marking.js", &[("DESK_URL", &desk.url), ("DESK_KEEP", "1")]);
    drop(desk);
    let file = load(&stable.path().join("schooling.marks.json")).unwrap();
    let (_, measured) = measure(&file, Draws::default()).unwrap();
    let approach = &measured.approaches[0];
    let truth = Truth::of(&scene()).unwrap();
    let of_truth = truth.strides_of(approach.reference_limb);
    assert_eq!(approach.strides.len(), of_truth.len());
    for (row, exact) in approach.strides.iter().zip(of_truth) {
        let found = row.length_m.unwrap();
        // The clicks are rounded to a tenth of a pixel and hooves are told to 1.5 px: within the
        // 95 % interval, or near it for one of seven.
        let off = (found.value.get() - exact.length_m).abs();
        assert!(
            off < 1.5 * found.plus_minus(),
            "stride {}: {found:?} of {}",
            row.number,
            exact.length_m
        );
    }
    handed_out(stable);
    let take_off = approach.take_off.as_ref().unwrap().distance_m;
    assert!((take_off.value.get() - truth.take_off_m).abs() < 1.5 * take_off.plus_minus());
}

#[test]
fn keyboard_pointer_and_readers_of_the_screen() {
    if !browser_is_there() {
        return;
    }
    for script in [
        "keyboard.js",
        "pointer.js",
        "scrub.js",
        "lesson.js",
        "reading.js",
        "stand.js",
        "access.js",
    ] {
        let stable = stable();
        let desk = Desk::on(stable.path());
        run(script, &[("DESK_URL", &desk.url)]);
    }
}

#[test]
fn nothing_acknowledged_is_lost_when_the_program_is_killed() {
    if !browser_is_there() {
        return;
    }
    let stable = stable();
    let program = env!("CARGO_BIN_EXE_groundline");
    let command = format!("{program} desk {} --no-open", stable.path().display());
    run("saving.js", &[("DESK_COMMAND", &command)]);
}

#[test]
fn the_pages_logic_by_itself() {
    if browser_is_there() {
        run("unit/logic.test.js", &[]);
    }
}

/// Sheet and table of what was marked, made and fetched as the page does it.
fn handed_out(stable: tempfile::TempDir) {
    let served = Served::of(stable);
    let names = ["sheet", "csv"];
    let path = "/api/rounds/schooling.mp4/hand-out";
    let asked: Vec<u64> = names
        .iter()
        .map(|kind| {
            let wish =
                json!({ "kind": kind, "no_names": true, "feet": false, "limits": { "level_within_m": 0.25, "zone_m": 1.8, "zone_within_m": 0.9 } });
            let view = served.send(Method::POST, path, &wish).json();
            assert_eq!(view["state"], "working", "{view}");
            view["id"].as_u64().unwrap()
        })
        .collect();
    let begun = Instant::now();
    let file = |id: u64| loop {
        let view = served.get(&format!("/api/hand-outs/{id}")).json();
        if view["state"] == "done" {
            break served.get(view["file"].as_str().unwrap()).body;
        }
        assert_eq!(view["state"], "working", "{view}");
        assert!(begun.elapsed() < Duration::from_secs(120), "{view}");
        std::thread::sleep(Duration::from_millis(200));
    };
    assert!(file(asked[0]).starts_with(b"%PDF-"));
    let table = String::from_utf8(file(asked[1])).unwrap();
    assert_eq!(table.lines().filter(|line| line.starts_with("stride,")).count(), 7, "{table}");
    // One that was stopped leaves nothing to fetch.
    let wish = json!({ "kind": "reel", "no_names": false, "feet": false, "limits": {} });
    let id = served.send(Method::POST, path, &wish).json()["id"].as_u64().unwrap();
    let stopped = served.send(Method::DELETE, &format!("/api/hand-outs/{id}"), &json!(null));
    assert_eq!(stopped.json()["state"], "cancelled");
    let nothing = served.get(&format!("/api/hand-outs/{id}/file"));
    assert_eq!(nothing.status, StatusCode::NOT_FOUND);
}
