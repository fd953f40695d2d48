//! Ground, sky and plants, computed for every pixel through the true camera, rows in parallel.

use rayon::prelude::*;

use super::colour::{Colour, LightColours};
use super::plants::{Plants, Seen};
use super::tile::{Tile, noise};
use crate::arena::plan::Plan;
use crate::arena::scene::{Scene, Surface};
use crate::arena::surroundings::Surroundings;
use crate::scene::{Camera, FramePoint, ScenePoint};

/// Everything far that does not move.
pub(super) struct Backdrop {
    tile: Tile,
    map: GroundMap,
    plants: Plants,
    light: LightColours,
    surface: Surface,
    rail_y: f32,
    away: f32,
    up: [f32; 3],
    sky_noise: Vec<f32>,
}

/// Slow changes over the ground: damp patches and where horses went.
struct GroundMap {
    cells: Vec<[f32; 2]>,
}

const MAP_CELL_M: f32 = 0.25;
const MAP_WIDE: usize = 640;
const MAP_HIGH: usize = 400;
const MAP_X0: f32 = -100.0;
const SKY_SIDE: usize = 256;

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
        let cells = (0..MAP_WIDE * MAP_HIGH)
            .into_par_iter()
            .map(|i| {
                let x = MAP_X0 + MAP_CELL_M * (i % MAP_WIDE) as f32;
                let y = away * (MAP_CELL_M * (i / MAP_WIDE) as f32 - 40.0);
                let (u, v) = (x / 160.0 + 0.5, y / 160.0 + 0.5);
                let tone = 0.55 * noise(u, v, 14, seed)
                    + 0.30 * noise(u, v, 45, seed ^ 21)
                    + 0.15 * noise(u, v, 130, seed ^ 22);
                let near =
                    way.iter().map(|(wx, wy)| (x - wx).hypot(y - wy)).fold(f32::MAX, f32::min);
                let worn = (-(near / 0.9).powi(2)).exp();
                let fence = (-((x / 3.2).powi(2) + (y / 1.6).powi(2))).exp();
                let prints = 0.42 + 0.5 * noise(u, v, 30, seed ^ 23) + 0.75 * worn + 0.6 * fence;
                [2.0 * tone - 1.0, prints.min(1.6)]
            })
            .collect();
        Self { cells }
    }

    fn at(&self, x: f32, y: f32) -> [f32; 2] {
        let u = ((x - MAP_X0) / MAP_CELL_M).clamp(0.0, MAP_WIDE as f32 - 1.01);
        let v = ((y + 40.0) / MAP_CELL_M).clamp(0.0, MAP_HIGH as f32 - 1.01);
        let (i, j) = (u as usize, v as usize);
        let (fu, fv) = (u - i as f32, v - j as f32);
        let cell = |di: usize, dj: usize| self.cells[(j + dj) * MAP_WIDE + i + di];
        let (a, b, c, d) = (cell(0, 0), cell(1, 0), cell(0, 1), cell(1, 1));
        [0, 1].map(|k| {
            let top = a[k] + (b[k] - a[k]) * fu;
            let low = c[k] + (d[k] - c[k]) * fu;
            top + (low - top) * fv
        })
    }
}

/// The camera as rays: direction of each pixel without a matrix product for each.
struct Rays {
    eye: [f32; 3],
    /// Rows of the rotation from the camera to the ground.
    turn: [[f32; 3]; 3],
    focal: f32,
    centre: (f32, f32),
    /// Undoing the lens: factor by squared radius; empty for a lens without distortion.
    undo: Vec<f32>,
    undo_step: f32,
}

impl Rays {
    fn of(camera: &Camera, size: (usize, usize)) -> Self {
        let back = camera.pose.camera_from_ground.inverse();
        let m = back.matrix();
        let turn = [0, 1, 2].map(|r| [0, 1, 2].map(|c| m[(r, c)] as f32));
        let lens = camera.lens;
        let far = (size.0 as f64).hypot(size.1 as f64) / lens.focal_px;
        let entries = 2048;
        let undo_step = (far * far / f64::from(entries)) as f32;
        let undo = if lens.k1 == 0.0 {
            Vec::new()
        } else {
            (0..=entries)
                .map(|i| {
                    let radius = (f64::from(i.max(1)) * f64::from(undo_step)).sqrt();
                    let point =
                        FramePoint::new(lens.centre.x + lens.focal_px * radius, lens.centre.y);
                    (lens.ideal_from_frame(point).x / radius) as f32
                })
                .collect()
        };
        let p = camera.pose.position;
        Self {
            eye: [p.x as f32, p.y as f32, p.z as f32],
            turn,
            focal: lens.focal_px as f32,
            centre: (lens.centre.x as f32, lens.centre.y as f32),
            undo,
            undo_step,
        }
    }

    fn way(&self, x: usize, y: usize) -> [f32; 3] {
        let bx = (x as f32 + 0.5 - self.centre.0) / self.focal;
        let by = (y as f32 + 0.5 - self.centre.1) / self.focal;
        let factor = if self.undo.is_empty() {
            1.0
        } else {
            let at = (bx * bx + by * by) / self.undo_step;
            let i = (at as usize).min(self.undo.len() - 2);
            self.undo[i] + (self.undo[i + 1] - self.undo[i]) * (at - i as f32)
        };
        let (ix, iy) = (bx * factor, by * factor);
        [0, 1, 2].map(|r| self.turn[r][0] * ix + self.turn[r][1] * iy + self.turn[r][2])
    }
}

impl Backdrop {
    pub(super) fn of(
        scene: &Scene,
        plan: &Plan,
        surroundings: &Surroundings,
        light: LightColours,
    ) -> Self {
        let eye = ScenePoint::new(
            scene.filming.along_m,
            -scene.filming.distance_m,
            scene.filming.height_m,
        );
        let away = surroundings.away as f32;
        let sky_noise = (0..SKY_SIDE * SKY_SIDE)
            .map(|i| {
                let (x, y) = ((i % SKY_SIDE) as f32 / 256.0, (i / SKY_SIDE) as f32 / 256.0);
                let seed = scene.seed as u32 ^ 77;
                0.5 * noise(x, y, 5, seed)
                    + 0.27 * noise(x, y, 11, seed ^ 1)
                    + 0.15 * noise(x, y, 23, seed ^ 2)
                    + 0.08 * noise(x, y, 50, seed ^ 3)
            })
            .collect();
        let up = surroundings.up;
        Self {
            tile: Tile::of(scene.ground.surface, scene.seed),
            map: GroundMap::of(scene, plan, away),
            plants: Plants::of(surroundings, eye, scene.seed),
            light,
            surface: scene.ground.surface,
            rail_y: away * surroundings.posts.first().map_or(10.0, |post| post.y as f32),
            away,
            up: [up.x as f32, up.y as f32, up.z as f32],
            sky_noise,
        }
    }

    /// Paints the whole picture into `pixels` (RGBA, opaque).
    pub(super) fn paint(&self, camera: &Camera, pixels: &mut [u8], size: (usize, usize)) {
        let rays = Rays::of(camera, size);
        let seen = self.plants.seen(camera, size);
        pixels.par_chunks_exact_mut(4 * size.0).enumerate().for_each(|(y, row)| {
            self.paint_row(&rays, y, row);
            for plant in seen.iter().filter(|p| (p.rows.0..p.rows.1).contains(&y)) {
                self.paint_plant(&rays, plant, y, row);
            }
        });
    }

    fn paint_row(&self, rays: &Rays, y: usize, row: &mut [u8]) {
        for (x, pixel) in row.chunks_exact_mut(4).enumerate() {
            let way = rays.way(x, y);
            let colour = if way[2] < -1e-4 { self.ground(rays, way) } else { self.sky(way) };
            for c in 0..3 {
                pixel[c] = colour[c].clamp(0.0, 255.0) as u8;
            }
            pixel[3] = 255;
        }
    }

    fn paint_plant(&self, rays: &Rays, plant: &Seen<'_>, y: usize, row: &mut [u8]) {
        let haze = [self.light.haze.r, self.light.haze.g, self.light.haze.b];
        for x in plant.columns.0..plant.columns.1 {
            let Some((colour, opacity)) = plant.at(rays.eye, rays.way(x, y), haze) else {
                continue;
            };
            for (c, colour) in colour.iter().enumerate() {
                let below = f32::from(row[4 * x + c]);
                row[4 * x + c] = (below + (colour - below) * opacity).clamp(0.0, 255.0) as u8;
            }
        }
    }

    fn ground(&self, rays: &Rays, way: [f32; 3]) -> [f32; 3] {
        let along = rays.eye[2] / -way[2];
        let (x, y) = (rays.eye[0] + along * way[0], rays.eye[1] + along * way[1]);
        let level = way[0].hypot(way[1]);
        let length = level.hypot(way[2]);
        let distance = along * length;
        // What one pixel covers: across the view, and along it where the ground recedes.
        let across = along * length / rays.focal;
        let deep = across * length / -way[2];
        let taps = ((deep / across) * 0.5).clamp(1.0, 4.0) as usize;
        let wide = (deep / taps as f32).max(across) * 0.8;
        let (ux, uy) = (way[0] / level, way[1] / level);
        let mut relief = [0.0_f32; 2];
        for tap in 0..taps {
            let shift = deep * ((tap as f32 + 0.5) / taps as f32 - 0.5);
            let [a, b] = self.tile.at(x + ux * shift, y + uy * shift, wide);
            relief[0] += a;
            relief[1] += b;
        }
        let relief = relief.map(|v| v / taps as f32);
        let [tone, prints] = self.map.at(x, self.away * y);
        let beyond = ((self.away * y - self.rail_y - 0.15) / (0.3 + deep)).clamp(0.0, 1.0);
        let surface = self.surface_colour(relief, tone, prints, beyond, (x, y));
        let fog = 1.0 - (-distance / 300.0).exp();
        let haze = [self.light.haze.r, self.light.haze.g, self.light.haze.b];
        [0, 1, 2].map(|c| surface[c] + (haze[c] - surface[c]) * fog)
    }

    fn surface_colour(
        &self,
        relief: [f32; 2],
        tone: f32,
        prints: f32,
        beyond: f32,
        (x, y): (f32, f32),
    ) -> [f32; 3] {
        let sand = Colour::new(204.0, 184.0, 154.0);
        let damp = Colour::new(172.0, 150.0, 122.0);
        let grass = Colour::new(122.0, 136.0, 72.0);
        let dry = Colour::new(160.0, 152.0, 92.0);
        let stripe = 0.03 * ((y / 1.6).floor() as i32).rem_euclid(2) as f32;
        let lawn = grass.mix(dry, (0.45 + 0.75 * tone).clamp(0.0, 1.0)).times(1.0 + stripe);
        let bump = relief[0] * 0.42 + relief[1] * 0.40 * prints;
        let (base, bump) = match self.surface {
            Surface::Sand => (sand.mix(damp, (0.30 + 0.85 * tone).clamp(0.0, 1.0)), bump),
            Surface::Grass => (lawn, relief[0] * 0.72 + relief[1] * 0.08 * prints),
        };
        let near = self.light.lit(base).times(0.97 + bump);
        let far = self.light.lit(lawn).times(0.90 + 0.45 * relief[0] + 0.02 * (x * 0.7).sin());
        let colour = near.mix(far, beyond);
        [colour.r, colour.g, colour.b]
    }

    fn sky(&self, way: [f32; 3]) -> [f32; 3] {
        let length = (way[0] * way[0] + way[1] * way[1] + way[2] * way[2]).sqrt();
        let rise = (way[0] * self.up[0] + way[1] * self.up[1] + way[2] * self.up[2]) / length;
        let forward = (self.away * way[1]).max(0.05 * length);
        let across = way[0] / forward;
        let height = (rise / 0.42).clamp(0.0, 1.0).powf(0.7);
        let mut colour = self.light.sky_low.mix(self.light.sky_top, height);
        let cloud = self.sky_noise_at(0.16 * across + 0.3, 0.5 + 1.1 * rise);
        let cover = ((cloud - 0.50) * 5.0).clamp(0.0, 1.0) * (rise * 9.0).clamp(0.0, 1.0);
        colour = colour.mix(self.light.sky_low.mix(Colour::WHITE, 0.55), 0.55 * cover);
        // Two lines of hills.
        for (k, (base, swing, shade)) in
            [(0.040_f32, 0.040_f32, 0.62_f32), (0.022, 0.030, 0.80)].into_iter().enumerate()
        {
            let line = base
                + swing
                    * (self.sky_noise_at(0.10 * across + 0.4 * k as f32, 0.21 + 0.3 * k as f32)
                        - 0.45);
            let inside = ((line - rise) / 0.0012).clamp(0.0, 1.0);
            let hill = Colour::new(122.0, 134.0, 122.0).mix(self.light.haze, 1.0 - shade);
            colour = colour.mix(hill, inside * 0.9);
        }
        [colour.r, colour.g, colour.b]
    }

    fn sky_noise_at(&self, x: f32, y: f32) -> f32 {
        let (u, v) = (x * SKY_SIDE as f32, y * SKY_SIDE as f32);
        let (u0, v0) = (u.floor(), v.floor());
        let (fu, fv) = (u - u0, v - v0);
        let at = |du: i32, dv: i32| {
            let wrap = |v: f32, d: i32| (v as i32 + d).rem_euclid(SKY_SIDE as i32) as usize;
            self.sky_noise[wrap(v0, dv) * SKY_SIDE + wrap(u0, du)]
        };
        let top = at(0, 0) + (at(1, 0) - at(0, 0)) * fu;
        let low = at(0, 1) + (at(1, 1) - at(0, 1)) * fu;
        top + (low - top) * fv
    }
}
