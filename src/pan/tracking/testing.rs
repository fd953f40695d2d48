//! Pictures for tests: a smooth texture without repeats, seen through any warp.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::SeedableRng;
use rand_distr::{Distribution, Normal};

use super::luma::LumaView;
use crate::scene::PictureSize;

pub(super) struct Painted {
    pub(super) wide: usize,
    pub(super) high: usize,
    pub(super) pixels: Vec<u8>,
}

impl Painted {
    pub(super) fn view(&self) -> LumaView<'_> {
        LumaView::new(self.size(), self.wide, &self.pixels).unwrap()
    }

    pub(super) fn size(&self) -> PictureSize {
        PictureSize { width: self.wide as u32, height: self.high as u32 }
    }

    pub(super) fn add_noise(&mut self, seed: u64, sd: f64) {
        let mut random = ChaCha8Rng::seed_from_u64(seed);
        let normal = Normal::new(0.0, sd).unwrap();
        for value in &mut self.pixels {
            *value = (f64::from(*value) + normal.sample(&mut random)).round() as u8;
        }
    }
}

/// The picture whose pixel shows the texture at `warp` of its middle.
pub(super) fn painted(
    (wide, high): (usize, usize),
    warp: impl Fn(f64, f64) -> (f64, f64),
) -> Painted {
    let mut pixels = Vec::with_capacity(wide * high);
    for y in 0..high {
        for x in 0..wide {
            let (u, v) = warp(x as f64 + 0.5, y as f64 + 0.5);
            pixels.push(texture(u, v).clamp(0.0, 255.0).round() as u8);
        }
    }
    Painted { wide, high, pixels }
}

/// Value noise of three sizes: lattice values joined by a smooth step.
pub(super) fn texture(x: f64, y: f64) -> f64 {
    let layer = |size: f64, salt: u32| {
        let (u, v) = (x / size, y / size);
        let (i, j) = (u.floor(), v.floor());
        let (f, g) = (smooth_step(u - i), smooth_step(v - j));
        let at = |di: f64, dj: f64| lattice((i + di) as i64, (j + dj) as i64, salt);
        let above = at(0.0, 0.0) * (1.0 - f) + at(1.0, 0.0) * f;
        let below = at(0.0, 1.0) * (1.0 - f) + at(1.0, 1.0) * f;
        above * (1.0 - g) + below * g
    };
    30.0 + 75.0 * layer(5.0, 1) + 60.0 * layer(13.0, 2) + 50.0 * layer(41.0, 3)
}

fn smooth_step(f: f64) -> f64 {
    f * f * f * (f * (6.0 * f - 15.0) + 10.0)
}

fn lattice(i: i64, j: i64, salt: u32) -> f64 {
    let mut hash = (i as u64)
        .wrapping_mul(0x9E37_79B9_7F4A_7C15)
        .wrapping_add((j as u64).wrapping_mul(0xC2B2_AE3D_27D4_EB4F))
        .wrapping_add(u64::from(salt).wrapping_mul(0x1656_67B1_9E37_79F9));
    hash ^= hash >> 29;
    hash = hash.wrapping_mul(0xBF58_476D_1CE4_E5B9);
    hash ^= hash >> 32;
    (hash & 0xFFFF) as f64 / 65535.0
}
