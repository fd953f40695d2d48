//! Rendered scenes of known truth.

use image::GrayImage;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, Normal};

use super::tally::Tally;
use crate::arena::render::Renderer;
use crate::arena::{Clicking, Scene, Truth, marks};
use crate::marks::{PoleEnd, ReferenceKind};
use crate::quantity::FrameNumber;
use crate::scene::FramePoint;
use crate::snap::snap_pole_end;

/// The true ends on every marked frame: frame, pole, end, place.
fn true_ends(scene: &Scene, truth: &Truth) -> Vec<(FrameNumber, u32, PoleEnd, FramePoint)> {
    let file = marks(scene, truth, &Clicking::with_sd(0.0, 1));
    let mut all = Vec::new();
    for reference in &file.references {
        if let ReferenceKind::Poles { ends, .. } = &reference.kind {
            for end in ends {
                for mark in &end.marks {
                    all.push((mark.frame, end.pole, end.end, FramePoint::new(mark.x, mark.y)));
                }
            }
        }
    }
    all
}

fn luma(renderer: &Renderer, frame: FrameNumber) -> GrayImage {
    image::DynamicImage::ImageRgb8(renderer.frame(frame)).to_luma8()
}

fn tally(scene: &Scene, most_frames: usize, sum: &mut [Tally; 2]) {
    let truth = Truth::of(scene).unwrap();
    let renderer = Renderer::new(scene, &truth);
    let ends = true_ends(scene, &truth);
    let mut frames: Vec<FrameNumber> = ends.iter().map(|end| end.0).collect();
    frames.sort_unstable();
    frames.dedup();
    let every = frames.len().div_ceil(most_frames);
    let mut random = ChaCha8Rng::seed_from_u64(scene.seed);
    let normal = Normal::new(0.0, 1.5).unwrap();
    let mut click = |at: FramePoint| {
        FramePoint::new(at.x + normal.sample(&mut random), at.y + normal.sample(&mut random))
    };
    for frame in frames.into_iter().step_by(every) {
        let picture = luma(&renderer, frame);
        for &(_, pole, end, place) in ends.iter().filter(|end| end.0 == frame) {
            let other = ends.iter().find(|o| o.0 == frame && o.1 == pole && o.2 != end);
            let clicked = click(place);
            let hint = other.map(|other| click(other.3));
            let found = snap_pole_end(&picture, clicked, hint, 6.0);
            let side = usize::from(end == PoleEnd::Left);
            let error = sum[side].add(&found, place);
            if std::env::var("SHOW").is_ok() {
                let long = other.map_or(0.0, |o| o.3.distance(place));
                println!(
                    "{frame:?} {pole} {end:?} {place:.1?} long {long:.0}: {error:.2?} {found:.2?}"
                );
            }
        }
    }
}

#[test]
fn ends_of_rendered_poles_snap() {
    let mut fixed = [Tally::default(), Tally::default()];
    for (_, scene) in Scene::stories(1).into_iter().step_by(2) {
        tally(&scene, 1, &mut fixed);
    }
    let mut hand = [Tally::default(), Tally::default()];
    for (_, scene) in Scene::stories(1).into_iter().step_by(4) {
        tally(&scene.filmed_from_the_hand(), 3, &mut hand);
    }
    fixed[0].print("fixed, near ends");
    fixed[1].print("fixed, far ends");
    hand[0].print("hand, near ends");
    hand[1].print("hand, far ends");
    for side in &fixed {
        assert!(side.share() >= 0.8 && side.rms() < 0.4);
    }
    let [near, far] = fixed;
    let all = near.with(far);
    all.print("fixed, all");
    assert!((0.7..1.4).contains(&all.z()));
    let [near, far] = hand;
    let all = near.with(far);
    all.print("hand, all");
    // Filmed from the hand the horse often stands before a pole, and poles are cut by the border.
    assert!(all.share() > 0.5);
}

/// Figures on scenes that no constant was chosen on.
#[test]
#[ignore = "minutes; prints figures"]
fn many_scenes() {
    let mut fixed = [Tally::default(), Tally::default()];
    let mut hand = [Tally::default(), Tally::default()];
    for seed in 7..9 {
        for (_, scene) in Scene::stories(seed) {
            tally(&scene, 1, &mut fixed);
        }
        for (_, scene) in Scene::stories(seed).into_iter().skip(1).step_by(3) {
            tally(&scene.filmed_from_the_hand(), 3, &mut hand);
        }
    }
    for (name, [near, far]) in [("fixed", fixed), ("hand", hand)] {
        near.print(&format!("{name}, near ends"));
        far.print(&format!("{name}, far ends"));
        println!("{:?}", near.refused);
        near.with(far).print(&format!("{name}, all"));
    }
}
