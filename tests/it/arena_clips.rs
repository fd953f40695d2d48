//! Twelve small clips of scenes whose truth is known, through the whole program: rendered, written,
//! looked at, marked with clicking errors, measured, drawn on and set as a sheet.
//!
//! The pictures are a third as wide as a phone's, and a click errs as many pixels as on a phone:
//! so lengths are three times as uncertain as in use. What is judged is whether the stated ± is
//! right and whether every step takes what the one before it left; the accuracy of full-sized
//! pictures is the benchmark's (`tests/bench/accuracy`).

use std::path::{Path, PathBuf};
use std::time::Instant;

use groundline::arena::render::Renderer;
use groundline::arena::{Clicking, Handling, Laid, Scene, Track, TrackShape, Truth, marks};
use groundline::footage::write::{ClipWriter, Preset, WriteOptions};
use groundline::marks::{Mark, MarksFile, ReferenceKind};
use groundline::quantity::{Estimate, FrameNumber, LengthUnits, Metres, written};
use groundline::scene::PictureSize;
use groundline::store::{hash_of_file, save};
use rayon::prelude::*;
use serde_json::{Value, json};

use crate::program::groundline;
use crate::reference_python::{ask_python, numbers};
use crate::support::folder;

/// One clip to be made.
struct Case {
    name: &'static str,
    scene: Scene,
    clicking: Clicking,
}

/// What came out of one clip.
struct Outcome {
    strides: Vec<Judged>,
    edges: Vec<Judged>,
    film_s: f64,
    sheet: PathBuf,
    /// The sheet must name it.
    last_stride: String,
}

/// A length and its truth, metres.
struct Judged {
    error: f64,
    sd: f64,
    inside: bool,
}

impl Judged {
    /// `None` where it was not seen.
    fn of(estimate: &Value, truth: f64) -> Option<Self> {
        let number = |key: &str| estimate[key].as_f64();
        let value = number("value")?;
        let inside = (number("low95").unwrap()..=number("high95").unwrap()).contains(&truth);
        Some(Self { error: value - truth, sd: number("sd").unwrap(), inside })
    }
}

/// A scene filmed small and quick.
fn small(mut scene: Scene, frames_per_s: f64) -> Scene {
    scene.filming.picture = PictureSize { width: 640, height: 360 };
    scene.filming.frames_per_s = frames_per_s;
    // No blur and no stride after the jump: half the painting.
    scene.filming.exposure_s = 0.0;
    scene.ride.away_strides = 0;
    scene
}

fn cases() -> Vec<Case> {
    let rates = [25.0, 30.0, 50.0, 30.0, 60.0, 24.0, 30.0, 48.0];
    let mut cases: Vec<Case> = rates
        .into_iter()
        .enumerate()
        .map(|(story, rate)| {
            // Every scene and every hand errs in its own way.
            let seed = 31 + story as u64;
            let (name, scene) = Scene::stories(seed).into_iter().nth(story).unwrap();
            let laid = if name == "pony" { Laid::Paced } else { Laid::Taped };
            let clicking = Clicking { laid, ..Clicking::usual(seed) };
            Case { name, clicking, scene: small(scene, rate) }
        })
        .collect();
    // Filmed from the other side, the lens a little bent.
    cases[2].scene.filming.distance_m *= -1.0;
    cases[2].scene.filming.k1 = -0.02;
    let mut add = |name, scene: Scene| {
        cases.push(Case { name, clicking: Clicking::usual(scene.seed), scene });
    };
    // The background of a turning camera is painted anew for every frame.
    let turning = |scene: Scene, frames_per_s| {
        let mut scene = small(scene.filmed_from_the_hand(), frames_per_s);
        scene.filming.picture = PictureSize { width: 480, height: 270 };
        scene
    };
    let mut hand = turning(Scene::level(39), 50.0);
    hand.ride.strides_m.drain(..2);
    add("in the hand, 50 frames/s", hand);
    add("oxer in the hand", turning(Scene::built_steadily(40), 25.0));
    let mut slow = small(Scene::level(41), 240.0);
    slow.ride.strides_m = vec![3.62, 3.31];
    slow.filming.picture = PictureSize { width: 480, height: 270 };
    slow.filming.plays_at_per_s = Some(30.0);
    slow.filming.distance_m = 10.0;
    slow.filming.along_m = -3.0;
    add("240 frames/s, played at 30", slow);
    let mut upright = small(Scene::uphill(42), 100.0);
    upright.ride.strides_m.drain(..3);
    upright.track = Track {
        shape: TrackShape::OffATurn { radius_m: 12.0, straight_m: 9.0 },
        ..Track::STRAIGHT
    };
    upright.filming.picture = PictureSize { width: 288, height: 512 };
    upright.filming.handling = Handling::ON_A_STAND;
    upright.filming.distance_m = 15.0;
    upright.filming.field_deg = 40.0;
    add("upright, turned on a stand, off a turn", upright);
    cases
}

/// Paints and writes the clip.
fn film(scene: &Scene, truth: &Truth, path: &Path) {
    let renderer = Renderer::new(scene, truth);
    let size = (scene.filming.picture.width, scene.filming.picture.height);
    let plays_at = scene.filming.plays_at_per_s.unwrap_or(scene.filming.frames_per_s);
    let options = WriteOptions { preset: Preset::Ultrafast, ..WriteOptions::default() };
    let mut writer = ClipWriter::at_rate(path, size, (plays_at as u32, 1), &options).unwrap();
    for number in 0..truth.frames.len() as u32 {
        writer.write(&renderer.frame(FrameNumber(number))).unwrap();
    }
    writer.finish().unwrap();
}

/// What the program prints for `words`, run beside the clip; it must end well and silently.
fn ask(folder: &Path, words: &[&str]) -> String {
    let output = groundline().current_dir(folder).args(words).output().unwrap();
    let errors = String::from_utf8(output.stderr).unwrap();
    assert!(output.status.success() && errors.is_empty(), "{words:?}: {errors}");
    String::from_utf8(output.stdout).unwrap()
}

fn ask_json(folder: &Path, words: &[&str]) -> Value {
    serde_json::from_str(&ask(folder, words)).unwrap()
}

fn run(case: &Case, folder: &Path) -> Outcome {
    let scene = &case.scene;
    let truth = Truth::of(scene).unwrap_or_else(|error| panic!("{}: {error}", case.name));
    std::fs::create_dir(folder).unwrap();
    let clip = folder.join("round.mp4");
    let began = Instant::now();
    film(scene, &truth, &clip);
    let film_s = began.elapsed().as_secs_f64();
    look(scene, &truth, folder);

    let mut file = marks(scene, &truth, &case.clicking);
    drop_slipped(&mut file);
    file.clip.file = "round.mp4".into();
    file.clip.size_bytes = std::fs::metadata(&clip).unwrap().len();
    file.clip.blake3 = hash_of_file(&clip).unwrap();
    save(&folder.join("round.marks.json"), &file).unwrap();
    let measured = ask_json(folder, &["measure", "round.marks.json", "--json"]);
    let approach = &measured["approaches"][0];
    let rows = approach["strides"].as_array().unwrap();
    assert_eq!(rows.len(), truth.strides.len(), "{}", case.name);
    let judge = |row: &Value| {
        let number = row["number"].as_i64().unwrap();
        let exact = truth.strides.iter().find(|stride| i64::from(stride.number) == number);
        Judged::of(&row["length_m"], exact.unwrap().length_m)
    };
    let edges = [("take_off", truth.take_off_m), ("landing", truth.landing_m)];
    stills(scene, approach, folder);
    ask(folder, &["sheet", "round.marks.json", "-o", "sheet.pdf"]);
    if case.name.starts_with("240 frames/s") {
        sheets_of_two(&file, folder);
    }
    let last = rows.last().unwrap()["length_m"].clone();
    let last: Estimate<Metres> = serde_json::from_value(last).unwrap();
    Outcome {
        strides: rows.iter().filter_map(judge).collect(),
        edges: edges
            .iter()
            .filter_map(|(key, exact)| Judged::of(&approach[key]["distance_m"], *exact))
            .collect(),
        film_s,
        sheet: folder.join("sheet.pdf"),
        last_stride: written(&last, LengthUnits::Metres).to_string(),
    }
}

/// Two approaches are a cover and two pages, as pictures a file each; one alone is one.
fn sheets_of_two(file: &MarksFile, folder: &Path) {
    let mut file = file.clone();
    let mut again = file.approaches[0].clone();
    again.id = "again".into();
    file.approaches.push(again);
    save(&folder.join("two.marks.json"), &file).unwrap();
    ask(folder, &["sheet", "two.marks.json", "-o", "two.png"]);
    for page in 1..=3 {
        let page = image::open(folder.join(format!("two-{page}.png"))).unwrap();
        // A4 at 200 dots an inch.
        assert_eq!((page.width(), page.height()), (1654, 2339));
    }
    assert!(!folder.join("two.png").exists() && !folder.join("two-4.png").exists());
    ask(folder, &["sheet", "two.marks.json", "-o", "two.png", "--approach", "again"]);
    assert!(folder.join("two.png").exists());
}

/// A click that slips over the picture's edge is no mark: the rules refuse it, and no hand could
/// place it.
fn drop_slipped(file: &mut MarksFile) {
    let picture = file.clip.picture;
    let inside = |mark: &Mark| picture.holds(mark.point());
    for tie in &mut file.ties {
        tie.marks.retain(inside);
    }
    for reference in &mut file.references {
        if let ReferenceKind::Poles { ends, .. } = &mut reference.kind {
            ends.iter_mut().for_each(|end| end.marks.retain(inside));
        }
    }
}

/// The clip is what was written, and plays as slowly as it was told to.
fn look(scene: &Scene, truth: &Truth, folder: &Path) {
    let filming = &scene.filming;
    let captured = filming.frames_per_s.to_string();
    let found = ask_json(
        folder,
        &["look", "round.mp4", "--json", "--decode", "--capture-rate", captured.as_str()],
    );
    assert_eq!(found["frames"], json!(truth.frames.len()));
    assert_eq!(found["upright_width_px"], json!(filming.picture.width));
    assert_eq!(found["upright_height_px"], json!(filming.picture.height));
    assert_eq!(found["decoded"]["readable"], json!(truth.frames.len()));
    let plays_at = filming.plays_at_per_s.unwrap_or(filming.frames_per_s);
    let number = |value: &Value| value.as_f64().unwrap();
    assert!((number(&found["rate"]["mean_hz"]) - plays_at).abs() < 1e-6, "{}", found["rate"]);
    let scale = number(&found["capture"]["time_scale"]);
    assert!((scale - plays_at / filming.frames_per_s).abs() < 1e-9, "{}", found["capture"]);
}

/// A picture for every footfall: a part of the frame, enlarged up to three times and to no more
/// than 1600 pixels across.
fn stills(scene: &Scene, approach: &Value, folder: &Path) {
    ask(folder, &["stills", "round.marks.json", "-o", "stills"]);
    let entries = std::fs::read_dir(folder.join("stills")).unwrap();
    let pictures: Vec<PathBuf> = entries.map(|entry| entry.unwrap().path()).collect();
    assert_eq!(pictures.len(), approach["footfalls"].as_array().unwrap().len());
    let whole = scene.filming.picture;
    for path in pictures {
        let picture = image::open(&path).unwrap_or_else(|error| panic!("{path:?}: {error}"));
        let (width, height) = (picture.width(), picture.height());
        assert!((200..=1600.min(3 * whole.width)).contains(&width), "{path:?}: {width} px wide");
        assert!((100..=3 * whole.height).contains(&height), "{path:?}: {height} px high");
    }
}

#[test]
fn twelve_clips_go_the_whole_way() {
    let folder = folder();
    let cases = cases();
    assert_eq!(cases.len(), 12);
    let began = Instant::now();
    let outcomes: Vec<Outcome> = cases
        .par_iter()
        .enumerate()
        .with_max_len(1)
        .map(|(number, case)| {
            let began = Instant::now();
            let outcome = run(case, &folder.path().join(number.to_string()));
            let inside = outcome.strides.iter().filter(|stride| stride.inside).count();
            println!(
                "{}: {} strides, {inside} inside their 95 %, RMS {:.0} cm, stated {:.0} cm; \
                 edges {:?} cm (filmed in {:.1} of {:.1} s)",
                case.name,
                outcome.strides.len(),
                100.0 * rms(outcome.strides.iter().map(|stride| stride.error)),
                100.0 * rms(outcome.strides.iter().map(|stride| stride.sd)),
                outcome.edges.iter().map(|edge| (100.0 * edge.error).round()).collect::<Vec<_>>(),
                outcome.film_s,
                began.elapsed().as_secs_f64(),
            );
            outcome
        })
        .collect();
    let strides: Vec<&Judged> = outcomes.iter().flat_map(|outcome| &outcome.strides).collect();
    let inside = strides.iter().filter(|stride| stride.inside).count();
    println!(
        "{inside} of {} strides inside their 95 %, in {:.1} s",
        strides.len(),
        began.elapsed().as_secs_f64()
    );
    let all: usize = cases.iter().map(|case| case.scene.ride.strides_m.len()).sum();
    assert!(strides.len() * 10 >= all * 9, "{} of {all} strides measured", strides.len());
    assert!(inside * 100 >= strides.len() * 85, "{inside} of {}", strides.len());
    for (case, outcome) in cases.iter().zip(&outcomes) {
        for judged in outcome.strides.iter().chain(&outcome.edges) {
            let off = judged.error.abs() / judged.sd;
            assert!(off < 4.0, "{}: {:.2} m off, {off:.1} sd", case.name, judged.error);
        }
    }
    for (case, outcome) in cases.iter().zip(&outcomes) {
        let bytes = std::fs::read(&outcome.sheet).unwrap();
        assert!(bytes.starts_with(b"%PDF-") && bytes.trim_ascii_end().ends_with(b"%%EOF"));
        assert!(bytes.len() > 20_000, "{}: {} bytes", case.name, bytes.len());
    }
    open_elsewhere(&cases, &outcomes);
}

/// Another program opens the sheets: one A4 page each, which names the last stride's length.
fn open_elsewhere(cases: &[Case], outcomes: &[Outcome]) {
    let files: Vec<&PathBuf> = outcomes.iter().map(|outcome| &outcome.sheet).collect();
    let Some(opened) = ask_python("open_pdf.py", &json!({ "files": files })) else { return };
    for ((case, outcome), found) in cases.iter().zip(outcomes).zip(opened.as_array().unwrap()) {
        assert_eq!(found["pages"], json!(1), "{}", case.name);
        let size = numbers(&found["size"]);
        assert!((size[0] - 595.3).abs() < 0.5 && (size[1] - 841.9).abs() < 0.5, "{size:?}");
        // In the table its unit stands in the head.
        let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        let text = words(found["text"].as_str().unwrap());
        let length = words(outcome.last_stride.trim_end_matches('m'));
        assert!(text.contains(&length), "{}: no {length} in {text}", case.name);
    }
}

fn rms(values: impl Iterator<Item = f64>) -> f64 {
    let squares: Vec<f64> = values.map(|value| value * value).collect();
    (squares.iter().sum::<f64>() / squares.len() as f64).sqrt()
}
