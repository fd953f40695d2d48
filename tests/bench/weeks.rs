//! How long `weeks` takes on a folder of 1,000 rounds: the first time, when every round is surveyed,
//! and again, when what was measured is kept. Beside the second, in turns with it, `serde_json`
//! reading the same files into plain values on as many threads: about the least that any comparison
//! of them could take.
//!
//! The rounds are those of the arena: ten surveyed scenes clicked anew for each file, so that no two
//! files are alike. The bar: under 2 s once measured. Run: `cargo bench --profile dev --bench weeks
//! [-- --rounds 1000] [--repetitions 5]`; `-- --make FOLDER 12` only writes that many rounds, to
//! look at.

#![expect(
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a benchmark that cannot run stops, and its figures are for the one who runs it"
)]

use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode, Stdio};
use std::time::Instant;

use groundline::arena::{Clicking, Scene, Truth, marks};
use groundline::store::save;
use rayon::prelude::*;
use serde_json::Value;

const BAR_S: f64 = 2.0;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().collect();
    let after = |name: &str, place: usize| {
        let at = arguments.iter().position(|argument| argument == name)?;
        arguments.get(at + place)
    };
    let number = |name: &str, usual: usize| {
        after(name, 1).and_then(|count| count.parse().ok()).unwrap_or(usual)
    };
    if let (Some(folder), Some(count)) = (after("--make", 1), after("--make", 2)) {
        let count = count.parse().expect("a number of rounds");
        std::fs::create_dir_all(folder).expect("a folder for the rounds");
        make(Path::new(folder), count);
        return ExitCode::SUCCESS;
    }
    let (rounds, repetitions) = (number("--rounds", 1000), number("--repetitions", 5));
    let (library, kept) = (folder(), folder());
    let paths = make(library.path(), rounds);
    let bytes: u64 = paths.iter().map(|path| std::fs::metadata(path).map_or(0, |f| f.len())).sum();
    println!("{rounds} rounds, {:.1} MB", bytes as f64 / 1e6);
    let first = weeks(library.path(), kept.path());
    println!(
        "first run, every round surveyed: {first:.1} s ({:.0} ms a round)",
        1e3 * first / rounds as f64
    );
    let mut times = Vec::new();
    for repetition in 0..repetitions {
        let (ours, peer) = if repetition % 2 == 0 {
            let ours = weeks(library.path(), kept.path());
            (ours, peer(&paths))
        } else {
            let peer = peer(&paths);
            (weeks(library.path(), kept.path()), peer)
        };
        println!("weeks {ours:.3} s   peer {peer:.3} s   ratio {:.1}", ours / peer);
        times.push((ours, peer));
    }
    let middle = |mut values: Vec<f64>| {
        values.sort_by(f64::total_cmp);
        values[values.len() / 2]
    };
    let ours = middle(times.iter().map(|time| time.0).collect());
    let ratio = middle(times.iter().map(|time| time.0 / time.1).collect());
    println!("median: {rounds} rounds in {ours:.3} s (bar {BAR_S} s), {ratio:.1} times the peer");
    if ours < BAR_S { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

fn folder() -> tempfile::TempDir {
    tempfile::tempdir().expect("a folder for the benchmark")
}

/// The whole program, from its start to its last line, seconds.
fn weeks(library: &Path, kept: &Path) -> f64 {
    let began = Instant::now();
    let done = Command::new(env!("CARGO_BIN_EXE_groundline"))
        .env("XDG_CACHE_HOME", kept)
        .arg("weeks")
        .arg(library)
        .stdout(Stdio::null())
        .status()
        .expect("the program runs");
    assert!(done.success());
    began.elapsed().as_secs_f64()
}

/// Reading the same files into plain values, seconds.
fn peer(paths: &[PathBuf]) -> f64 {
    let began = Instant::now();
    let read = paths.par_iter().map(|path| {
        let bytes = std::fs::read(path).expect("a file of the benchmark");
        serde_json::from_slice::<Value>(&bytes).expect("it is JSON")
    });
    assert_eq!(read.filter(Value::is_object).count(), paths.len());
    began.elapsed().as_secs_f64()
}

/// Rounds of one horse that becomes more even, a week apart, at four fences.
fn make(folder: &Path, count: usize) -> Vec<PathBuf> {
    let scenes: Vec<(Scene, Truth)> = (0..10)
        .map(|k| {
            let uneven = 0.6 * (1.0 - k as f64 / 9.0);
            let mut scene = Scene::level(900 + k);
            let waver = [0.0, -0.3, -0.8, -1.0, -0.2, 0.7, 0.1];
            scene.ride.strides_m = waver.iter().map(|off| 3.48 + uneven * off).collect();
            scene.ride.take_off_m = 1.4 + 0.05 * k as f64;
            scene.filming.distance_m = 23.0;
            let truth = Truth::of(&scene).expect("the scene has a truth");
            (scene, truth)
        })
        .collect();
    let fences = ["Blue vertical", "Oxer at the gate", "Wall", "White planks"];
    let fences = if count < 50 { &fences[..1] } else { &fences[..] };
    (0..count)
        .into_par_iter()
        .map(|i| {
            let (scene, truth) = &scenes[10 * i / count];
            let mut file = marks(scene, truth, &Clicking::usual(i as u64));
            let day =
                jiff::civil::date(2026, 1, 3).saturating_add(jiff::Span::new().days(7 * i as i64));
            file.round.date = Some(day.to_string());
            file.round.horse = "Copper".into();
            file.round.rider = "Ada".into();
            file.fences[0].name = fences[i % fences.len()].into();
            let path = folder.join(format!("round {i:04}.marks.json"));
            save(&path, &file).expect("a round is written");
            path
        })
        .collect()
}
