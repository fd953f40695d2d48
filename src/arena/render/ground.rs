//! The ground under one pixel row: where it is, how much of it a pixel covers, what colour.
//!
//! Exact at the ends of short blocks of pixels, straight between: over sixteen pixels the ray's
//! foot bends by less than a tenth of a millimetre.

use rayon::prelude::*;

use super::colour::{Colour, LightColours};
use super::rays::Rays;
use super::tile::{Tile, noise};
use crate::arena::plan::Plan;
use crate::arena::scene::{Scene, Surface};

/// The ground of a scene.
pub(super) struct Ground {
    tile: Tile,
    map: GroundMap,
    light: LightColours,
    surface: Surface,
    rail_y: f32,
    away: f32,
}

/// One end of a block: foot of the ray and what varies slowly there.
#[derive(Clone, Copy)]
pub(super) struct GroundEnd {
    foot: (f32, f32),
    colour: [f32; 3],
    /// How much the worked surface and the prints change the light.
    relief: (f32, f32),
    haze: f32,
    /// Metres that a pixel covers across and along the view, and the view's level direction.
    across: f32,
    deep: f32,
    level: (f32, f32),
}

/// Farther ground is all haze and needs no texture, metres.
const FARTHEST_M: f32 = 500.0;

impl Ground {
    pub(super) fn of(
        scene: &Scene,
        plan: &Plan,
        light: LightColours,
        away: f32,
        rail_y: f32,
    ) -> Self {
        Self {
            tile: Tile::of(scene.ground.surface, scene.seed),
            map: GroundMap::of(scene, plan, away),
            light,
            surface: scene.ground.surface,
            rail_y,
            away,
        }
    }

    /// Where the ray `way` meets the ground; `None` above the horizon.
    pub(super) fn end(&self, rays: &Rays, way: [f32; 3]) -> Option<GroundEnd> {
        if way[2] > -1e-4 {
            return None;
        }
        let along = rays.eye[2] / -way[2];
        let level = (way[0] * way[0] + way[1] * way[1]).sqrt();
        let length = (level * level + way[2] * way[2]).sqrt();
        let distance = along * length;
        let along = along.min(FARTHEST_M / level);
        let foot = (rays.eye[0] + along * way[0], rays.eye[1] + along * way[1]);
        let across = along * length / rays.focal;
        let deep = across * length / -way[2];
        let [tone, prints] = self.map.at(foot.0, self.away * foot.1);
        let beyond = ((self.away * foot.1 - self.rail_y - 0.15) / (0.3 + deep)).clamp(0.0, 1.0);
        let (colour, relief) = self.surface(tone, prints, beyond, foot.1);
        Some(GroundEnd {
            foot,
            colour,
            relief,
            haze: 1.0 - (-distance / 300.0).exp(),
            across,
            deep,
            level: (way[0] / level, way[1] / level),
        })
    }

    /// Lit colour and the strength of both reliefs.
    fn surface(&self, tone: f32, prints: f32, beyond: f32, y: f32) -> ([f32; 3], (f32, f32)) {
        let grass = Colour::new(122.0, 136.0, 72.0);
        let dry = Colour::new(160.0, 152.0, 92.0);
        let stripe = 0.03 * ((y / 1.6).floor() as i32).rem_euclid(2) as f32;
        let lawn = grass.mix(dry, (0.45 + 0.75 * tone).clamp(0.0, 1.0)).times(1.0 + stripe);
        let (near, relief) = match self.surface {
            Surface::Sand => {
                let sand = Colour::new(204.0, 184.0, 154.0);
                let damp = Colour::new(172.0, 150.0, 122.0);
                (sand.mix(damp, (0.30 + 0.85 * tone).clamp(0.0, 1.0)), (0.42, 0.40 * prints))
            }
            Surface::Grass => (lawn, (0.72, 0.08 * prints)),
        };
        let colour = self.light.lit(near.times(0.97).mix(lawn.times(0.90), beyond));
        let mix = |a: f32, b: f32| a + (b - a) * beyond;
        ([colour.r, colour.g, colour.b], (mix(relief.0, 0.45), mix(relief.1, 0.0)))
    }

    /// Fills the pixels of one block between two ends.
    pub(super) fn fill(&self, from: &GroundEnd, to: &GroundEnd, pixels: &mut [u8]) {
        let count = pixels.len() / 4;
        let taps = ((from.deep / from.across) * 0.4).clamp(1.0, 3.0) as usize;
        let wide = (from.deep / taps as f32).max(from.across) * 0.8;
        let (fine, share) = self.tile.level(wide);
        let far = self.light.haze.mix(Colour::new(104.0, 118.0, 74.0), 0.62);
        let haze = [far.r, far.g, far.b];
        let step = 1.0 / count as f32;
        let stride = from.deep / taps as f32;
        let first = stride * (0.5 - 0.5 * taps as f32);
        for (i, pixel) in pixels.chunks_exact_mut(4).enumerate() {
            let u = (i as f32 + 0.5) * step;
            let mix = |a: f32, b: f32| a + (b - a) * u;
            let (x, y) = (mix(from.foot.0, to.foot.0), mix(from.foot.1, to.foot.1));
            let (mut worked, mut prints) = (0.0_f32, 0.0_f32);
            // Wider than half a metre the relief is its own average: nothing.
            let taps = if wide > 0.5 { 0 } else { taps };
            for tap in 0..taps {
                let shift = first + stride * tap as f32;
                let at = (x + from.level.0 * shift, y + from.level.1 * shift);
                let (a, b) = self.tile.at(at.0, at.1, fine, share);
                worked += a;
                prints += b;
            }
            let per_tap = 1.0 / taps.max(1) as f32;
            let relief = (mix(from.relief.0, to.relief.0) * worked
                + mix(from.relief.1, to.relief.1) * prints)
                * per_tap;
            let fog = mix(from.haze, to.haze);
            for c in 0..3 {
                let lit = mix(from.colour[c], to.colour[c]) * (1.0 + relief);
                pixel[c] = (lit + (haze[c] - lit) * fog + 0.5) as u8;
            }
            pixel[3] = 255;
        }
    }
}

/// Slow changes over the ground: damp patches and where horses went.
struct GroundMap {
    cells: Vec<[f32; 2]>,
}

const CELL_M: f32 = 0.25;
const WIDE: usize = 640;
const HIGH: usize = 400;
const X0: f32 = -100.0;
const Y0: f32 = -40.0;

impl GroundMap {
    fn of(scene: &Scene, plan: &Plan, away: f32) -> Self {
        let way: Vec<(f32, f32)> = (0..=(plan.end_s * 20.0) as u32 + 20)
            .map(|i| {
                let along = plan.along.at(f64::from(i) / 20.0 - 0.5);
                let point = scene.track.at(along).0;
                (point.x as f32, point.y as f32)
            })
            .collect();
        let seed = scene.seed as u32;
        let cell = |i: usize| {
            let x = X0 + CELL_M * (i % WIDE) as f32;
            let y = away * (CELL_M * (i / WIDE) as f32 + Y0);
            let (u, v) = (x / 160.0 + 0.5, y / 160.0 + 0.5);
            let tone = 0.55 * noise(u, v, 14, seed)
                + 0.30 * noise(u, v, 45, seed ^ 21)
                + 0.15 * noise(u, v, 130, seed ^ 22);
            let squared = |(wx, wy): &(f32, f32)| (x - wx) * (x - wx) + (y - wy) * (y - wy);
            let near = way.iter().map(squared).fold(f32::MAX, f32::min);
            let worn = (-near / (0.9 * 0.9)).exp();
            let fence = (-((x / 3.2).powi(2) + (y / 1.6).powi(2))).exp();
            let prints = 0.42 + 0.5 * noise(u, v, 30, seed ^ 23) + 0.75 * worn + 0.6 * fence;
            [2.0 * tone - 1.0, prints.min(1.6)]
        };
        Self { cells: (0..WIDE * HIGH).into_par_iter().map(cell).collect() }
    }

    fn at(&self, x: f32, y: f32) -> [f32; 2] {
        let u = ((x - X0) / CELL_M).clamp(0.0, WIDE as f32 - 1.01);
        let v = ((y - Y0) / CELL_M).clamp(0.0, HIGH as f32 - 1.01);
        let (i, j) = (u as usize, v as usize);
        let (fu, fv) = (u - i as f32, v - j as f32);
        let cell = |di: usize, dj: usize| self.cells[(j + dj) * WIDE + i + di];
        let (a, b, c, d) = (cell(0, 0), cell(1, 0), cell(0, 1), cell(1, 1));
        let mix = |k: usize| {
            let top = a[k] + (b[k] - a[k]) * fu;
            let low = c[k] + (d[k] - c[k]) * fu;
            top + (low - top) * fv
        };
        [mix(0), mix(1)]
    }
}
