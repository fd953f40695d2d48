//! What no end can be found in.

use image::{GrayImage, Luma};
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, Normal};

use super::pole_drawing::DrawnPole;
use crate::scene::FramePoint;
use crate::snap::{NotSnapped, snap_pole_end};

const MIDDLE: FramePoint = FramePoint::new(48.0, 48.0);

fn bar() -> DrawnPole {
    DrawnPole {
        end: FramePoint::new(48.3, 47.6),
        direction: 0.3,
        thickness: 7.0,
        length: 34.0,
        bulge: 0.6,
        bands: vec![60.0, 220.0, 60.0, 220.0],
        face: 200.0,
        ground: 150.0,
        shadow: (0.0, 0.0),
        noise: 3.0,
        seed: 5,
    }
}

#[test]
fn blank_sand_is_refused() {
    for seed in 0..5 {
        let mut random = ChaCha8Rng::seed_from_u64(seed);
        let noise = Normal::new(150.0, 6.0).unwrap();
        let sand = GrayImage::from_fn(96, 96, |_, _| Luma([noise.sample(&mut random) as u8]));
        let hint = Some(FramePoint::new(75.0, 52.0));
        for hint in [hint, None] {
            let found = snap_pole_end(&sand, MIDDLE, hint, 6.0);
            assert!(found.is_err(), "{seed} {found:?}");
        }
    }
}

#[test]
fn a_rail_without_an_end_in_reach_is_refused() {
    let mut rail = bar();
    rail.bands = vec![225.0];
    rail.end = FramePoint::new(-20.0, 40.0);
    rail.direction = 0.1;
    rail.length = 200.0;
    let on_rail = FramePoint::new(48.0, 40.0 + 68.0 * 0.1_f64.tan());
    let hint = FramePoint::new(75.0, 40.0 + 95.0 * 0.1_f64.tan());
    let found = snap_pole_end(&rail.draw(), on_rail, Some(hint), 6.0);
    assert!(found.is_err(), "{found:?}");
}

#[test]
fn an_end_behind_something_else_is_refused() {
    let mut picture = bar().draw();
    // A dark leg with a lighter band stands over the end.
    for y in 0..96 {
        for x in 40..57 {
            let level = if (x + y) % 11 < 5 { 35 } else { 90 };
            picture.put_pixel(x, y, Luma([level]));
        }
    }
    let hint = bar().other_end();
    let found = snap_pole_end(&picture, MIDDLE, Some(hint), 6.0);
    assert!(found.is_err(), "{found:?}");
}

#[test]
fn input_that_cannot_be_used_is_refused_in_words() {
    let picture = bar().draw();
    let nowhere = FramePoint::new(f64::NAN, 3.0);
    assert_eq!(snap_pole_end(&picture, nowhere, None, 6.0), Err(NotSnapped::NotUsable));
    assert_eq!(snap_pole_end(&picture, MIDDLE, Some(MIDDLE), 6.0), Err(NotSnapped::NotUsable));
    assert_eq!(snap_pole_end(&picture, MIDDLE, None, 0.0), Err(NotSnapped::NotUsable));
    let outside = FramePoint::new(-40.0, -40.0);
    assert_eq!(snap_pole_end(&picture, outside, None, 6.0), Err(NotSnapped::AtTheBorder));
    let words = NotSnapped::BeyondReach { away_px: 7.25, reach_px: 6.0 }.to_string();
    assert_eq!(words, "the nearest end found is 7.2 px from the click, beyond 6.0 px");
}
