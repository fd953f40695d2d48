//! Poles drawn with known edges.

use image::GrayImage;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, Normal, Uniform};

use super::pole_drawing::{DrawnPole, SIDE};
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
        face: if seed.is_multiple_of(2) { 95.0 } else { 205.0 },
        ground: 150.0,
        shadow: if seed.is_multiple_of(3) {
            (50.0, between(random, -4.0, 4.0))
        } else {
            (0.0, 0.0)
        },
        noise: between(random, 2.0, 6.0),
        seed,
    }
}

#[test]
fn drawn_poles_snap() {
    let mut random = ChaCha8Rng::seed_from_u64(11);
    let (mut with, mut without, mut good) = (Tally::default(), Tally::default(), Tally::default());
    for seed in 0..40 {
        let pole = any_pole(&mut random, seed);
        let picture = pole.draw();
        let click = near(&mut random, pole.end, 1.5);
        let hint = near(&mut random, pole.other_end(), 1.0);
        let found = snap_pole_end(&picture, click, Some(hint), 6.0);
        with.add(&found, pole.end);
        // Good contrast: noise of four levels at most, and no shadow of the pole's own darkness.
        if pole.noise < 4.0 && pole.shadow.0 == 0.0 {
            good.add(&found, pole.end);
        }
        without.add(&snap_pole_end(&picture, click, None, 6.0), pole.end);
    }
    with.print("drawn, with a hint");
    good.print("drawn, with a hint, good contrast");
    without.print("drawn, without a hint");
    assert!(with.share() > 0.9 && without.share() > 0.8);
    assert!(good.rms() < 0.15, "{}", good.rms());
    assert!(with.rms() < 0.5 && without.rms() < 0.5);
}

/// A click and a hint on one of three poles.
fn clicked(seed: u64) -> (DrawnPole, FramePoint, FramePoint) {
    let mut random = ChaCha8Rng::seed_from_u64(90 + seed);
    let pole = any_pole(&mut random, 3 * seed + 1);
    let click = near(&mut random, pole.end, 1.5);
    let hint = near(&mut random, pole.other_end(), 1.0);
    (pole, click, hint)
}

#[test]
fn a_picture_moved_by_whole_pixels_moves_the_answer_alike() {
    for seed in 0..3 {
        let (pole, click, hint) = clicked(seed);
        let picture = pole.draw();
        let mut moved = GrayImage::new(SIDE + 13, SIDE + 7);
        image::imageops::replace(&mut moved, &picture, 13, 7);
        let shift = |p: FramePoint| FramePoint::new(p.x + 13.0, p.y + 7.0);
        let one = snap_pole_end(&picture, click, Some(hint), 6.0).unwrap();
        let two = snap_pole_end(&moved, shift(click), Some(shift(hint)), 6.0).unwrap();
        assert!(shift(one.point).distance(two.point) < 1e-3, "{one:?} {two:?}");
        assert!((one.along_sd_px - two.along_sd_px).abs() < 1e-3);
    }
}

#[test]
fn a_mirrored_picture_gives_the_mirrored_answer() {
    for seed in 0..3 {
        let (pole, click, hint) = clicked(seed);
        let picture = pole.draw();
        let mirrored = image::imageops::flip_horizontal(&picture);
        let mirror = |p: FramePoint| FramePoint::new(f64::from(SIDE) - p.x, p.y);
        let one = snap_pole_end(&picture, click, Some(hint), 6.0).unwrap();
        let two = snap_pole_end(&mirrored, mirror(click), Some(mirror(hint)), 6.0).unwrap();
        // Near-equal fits are met in another order: that moves the mean of them a little.
        assert!(mirror(one.point).distance(two.point) < 0.3 * one.along_sd_px, "{one:?} {two:?}");
    }
}
