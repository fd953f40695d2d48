//! Ground, sky and plants through the true camera, rows in parallel, in short blocks of pixels:
//! exact at a block's ends, straight between.

use rayon::prelude::*;

use super::colour::LightColours;
use super::ground::Ground;
use super::plants::{Plants, Seen};
use super::rays::Rays;
use super::sky::Sky;
use crate::arena::plan::Plan;
use crate::arena::scene::Scene;
use crate::arena::surroundings::Surroundings;
use crate::scene::{Camera, ScenePoint};

/// Everything that does not move and is not built.
pub(super) struct Backdrop {
    ground: Ground,
    sky: Sky,
    plants: Plants,
    haze: [f32; 3],
}

/// Pixels in a block.
const BLOCK: usize = 16;

impl Backdrop {
    pub(super) fn of(
        scene: &Scene,
        plan: &Plan,
        surroundings: &Surroundings,
        light: LightColours,
    ) -> Self {
        let filming = &scene.filming;
        let eye = ScenePoint::new(filming.along_m, -filming.distance_m, filming.height_m);
        let away = surroundings.away as f32;
        let rail_y = away * surroundings.posts.first().map_or(10.0, |post| post.y as f32);
        let up = [surroundings.up.x, surroundings.up.y, surroundings.up.z].map(|v| v as f32);
        Self {
            ground: Ground::of(scene, plan, light, away, rail_y),
            sky: Sky::of(scene.seed, light, away, up),
            plants: Plants::of(surroundings, eye, scene.seed),
            haze: [light.haze.r, light.haze.g, light.haze.b],
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
        let middle = y as f32 + 0.5;
        let mut x = 0;
        let mut from = rays.way(0.0, middle);
        for block in row.chunks_mut(4 * BLOCK) {
            let count = block.len() / 4;
            let to = rays.way((x + count) as f32, middle);
            match (self.ground.end(rays, from), self.ground.end(rays, to)) {
                (Some(a), Some(b)) => self.ground.fill(&a, &b, block),
                _ => self.sky.fill(&self.sky.end(from), &self.sky.end(to), block),
            }
            x += count;
            from = to;
        }
    }

    fn paint_plant(&self, rays: &Rays, plant: &Seen<'_>, y: usize, row: &mut [u8]) {
        let middle = y as f32 + 0.5;
        let (begin, end) = plant.columns;
        let mut x = begin;
        for block in row[4 * begin..4 * end].chunks_mut(4 * BLOCK) {
            let count = block.len() / 4;
            let ends = [x, x + count].map(|x| plant.hit(rays.eye, rays.way(x as f32, middle)));
            if let [Some(from), Some(to)] = ends {
                plant.fill(from, to, self.haze, block);
            }
            x += count;
        }
    }
}
