//! Poles drawn with known edges.

use rand_chacha::ChaCha8Rng;
use rand::SeedableRng;
use rand_distr::{Distribution, Normal, Uniform};

use super::pole_drawing::DrawnPole;
use super::tally::Tally;
use crate::scene::FramePoint;
use crate::snap::snap_pole_end;

fn between(random: &mut ChaCha8Rng, low: f64, high: f64) -> f64 {
    Uniform::new(low, high).unwrap().sample(random)
}

fn near(random: &mut ChaCha8Rng, point: FramePoint, sd: f64) -> FramePoint {
    let normal = Normal::new(0.0, sd).unwrap();
    FramePoint::new(point.x + normal.sample(random), point.y + normal.sample(random))
}

fn any_pole(random: &mut ChaCha8Rng, seed: u64) -> DrawnPole {
    let bands = match seed % 4 {
        0 => vec![235.0],
        1 => vec![60.0, 230.0, 60.0, 230.0, 60.0],
        2 => vec![230.0, 70.0, 230.0, 70.0, 230.0, 70.0, 230.0],
        _ => vec![40.0, 220.0, 90.0, 220.0, 40.0],
    };
    DrawnPole {
        end: FramePoint::new(48.0 + between(random, -4.0, 4.0), 48.0 + between(random, -4.0, 4.0)),
        direction: between(random, 0.0, std::f64::consts::TAU),
        thickness: between(random, 4.0, 14.0),
        length: between(random, 26.0, 38.0),
        bulge: between(random, 0.0, 1.0),
        bands,
        face: if seed % 2 == 0 { 95.0 } else { 205.0 },
        ground: 150.0,
        shadow: if seed % 3 == 0 { (50.0, between(random, -4.0, 4.0)) } else { (0.0, 0.0) },
        noise: between(random, 2.0, 6.0),
        seed,
    }
}

#[test]
fn poles_of_good_contrast_snap_to_a_seventh_of_a_pixel() {
    let mut random = ChaCha8Rng::seed_from_u64(11);
    let (mut with, mut without) = (Tally::default(), Tally::default());
    for seed in 0..40 {
        let pole = any_pole(&mut random, seed);
        let picture = pole.draw();
        let click = near(&mut random, pole.end, 1.5);
        let hint = near(&mut random, pole.other_end(), 1.0);
        let found = snap_pole_end(&picture, click, Some(hint), 6.0);
        let e = with.add(&found, pole.end);
        println!("{seed} thick {:.1} long {:.0} bulge {:.2} shadow {:?}: {e:.2?} {found:.2?}", pole.thickness, pole.length, pole.bulge, pole.shadow);
        let found = snap_pole_end(&picture, click, None, 6.0);
        let e = without.add(&found, pole.end);
        println!("   blind {e:.2?} {:?}", found.err());
    }
    with.print("drawn, with a hint");
    without.print("drawn, without");
}
