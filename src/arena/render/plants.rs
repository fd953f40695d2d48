//! Trees and bushes as flat pictures that stand in the scene and face the camera's usual place.
//!
//! A few pictures are painted once, kept at every size, and read per pixel where the true ray
//! meets the plant's plane, so that parallax is that of real trees.

use rayon::prelude::*;
use resvg::tiny_skia::Pixmap;

use super::leaves::{BUSH, HIGH, KINDS, SLENDER, levels_of, painted};
use super::tile::mixed;
use crate::arena::surroundings::Surroundings;
use crate::scene::{Camera, ScenePoint};

/// Where a plant stands and which picture it shows.
pub(super) struct Plant {
    foot: [f32; 3],
    /// Level, towards the camera's usual place, and to the right of it.
    facing: [f32; 2],
    half_wide: f32,
    high: f32,
    picture: usize,
    tone: [f32; 3],
    flip: bool,
}

/// All plants, far ones first, and their pictures.
pub(super) struct Plants {
    pictures: Vec<Vec<Pixmap>>,
    plants: Vec<Plant>,
}

/// A plant as one picture sees it.
pub(super) struct Seen<'a> {
    plant: &'a Plant,
    levels: &'a [Pixmap],
    /// Columns and rows it may cover.
    pub(super) columns: (usize, usize),
    pub(super) rows: (usize, usize),
    level: usize,
    ahead: f32,
    haze: f32,
}

impl Plants {
    pub(super) fn of(surroundings: &Surroundings, eye: ScenePoint, seed: u64) -> Self {
        let pictures = (0..KINDS)
            .into_par_iter()
            .map(|kind| levels_of(painted(kind, mixed(seed as u32 ^ (kind * 977)))))
            .collect();
        let mut plants: Vec<Plant> = surroundings
            .trees
            .iter()
            .map(|tree| {
                let slender = tree.kind > 0.78;
                let picture = if slender { SLENDER } else { tree.seed % 4 };
                let wide = if slender {
                    0.20 * tree.height_m
                } else {
                    tree.crown_m.max(0.27 * tree.height_m)
                };
                plant(tree.foot, eye, wide, tree.height_m, picture, tree.seed)
            })
            .collect();
        plants.extend(bushes(surroundings, eye));
        let distance = |p: &Plant| (p.foot[0] - eye.x as f32).hypot(p.foot[1] - eye.y as f32);
        plants.sort_by(|a, b| distance(b).total_cmp(&distance(a)));
        Self { pictures, plants }
    }

    /// The plants that `camera` sees on a picture of `size`, far ones first.
    pub(super) fn seen(&self, camera: &Camera, size: (usize, usize)) -> Vec<Seen<'_>> {
        self.plants.iter().filter_map(|plant| self.one_seen(plant, camera, size)).collect()
    }

    fn one_seen<'a>(
        &'a self,
        plant: &'a Plant,
        camera: &Camera,
        size: (usize, usize),
    ) -> Option<Seen<'a>> {
        let [fx, fy, fz] = plant.foot.map(f64::from);
        let right = (-f64::from(plant.facing[1]), f64::from(plant.facing[0]));
        let (half, high) = (f64::from(plant.half_wide), f64::from(plant.high));
        let mut low = (f64::MAX, f64::MAX);
        let mut top = (f64::MIN, f64::MIN);
        for (side, up) in [(-1.0, -0.05), (1.0, -0.05), (-1.0, 1.0), (1.0, 1.0)] {
            let corner = ScenePoint::new(
                fx + side * half * right.0,
                fy + side * half * right.1,
                fz + up * high,
            );
            let at = super::canvas::spot(camera, (0.0, 0.0), corner)?;
            let (x, y) = (f64::from(at.x), f64::from(at.y));
            low = (low.0.min(x), low.1.min(y));
            top = (top.0.max(x), top.1.max(y));
        }
        let clip = |low: f64, top: f64, most: usize| {
            let begin = (low.floor() - 2.0).max(0.0) as usize;
            let end = ((top.ceil() + 3.0).max(0.0) as usize).min(most);
            (begin.min(end), end)
        };
        let (columns, rows) = (clip(low.0, top.0, size.0), clip(low.1, top.1, size.1));
        if columns.0 >= columns.1 || rows.0 >= rows.1 {
            return None;
        }
        let eye = camera.pose.position;
        let away = ((fx - eye.x) as f32, (fy - eye.y) as f32);
        let distance = away.0.hypot(away.1);
        let texels_per_pixel = f64::from(HIGH) / high * f64::from(distance) / camera.lens.focal_px;
        let levels = &self.pictures[plant.picture];
        let level = (texels_per_pixel.max(1.0).log2() + 0.25) as usize;
        Some(Seen {
            plant,
            levels,
            columns,
            rows,
            level: level.min(levels.len() - 1),
            ahead: away.0 * plant.facing[0] + away.1 * plant.facing[1],
            haze: 1.0 - (-distance / 260.0).exp(),
        })
    }
}

impl Seen<'_> {
    /// Where the ray `way` from `eye` meets the plant's plane, in texels; `None` behind it.
    pub(super) fn hit(&self, eye: [f32; 3], way: [f32; 3]) -> Option<(f32, f32)> {
        let plant = self.plant;
        let [towards, aside] = plant.facing;
        let share = self.ahead / (way[0] * towards + way[1] * aside);
        if share <= 0.0 {
            return None;
        }
        let from_foot = |k: usize| eye[k] + share * way[k] - plant.foot[k];
        let across = from_foot(1) * towards - from_foot(0) * aside;
        let across = if plant.flip { -across } else { across };
        let picture = &self.levels[self.level];
        let u = (0.5 + 0.5 * across / plant.half_wide) * picture.width() as f32;
        let v = (1.0 - from_foot(2) / plant.high) * picture.height() as f32;
        Some((u, v))
    }

    /// Lays the plant over a block of pixels whose ends meet it at `from` and `to`.
    pub(super) fn fill(&self, from: (f32, f32), to: (f32, f32), haze: [f32; 3], pixels: &mut [u8]) {
        let picture = &self.levels[self.level];
        let tone = self.plant.tone.map(|tone| tone * (1.0 - self.haze));
        let haze = haze.map(|haze| haze * self.haze);
        let step = 1.0 / (pixels.len() / 4) as f32;
        for (i, pixel) in pixels.chunks_exact_mut(4).enumerate() {
            let share = (i as f32 + 0.5) * step;
            let u = from.0 + (to.0 - from.0) * share;
            let v = from.1 + (to.1 - from.1) * share;
            let Some([r, g, b, opacity]) = bilinear(picture, u, v) else { continue };
            if opacity < 0.004 {
                continue;
            }
            let clear = 1.0 - opacity;
            let over = |c: usize, own: f32| {
                (own * tone[c] + haze[c] * opacity + f32::from(pixel[c]) * clear + 0.5) as u8
            };
            let colour = [over(0, r), over(1, g), over(2, b)];
            pixel[..3].copy_from_slice(&colour);
        }
    }
}

/// Premultiplied, 0 to 255 for colour and 0 to 1 for opacity; `None` outside the picture.
#[inline]
fn bilinear(picture: &Pixmap, u: f32, v: f32) -> Option<[f32; 4]> {
    // Pictures have a clear border, so the outermost half texel may be left out.
    let (x, y) = (u - 0.5, v - 0.5);
    let (wide, high) = (picture.width() as usize, picture.height() as usize);
    if x < 0.0 || y < 0.0 || x >= (wide - 1) as f32 || y >= (high - 1) as f32 {
        return None;
    }
    let (i, j) = (x as usize, y as usize);
    let (fx, fy) = (x - i as f32, y - j as f32);
    let at = 4 * (j * wide + i);
    let (top, low) =
        (&picture.data()[at..at + 8], &picture.data()[at + 4 * wide..at + 4 * wide + 8]);
    if (top[3] | top[7] | low[3] | low[7]) == 0 {
        return None;
    }
    let (wa, wb) = ((1.0 - fx) * (1.0 - fy), fx * (1.0 - fy));
    let (wc, wd) = ((1.0 - fx) * fy, fx * fy);
    let mean = |c: usize| {
        f32::from(top[c]) * wa
            + f32::from(top[c + 4]) * wb
            + f32::from(low[c]) * wc
            + f32::from(low[c + 4]) * wd
    };
    Some([mean(0), mean(1), mean(2), mean(3) / 255.0])
}

fn plant(
    foot: ScenePoint,
    eye: ScenePoint,
    half: f64,
    high: f64,
    picture: u32,
    seed: u32,
) -> Plant {
    let (dx, dy) = (foot.x - eye.x, foot.y - eye.y);
    let distance = dx.hypot(dy).max(1e-6);
    let unit = |bits: u32| f32::from((mixed(seed ^ bits) >> 24) as u8) / 255.0;
    let bright = 0.78 + 0.36 * unit(1);
    let warm = 0.90 + 0.22 * unit(2);
    Plant {
        foot: [foot.x as f32, foot.y as f32, foot.z as f32],
        facing: [(dx / distance) as f32, (dy / distance) as f32],
        half_wide: half as f32,
        high: high as f32,
        picture: picture as usize,
        tone: [bright * warm, bright, bright * (2.0 - warm) * 0.96],
        flip: unit(3) > 0.5,
    }
}

/// A loose hedge behind the rail.
fn bushes(surroundings: &Surroundings, eye: ScenePoint) -> Vec<Plant> {
    let rail_y = surroundings.posts.first().map_or(10.0, |post| post.y);
    (0..70_u32)
        .map(|i| {
            let unit = |bits: u32| f64::from(mixed(i * 31 + bits) >> 16) / 65_536.0;
            let x = -100.0 + 2.6 * f64::from(i) + 1.6 * unit(1);
            let y = rail_y + surroundings.away * (4.0 + 2.2 * unit(2));
            let high = 1.3 + 1.5 * unit(3);
            plant(ScenePoint::new(x, y, 0.0), eye, 0.85 * high, high, BUSH, 9000 + i)
        })
        .collect()
}
