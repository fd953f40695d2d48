//! Accuracy and honesty of the ± on scenes of known truth: `make bench-accuracy`.

mod cases;
mod score;

use std::time::Instant;

use cases::{Case, Held, case};
use groundline::arena::marks;
use groundline::marks::Event;
use groundline::stride::{Draws, measure};
use rayon::prelude::*;
use score::{Judged, Scores, Summary};

/// Scenes of each way to hold the camera.
const SCENES: [(Held, u64); 3] =
    [(Held::Fixed, 200), (Held::TurnedOnAStand, 100), (Held::InTheHand, 120)];

struct Run {
    number: u64,
    scores: Scores,
    refused: Option<String>,
    suspects: usize,
    doubts: Vec<String>,
    seconds: f64,
}

fn main() {
    let args: Vec<String> = std::env::args().collect();
    if let Some(at) = args.iter().position(|arg| arg == "--case") {
        let held = Held::ALL[args[at + 1].parse::<usize>().expect("0, 1 or 2")];
        return show(&case(held, args[at + 2].parse().expect("the case's number")));
    }
    let verbose = std::env::args().any(|a| a == "--verbose");
    for (held, count) in SCENES {
        let runs: Vec<Run> =
            (0..count).into_par_iter().map(|number| run(&case(held, number))).collect();
        let refused: Vec<&Run> = runs.iter().filter(|run| run.refused.is_some()).collect();
        let clean = runs.iter().filter(|run| run.suspects > 0).count();
        let doubted = runs.iter().filter(|run| !run.doubts.is_empty()).count();
        let seconds: f64 = runs.iter().map(|run| run.seconds).sum::<f64>() / count as f64;
        println!(
            "{}: {count} scenes, {} refused, {clean} with a suspect, {doubted} with a doubt, {seconds:.3} s each",
            held.words(),
            refused.len()
        );
        for run in refused {
            println!("  {}: {}", run.number, run.refused.as_deref().unwrap_or_default());
        }
        for run in &runs {
            for doubt in &run.doubts {
                println!("  {}: {doubt}", run.number);
            }
        }
        if verbose {
            for run in &runs {
                let c = case(held, run.number);
                let f = &c.scene.filming;
                let strides: Vec<String> = run
                    .scores
                    .of("stride length, m")
                    .iter()
                    .map(|j| format!("{:.2}({:.2})", j.error, j.sd))
                    .collect();
                println!(
                    "  {}: h {:.1} d {:.0} field {:.0} w {} click {:.1} pole {:.1} poles {} slope {:.1} {:?} {:?}: {}",
                    run.number,
                    f.height_m,
                    f.distance_m,
                    f.field_deg,
                    f.picture.width,
                    c.clicking.hoof_sd_px,
                    c.clicking.pole_sd_px,
                    c.scene.poles.count,
                    c.scene.ground.slope_percent,
                    c.scene.track.shape,
                    f.handling,
                    strides.join(" ")
                );
            }
        }
        let scores = runs.into_iter().map(|run| run.scores).fold(Scores::default(), Scores::merge);
        for name in scores.names() {
            let s = Summary::of(scores.of(name));
            println!(
                "  {name:<28} n {:5}  RMS {:8.4}  bias {:8.4}  inside {:5.1} %",
                s.count, s.rms, s.bias, s.coverage
            );
        }
    }
}

/// Everything about one case, to look into it.
fn show(case: &Case) {
    println!("{:#?}\n{:?}", case.scene, case.clicking);
    let file = marks(&case.scene, &case.truth, &case.clicking);
    for (address, marks) in file.places() {
        println!("{address}: {} marks", marks.len());
    }
    match measure(&file, Draws::default()) {
        Err(refused) => println!("{refused}"),
        Ok((survey, measurement)) => {
            for doubt in &measurement.doubts {
                println!("{}", doubt.sentence());
            }
            println!("{:?}", measurement.suspects);
            println!("{:?}", survey.cameras.values().next());
            println!("{:?}", case.truth.frames.first());
        }
    }
}

fn run(case: &Case) -> Run {
    let file = marks(&case.scene, &case.truth, &case.clicking);
    let begun = Instant::now();
    let measured = measure(&file, Draws::default());
    let seconds = begun.elapsed().as_secs_f64();
    let mut scores = Scores::default();
    let (_, measurement) = match measured {
        Ok(measured) => measured,
        Err(refused) => {
            let refused = Some(refused.to_string());
            let doubts = Vec::new();
            return Run { number: case.number, scores, refused, suspects: 0, doubts, seconds };
        }
    };
    let approach = &measurement.approaches[0];
    let truth = &case.truth;
    for row in &approach.strides {
        let of_limb = truth.strides_of(approach.reference_limb);
        let Some(true_stride) = of_limb.iter().find(|s| s.number == row.number) else { continue };
        scores.add("stride duration, s", Judged::of(&row.duration_s, true_stride.duration_s));
        if let Some(length) = &row.length_m {
            scores.add("stride length, m", Judged::of(length, true_stride.length_m));
        }
        if let Some(speed) = &row.speed_m_per_s {
            scores.add("speed, m/s", Judged::of(speed, true_stride.speed_m_per_s));
        }
    }
    if let Some(take_off) = &approach.take_off {
        let left = truth
            .approach_contacts()
            .find(|contact| contact.event == Event::TakeOff && contact.limb == take_off.limb);
        let true_m = left.map_or(f64::NAN, |contact| -contact.place.x);
        scores.add("take-off, m", Judged::of(&take_off.distance_m, true_m));
    }
    if let Some(landing) = &approach.landing {
        // The first fore may be hidden by a wing: then the second is measured, and says so.
        let far_x = case.scene.fence.far_x();
        let landed = truth
            .approach_contacts()
            .find(|contact| contact.event == Event::Landing && contact.limb == landing.limb);
        let true_m = landed.map_or(f64::NAN, |contact| contact.place.x - far_x);
        scores.add("landing, m", Judged::of(&landing.distance_m, true_m));
    }
    if let Some(track) = &approach.track {
        scores.add("track offset, m", Judged::of(&track.offset_m, truth.track_offset_m));
        scores.add("track angle, deg", Judged::of(&track.angle_deg, truth.track_angle_deg));
    }
    let doubts = measurement.doubts.iter().map(|d| d.sentence()).collect();
    let suspects = measurement.suspects.len();
    Run { number: case.number, scores, refused: None, suspects, doubts, seconds }
}
