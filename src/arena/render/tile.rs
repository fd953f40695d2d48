//! A tile of ground that repeats without seams, kept at every size (mip-mapped), and read with a
//! footprint: near the camera it shows harrow lines and hoof prints, far away their average, so
//! that it neither blurs nor shimmers, and a feature tracker can follow it.

use rayon::prelude::*;

use crate::arena::chance::{Purpose, between, stream};
use crate::arena::scene::Surface;

/// Texels along each side of the finest level.
const SIDE: usize = 2048;
/// Metres along each side.
pub(super) const TILE_M: f32 = 12.288;

/// Two reliefs: the worked surface and the hoof prints on it. 128 is level.
pub(super) struct Tile {
    levels: Vec<Level>,
}

struct Level {
    side: usize,
    texels: Vec<[u8; 2]>,
}

impl Tile {
    pub(super) fn of(surface: Surface, seed: u64) -> Self {
        let worked: Vec<f32> = (0..SIDE * SIDE)
            .into_par_iter()
            .map(|i| {
                let (x, y) = ((i % SIDE) as f32 / SIDE as f32, (i / SIDE) as f32 / SIDE as f32);
                match surface {
                    Surface::Sand => sand_height(x, y, seed as u32),
                    Surface::Grass => grass_height(x, y, seed as u32),
                }
            })
            .collect();
        let prints = print_heights(seed);
        let texels = (0..SIDE * SIDE)
            .into_par_iter()
            .map(|i| [shade(&worked, i, 300.0), shade(&prints, i, 260.0)])
            .collect();
        let mut levels = vec![Level { side: SIDE, texels }];
        while levels[levels.len() - 1].side > 4 {
            let next = levels[levels.len() - 1].halved();
            levels.push(next);
        }
        Self { levels }
    }

    /// The level whose texels are as wide as `wide_m`, and how far to go on to the next one.
    ///
    /// Near a level's own width only that level is read, so that half of all places cost half.
    pub(super) fn level(&self, wide_m: f32) -> (usize, f32) {
        let fine = TILE_M / SIDE as f32;
        let most = self.levels.len() - 1;
        let level = (wide_m / fine).max(1.0).log2().min(most as f32);
        let share = ((level.fract() - 0.25) * 2.0).clamp(0.0, 1.0);
        let low = (level as usize).min(most);
        match (share, low) {
            (_, low) if low == most => (most, 0.0),
            (1.0, low) => (low + 1, 0.0),
            (share, low) => (low, share),
        }
    }

    /// Both reliefs (−1 to 1) at (`x`, `y`) metres, on a level found by [`Tile::level`].
    #[inline]
    pub(super) fn at(&self, x: f32, y: f32, level: usize, share: f32) -> (f32, f32) {
        let a = self.levels[level].at(x, y);
        if share == 0.0 {
            return a;
        }
        let b = self.levels[level + 1].at(x, y);
        (a.0 + (b.0 - a.0) * share, a.1 + (b.1 - a.1) * share)
    }
}

impl Level {
    fn halved(&self) -> Self {
        let side = self.side / 2;
        let texels = (0..side * side)
            .into_par_iter()
            .map(|i| {
                let (x, y) = (2 * (i % side), 2 * (i / side));
                let four = [(0, 0), (1, 0), (0, 1), (1, 1)]
                    .map(|(dx, dy)| self.texels[(y + dy) * self.side + x + dx]);
                let mean =
                    |c: usize| ((four.iter().map(|t| u32::from(t[c])).sum::<u32>() + 2) / 4) as u8;
                [mean(0), mean(1)]
            })
            .collect();
        Self { side, texels }
    }

    /// Bilinear in whole numbers: 256 parts of a texel; shifts and masks wrap negative places.
    #[inline]
    fn at(&self, x: f32, y: f32) -> (f32, f32) {
        let per_m = 256.0 * self.side as f32 / TILE_M;
        let (u, v) = ((x * per_m) as i32 - 128, (y * per_m) as i32 - 128);
        let (fu, fv) = (u & 255, v & 255);
        let mask = self.side as i32 - 1;
        let (i, j) = ((u >> 8) & mask, (v >> 8) & mask);
        let (i1, j1) = ((i + 1) & mask, (j + 1) & mask);
        let side = self.side as i32;
        let texel = |i: i32, j: i32| self.texels[(j * side + i) as usize];
        let (a, b, c, d) = (texel(i, j), texel(i1, j), texel(i, j1), texel(i1, j1));
        let (wa, wb) = ((256 - fu) * (256 - fv), fu * (256 - fv));
        let (wc, wd) = ((256 - fu) * fv, fu * fv);
        let mean = |a: u8, b: u8, c: u8, d: u8| {
            let sum = i32::from(a) * wa + i32::from(b) * wb + i32::from(c) * wc + i32::from(d) * wd;
            sum as f32 * (1.0 / (65_536.0 * 127.0)) - 128.0 / 127.0
        };
        (mean(a[0], b[0], c[0], d[0]), mean(a[1], b[1], c[1], d[1]))
    }
}

/// A slope towards the light is bright, a hollow dark.
fn shade(heights: &[f32], i: usize, gain: f32) -> u8 {
    let (x, y) = (i % SIDE, i / SIDE);
    let at = |dx: usize, dy: usize| heights[((y + dy) % SIDE) * SIDE + (x + dx) % SIDE];
    // Light comes from the low x, low y side: a rise towards it is lit.
    let slope = (at(1, 1) - at(SIDE - 1, SIDE - 1)) + 0.6 * (at(0, 1) - at(0, SIDE - 1));
    let hollow = at(0, 0);
    (128.0 + gain * (slope + 0.055 * hollow)).clamp(0.0, 255.0) as u8
}

fn sand_height(x: f32, y: f32, seed: u32) -> f32 {
    let warp = 2.4 * (noise(x, y, 6, seed) - 0.5) + 0.5 * (noise(x, y, 40, seed ^ 7) - 0.5);
    let tau = std::f32::consts::TAU;
    // A tooth every 48 mm, a pass of the harrow every 2.05 m.
    let teeth = (tau * (256.0 * y + warp)).sin() * (0.35 + noise(x, y, 24, seed ^ 11));
    let pass = (tau * (6.0 * y + 0.12 * warp)).sin().abs().powi(24);
    let clods = noise(x, y, 96, seed ^ 1) * 0.9
        + noise(x, y, 192, seed ^ 2) * 0.75
        + noise(x, y, 400, seed ^ 3) * 0.45
        + noise(x, y, 800, seed ^ 4) * 0.28;
    let broad = 2.2 * noise(x, y, 20, seed ^ 5) + 2.6 * noise(x, y, 44, seed ^ 6);
    0.05 * teeth + 0.22 * pass + 0.55 * clods + 1.0 * broad
}

fn grass_height(x: f32, y: f32, seed: u32) -> f32 {
    let blades = noise(x, 0.35 * y + 0.65 * (y * 3.0).fract() / 3.0, 900, seed ^ 1)
        + noise(x, y, 600, seed ^ 2)
        + 0.8 * noise(x, y, 300, seed ^ 3);
    let tufts = 1.3 * noise(x, y, 60, seed ^ 4) + 1.6 * noise(x, y, 24, seed ^ 5);
    0.75 * blades + 1.1 * tufts
}

/// Hollows with a rim, scattered.
fn print_heights(seed: u64) -> Vec<f32> {
    let mut random = stream(seed, Purpose::Ground);
    let mut heights = vec![0.0_f32; SIDE * SIDE];
    let per_m = SIDE as f64 / f64::from(TILE_M);
    for _ in 0..620 {
        let (cx, cy) =
            (between(&mut random, 0.0, SIDE as f64), between(&mut random, 0.0, SIDE as f64));
        let radius = between(&mut random, 0.055, 0.075) * per_m;
        let depth = between(&mut random, 0.5, 1.0) as f32;
        let turn = between(&mut random, -0.5, 0.5);
        let reach = (2.0 * radius) as i64;
        let (sin, cos) = turn.sin_cos();
        for dy in -reach..=reach {
            for dx in -reach..=reach {
                let (px, py) =
                    (dx as f64 * cos + dy as f64 * sin, dy as f64 * cos - dx as f64 * sin);
                let r = (px / 1.12).hypot(py) / radius;
                let bowl = -(-(r * 1.15).powi(4)).exp();
                let rim = 0.5 * (-((r - 1.25) / 0.22).powi(2)).exp();
                // The toe digs deeper.
                let toe = 1.0 + 0.35 * (px / radius).clamp(-1.0, 1.0);
                let at = |v: f64, d: i64| (v as i64 + d).rem_euclid(SIDE as i64) as usize;
                heights[at(cy, dy) * SIDE + at(cx, dx)] += depth * (bowl * toe + rim) as f32;
            }
        }
    }
    heights
}

/// Smooth noise, 0 to 1, that repeats after the unit square; `cells` lattice cells along a side.
pub(super) fn noise(x: f32, y: f32, cells: u32, seed: u32) -> f32 {
    let (u, v) = (x * cells as f32, y * cells as f32);
    let (u0, v0) = (u.floor(), v.floor());
    let smooth = |f: f32| f * f * (3.0 - 2.0 * f);
    let (fu, fv) = (smooth(u - u0), smooth(v - v0));
    let wrap = |i: f32| (i as i32).rem_euclid(cells as i32) as u32;
    let (i, j) = (wrap(u0), wrap(v0));
    let (i1, j1) = ((i + 1) % cells, (j + 1) % cells);
    let a = lattice(i, j, seed) + (lattice(i1, j, seed) - lattice(i, j, seed)) * fu;
    let b = lattice(i, j1, seed) + (lattice(i1, j1, seed) - lattice(i, j1, seed)) * fu;
    a + (b - a) * fv
}

fn lattice(i: u32, j: u32, seed: u32) -> f32 {
    (mixed(i ^ mixed(j ^ mixed(seed ^ 0x9e37_79b9))) >> 8) as f32 / 16_777_216.0
}

/// A 32-bit integer hash with good avalanche (constants of the "lowbias32" search, public domain).
pub(super) fn mixed(mut x: u32) -> u32 {
    x ^= x >> 16;
    x = x.wrapping_mul(0x7feb_352d);
    x ^= x >> 15;
    x = x.wrapping_mul(0x846c_a68b);
    x ^ (x >> 16)
}
