//! Accuracy and honesty of the ± on scenes of known truth: `make bench-accuracy`.
//!
//! Writes `exports/accuracy.md` and its two pictures. To look into one scene:
//! `cargo bench --profile dev --bench accuracy -- --case 0 17` (0 fixed, 1 on a stand, 2 in the
//! hand), and with a mistake: `-- --wrong 1 1004` (in the order of the table).

#![expect(
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a benchmark that cannot run stops, and its figures are for the one who runs it"
)]

mod bars;
mod budget;
mod cases;
mod design;
mod found;
mod judge;
mod pace;
mod plain;
mod plots;
mod report;
mod score;
mod table;
mod wrong;

use std::path::Path;
use std::time::Instant;

use cases::{Case, Held, case};
use found::{Found, data_of};
use groundline::arena::marks;
use groundline::draw::{Drawing, raster};
use judge::run;
use score::{Datum, Quantity};
use wrong::{Mistake, Twin, notices, verdict};

fn main() {
    let args: Vec<String> = std::env::args().collect();
    let numbers = |flag: &str| -> Option<(usize, u64)> {
        let at = args.iter().position(|arg| arg == flag)?;
        let number = |i: usize| args.get(at + i).and_then(|arg| arg.parse().ok());
        Some((number(1).expect("a kind") as usize, number(2).expect("a number")))
    };
    if let Some((held, number)) = numbers("--case") {
        return show(&case(Held::ALL[held], number));
    }
    if let Some((mistake, number)) = numbers("--wrong") {
        return show_wrong(Mistake::ALL[mistake], number);
    }
    let begun = Instant::now();
    let found = Found::all(&|part| {
        println!("{:4.0} s: {part} done", begun.elapsed().as_secs_f64());
    });
    if let Err(reason) = &found.opencv {
        println!("the homography's columns stay empty: {reason}");
    }
    for bar in bars::bars(&found) {
        let met = bar.met.map_or("?", |met| if met { "met" } else { "MISSED" });
        println!("{met:<7} {:<16} {:<20} {}", bar.bar, bar.found, bar.what);
    }
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("exports");
    std::fs::write(folder.join("accuracy.md"), report::report(&found))
        .expect("exports/accuracy.md");
    draw(&found, &folder);
    println!("{:.0} s; exports/accuracy.md is written", begun.elapsed().as_secs_f64());
}

fn draw(found: &Found, folder: &Path) {
    let strides = |wanted: &dyn Fn(Held) -> bool| {
        data_of(found.of_set(|run| wanted(run.held)), Quantity::StrideLength)
    };
    let distance = plots::against_distance([
        ("Fixed camera", strides(&|held| held == Held::Fixed)),
        ("Turning camera", strides(&|held| held != Held::Fixed)),
    ]);
    save(&distance, &folder.join("accuracy-distance.png"));
    let lengths = Held::ALL.map(|held| strides(&|of| of == held));
    let edges = Held::ALL.map(|held| {
        let runs = found.of_set(|run| run.held == held);
        let of = |quantity| data_of(runs.iter().copied(), quantity);
        let edges: Vec<&Datum> =
            [Quantity::TakeOff, Quantity::Landing, Quantity::TrackOffset].map(of).concat();
        edges
    });
    let calibration = plots::calibration(
        [("Stride lengths", lengths), ("Take-off, landing and track offset", edges)],
        Held::ALL.map(Held::words),
    );
    save(&calibration, &folder.join("accuracy-calibration.png"));
}

fn save(drawing: &Drawing, path: &Path) {
    raster(&drawing.svg, 2.0).expect("our own drawing").save(path).expect("a picture in exports");
}

/// Everything about one scene, to look into it.
fn show(case: &Case) {
    println!("{:#?}\n{:?}", case.scene, case.clicking);
    let file = marks(&case.scene, &case.truth, &case.clicking);
    for (address, marks) in file.places() {
        println!("{address}: {} marks", marks.len());
    }
    let run = run(case, &file, 0);
    for notice in notices(&run) {
        println!("{notice:?}");
    }
    for datum in &run.data {
        let stride = datum.stride.map_or(String::new(), |number| format!(" {number}"));
        let (unit, scale, digits) = datum.quantity.printed();
        println!(
            "{}{stride}: off {} where ± is {:.digits$}{}",
            datum.quantity.words(),
            table::signed(scale * datum.judged.error, digits, unit),
            scale * datum.judged.half,
            if datum.judged.inside { "" } else { ", outside" }
        );
    }
    if let Some((focal, height)) = run.camera {
        println!("focal length {focal:.3} of the true one, camera {height:.2} m up");
    }
    println!("{:.3} s", run.seconds);
}

fn show_wrong(mistake: Mistake, number: u64) {
    let verdict = verdict(mistake, &Twin::for_mistake(mistake, number));
    println!("{}, scene {number}: {}", mistake.words(), verdict.words);
    println!(
        "worst stride moved by {:.2} of its own ±; interval misses a truth: {} (clean twin: {})",
        verdict.worst, verdict.missed, verdict.twin_missed
    );
    if let Some(reason) = &verdict.refused {
        println!("refused: {reason}");
    }
    for (which, camera) in ["mistaken", "clean"].into_iter().zip(verdict.cameras) {
        let Some((focal, height)) = camera else { continue };
        println!("{which}: focal length {focal:.3} of the true one, camera {height:.2} m up");
    }
    println!("noticed {}, named {}: {:?}", verdict.noticed, verdict.named, verdict.kinds);
}
