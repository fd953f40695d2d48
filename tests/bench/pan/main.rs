//! Hand-held, panning clips measured without a single tie placed by hand: `make bench-pan`.
//!
//! The design scene (design, section 5) filmed from the hand in several ways, rendered, followed by
//! the tracker, marked with the usual clicks and surveyed; beside it the same clicks with the true
//! camera. Writes `exports/accuracy-pan.md`. `-- 3` takes three scenes a way instead of all.

#![expect(
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a benchmark that cannot run stops, and its figures are for the one who runs it"
)]

#[path = "../accuracy/cases.rs"]
#[expect(dead_code, reason = "the accuracy bench uses more of it")]
mod cases;
#[path = "../accuracy/design.rs"]
#[expect(dead_code, reason = "the accuracy bench uses more of it")]
mod design;
#[path = "../accuracy/judge.rs"]
#[expect(dead_code, reason = "the accuracy bench uses more of it")]
mod judge;
#[path = "../accuracy/pace.rs"]
#[expect(dead_code, reason = "the accuracy bench uses more of it")]
mod pace;
#[path = "../accuracy/plain.rs"]
#[expect(dead_code, reason = "the accuracy bench uses more of it")]
mod plain;
#[path = "../accuracy/score.rs"]
#[expect(dead_code, reason = "the accuracy bench uses more of it")]
mod score;
#[path = "../accuracy/table.rs"]
#[expect(dead_code, reason = "the accuracy bench uses more of it")]
mod table;

mod follow;
mod peer;
mod report;
mod ways;

use std::time::Instant;

use groundline::arena::marks;

use follow::{Followed, follow};
use judge::{Run, run, run_with_motion};
use ways::{Way, case};

/// One scene: with what the tracker found, with the true camera, with ties placed by hand.
pub struct Scene {
    followed: Followed,
    tracked: Run,
    with_truth: Run,
    hand_ties: Option<Run>,
}

fn main() {
    let asked = std::env::args().skip(1).find_map(|arg| arg.parse::<u64>().ok());
    let begun = Instant::now();
    let mut found: Vec<(Way, Vec<Scene>)> = Vec::new();
    for way in Way::ALL {
        let scenes = asked.unwrap_or(way.scenes());
        let runs: Vec<Scene> = (0..scenes)
            .map(|number| {
                let scene = one(way, number);
                println!(
                    "{:5.0} s: {} {number}: {}",
                    begun.elapsed().as_secs_f64(),
                    way.words(),
                    report::line(&scene)
                );
                scene
            })
            .collect();
        found.push((way, runs));
    }
    let peers = peer::peers();
    let text = report::text(&found, peers.as_deref());
    println!("{text}");
    if asked.is_none() {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/exports/accuracy-pan.md");
        std::fs::write(path, text).expect("exports can be written to");
    }
}

fn one(way: Way, number: u64) -> Scene {
    let case = case(way, number);
    let followed = follow(&case);
    let file = marks(&case.scene, &case.truth, &case.clicking);
    let at = number as usize;
    let tracked = run_with_motion(&case, &file, followed.motion.as_ref(), at);
    let truth = follow::true_motion(&case);
    let with_truth = run_with_motion(&case, &file, Some(&truth), at);
    let mut tied = case.clicking;
    tied.hand_ties = true;
    // One lens for all frames: ties by hand cannot tell of a zoom.
    let hand_ties =
        (way != Way::Zooming).then(|| run(&case, &marks(&case.scene, &case.truth, &tied), at));
    Scene { followed, tracked, with_truth, hand_ties }
}
