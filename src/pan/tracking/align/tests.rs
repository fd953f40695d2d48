//! Alignment against shifts that are known.

use nalgebra::Matrix2;

use super::*;
use crate::pan::tracking::patch::Patch;
use crate::pan::tracking::pyramid::Pyramid;
use crate::pan::tracking::testing::{Painted, painted};

const SIZE: (usize, usize) = (200, 160);

fn template(picture: &Painted, at: FramePoint, level: usize) -> Template {
    let pyramid = Pyramid::of(picture.view(), 3);
    Patch::cut(&pyramid, at).template(level, &Matrix2::identity()).unwrap()
}

#[test]
fn known_shifts_are_found_to_a_hundredth_of_a_pixel() {
    let first = painted(SIZE, |x, y| (x, y));
    for (dx, dy) in [(0.5, 0.0), (0.25, -0.7), (1.37, 0.81), (-2.11, 1.93), (0.03, 0.49)] {
        let later = painted(SIZE, |x, y| (x - dx, y - dy));
        for at in [(60.0, 50.0), (100.5, 80.25), (140.0, 110.0)] {
            let at = FramePoint::new(at.0, at.1);
            let found = align(later.view(), 0, &template(&first, at, 0), at).unwrap();
            let off = found.at.distance(FramePoint::new(at.x + dx, at.y + dy));
            assert!(off < 0.012, "{dx} {dy}: {off}");
            assert!(found.likeness > 0.999);
            let back = way_back(later.view(), 0, &template(&first, at, 0), found.at).unwrap();
            assert!(back < 0.02, "{back}");
        }
    }
}

#[test]
fn brightness_and_contrast_do_not_move_a_point() {
    let first = painted(SIZE, |x, y| (x, y));
    let mut later = painted(SIZE, |x, y| (x - 0.6, y + 0.3));
    later.pixels.iter_mut().for_each(|v| *v = (0.6 * f32::from(*v) + 70.0).round() as u8);
    let at = FramePoint::new(100.0, 80.0);
    let found = align(later.view(), 0, &template(&first, at, 0), at).unwrap();
    assert!(found.at.distance(FramePoint::new(100.6, 79.7)) < 0.02);
}

#[test]
fn the_noise_foretells_the_error() {
    let mut sums = (0.0, 0.0);
    for seed in 0..40 {
        let mut first = painted(SIZE, |x, y| (x, y));
        let mut later = painted(SIZE, |x, y| (x - 0.4, y - 0.2));
        first.add_noise(2 * seed, 4.0);
        later.add_noise(2 * seed + 1, 4.0);
        let at = FramePoint::new(90.0, 70.0);
        let found = align(later.view(), 0, &template(&first, at, 0), at).unwrap();
        let off = found.at.distance(FramePoint::new(90.4, 70.2));
        sums.0 += off * off / 2.0;
        sums.1 += f64::from(found.noise_px).powi(2);
    }
    let ratio = (sums.0 / sums.1).sqrt();
    // The spline makes neighbours' noise alike, which the residual does not show: `sd_of` makes up
    // for that.
    assert!((0.8..3.2).contains(&ratio), "{ratio}");
}

#[test]
fn a_covered_point_is_lost_or_its_way_back_misses() {
    let first = painted(SIZE, |x, y| (x, y));
    for cover in 2..=9 {
        let mut later = painted(SIZE, |x, y| (x, y));
        let at = FramePoint::new(100.0, 80.0);
        // Something else slides over it from the left.
        for y in 60..100 {
            for x in 80..(93 + cover) {
                later.pixels[y * SIZE.0 + x] = if (x / 3 + y / 4) % 2 == 0 { 30 } else { 210 };
            }
        }
        let template = template(&first, at, 0);
        let Some(found) = align(later.view(), 0, &template, at) else { continue };
        let back = way_back(later.view(), 0, &template, found.at).unwrap_or(9.0);
        let held = found.likeness > 0.75 && back < 0.35;
        assert!(!held || found.at.distance(at) < 0.5, "{cover}: {found:?} {back}");
    }
}

#[test]
fn a_bare_wall_and_an_edge_hold_no_point() {
    let bare = painted(SIZE, |_, _| (3.0, 3.0));
    let at = FramePoint::new(100.0, 80.0);
    assert!(align(bare.view(), 0, &template(&bare, at, 0), at).is_none());
    let mut edge = painted(SIZE, |_, _| (3.0, 3.0));
    for (i, value) in edge.pixels.iter_mut().enumerate() {
        *value = if i % SIZE.0 < 100 { 40 } else { 180 };
    }
    assert!(align(edge.view(), 0, &template(&edge, at, 0), at).is_none());
}
