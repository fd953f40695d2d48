//! Trees and bushes as flat pictures that stand in the scene and face the camera's usual place.
//!
//! A few pictures are painted once, kept at every size, and read per pixel where the true ray
//! meets the plant's plane, so that parallax is that of real trees.

use rayon::prelude::*;
use resvg::tiny_skia::{FillRule, Paint, PathBuilder, Pixmap, Transform};

use super::colour::Colour;
use super::tile::mixed;
use crate::arena::surroundings::Surroundings;
use crate::scene::{Camera, ScenePoint};

const WIDE: u32 = 512;
const HIGH: u32 = 640;
/// Kinds of picture: four round trees, two slender ones, two bushes.
const KINDS: u32 = 8;

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
                let picture = if slender { 4 + tree.seed % 2 } else { tree.seed % 4 };
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
    /// Colour (not premultiplied) and opacity where the ray `way` from `eye` meets the plant.
    pub(super) fn at(
        &self,
        eye: [f32; 3],
        way: [f32; 3],
        haze: [f32; 3],
    ) -> Option<([f32; 3], f32)> {
        let plant = self.plant;
        let towards = way[0] * plant.facing[0] + way[1] * plant.facing[1];
        let share = self.ahead / towards;
        if share <= 0.0 {
            return None;
        }
        let hit = [eye[0] + share * way[0], eye[1] + share * way[1], eye[2] + share * way[2]];
        let across =
            (hit[1] - plant.foot[1]) * plant.facing[0] - (hit[0] - plant.foot[0]) * plant.facing[1];
        let across = if plant.flip { -across } else { across };
        let (u, v) =
            (0.5 + 0.5 * across / plant.half_wide, 1.0 - (hit[2] - plant.foot[2]) / plant.high);
        let [r, g, b, a] = bilinear(&self.levels[self.level], u, v)?;
        if a <= 0.004 {
            return None;
        }
        let mix = |c: f32, tone: f32, haze: f32| {
            let own = c / a * tone;
            own + (haze - own) * self.haze
        };
        let colour = [
            mix(r, plant.tone[0], haze[0]),
            mix(g, plant.tone[1], haze[1]),
            mix(b, plant.tone[2], haze[2]),
        ];
        Some((colour, a))
    }
}

/// Premultiplied, 0 to 255 for colour and 0 to 1 for opacity.
fn bilinear(picture: &Pixmap, u: f32, v: f32) -> Option<[f32; 4]> {
    let (wide, high) = (picture.width() as i32, picture.height() as i32);
    let (x, y) = (u * wide as f32 - 0.5, v * high as f32 - 0.5);
    if x < -1.0 || y < -1.0 || x >= wide as f32 || y >= high as f32 {
        return None;
    }
    let (x0, y0) = (x.floor(), y.floor());
    let (fx, fy) = (x - x0, y - y0);
    let data = picture.data();
    let texel = |i: i32, j: i32| -> [f32; 4] {
        if i < 0 || j < 0 || i >= wide || j >= high {
            return [0.0; 4];
        }
        let at = 4 * (j * wide + i) as usize;
        [0, 1, 2, 3].map(|c| f32::from(data[at + c]))
    };
    let (i, j) = (x0 as i32, y0 as i32);
    let (a, b, c, d) = (texel(i, j), texel(i + 1, j), texel(i, j + 1), texel(i + 1, j + 1));
    let mixed = [0, 1, 2, 3].map(|k| {
        let top = a[k] + (b[k] - a[k]) * fx;
        let low = c[k] + (d[k] - c[k]) * fx;
        top + (low - top) * fy
    });
    Some([mixed[0], mixed[1], mixed[2], mixed[3] / 255.0])
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
            plant(ScenePoint::new(x, y, 0.0), eye, 0.85 * high, high, 6 + i % 2, 9000 + i)
        })
        .collect()
}

/// Halved and halved again.
fn levels_of(picture: Pixmap) -> Vec<Pixmap> {
    let mut levels = vec![picture];
    while let Some(next) = levels.last().filter(|p| p.width() > 16).and_then(halved) {
        levels.push(next);
    }
    levels
}

fn halved(from: &Pixmap) -> Option<Pixmap> {
    let (wide, high) = (from.width() / 2, from.height() / 2);
    let mut to = Pixmap::new(wide, high)?;
    let stride = 4 * from.width() as usize;
    let data = from.data();
    for (i, out) in to.data_mut().chunks_exact_mut(4).enumerate() {
        let (x, y) = (i % wide as usize, i / wide as usize);
        let at = 2 * y * stride + 8 * x;
        for c in 0..4 {
            let sum: u32 =
                [0, 4, stride, stride + 4].iter().map(|d| u32::from(data[at + d + c])).sum();
            out[c] = ((sum + 2) / 4) as u8;
        }
    }
    Some(to)
}

/// Paints one kind of plant: a trunk, then leaf clumps from the shaded depth to the lit crown.
fn painted(kind: u32, seed: u32) -> Pixmap {
    let mut picture = Pixmap::new(WIDE, HIGH).unwrap_or_else(|| unreachable!("a fixed size"));
    let is_bush = kind >= 6;
    let is_slender = (4..6).contains(&kind);
    let (wide, high) = (WIDE as f32, HIGH as f32);
    if !is_bush {
        trunk(&mut picture, wide, high);
    }
    let (cx, cy) = (0.5 * wide, if is_bush { 0.52 * high } else { 0.42 * high });
    let (rx, ry) = match (is_bush, is_slender) {
        (true, _) => (0.45 * wide, 0.46 * high),
        (_, true) => (0.34 * wide, 0.40 * high),
        _ => (0.44 * wide, 0.38 * high),
    };
    let base = match kind {
        4 | 5 => Colour::new(58.0, 74.0, 44.0),
        1 => Colour::new(104.0, 112.0, 52.0),
        3 => Colour::new(128.0, 112.0, 50.0),
        6 | 7 => Colour::new(86.0, 100.0, 50.0),
        _ => Colour::new(84.0, 102.0, 48.0),
    };
    let mut random = seed;
    let mut unit = move || {
        random = mixed(random.wrapping_add(0x6d2b_79f5));
        (random >> 8) as f32 / 16_777_216.0
    };
    let layers = 5;
    for layer in 0..layers {
        let depth = layer as f32 / (layers - 1) as f32;
        for _ in 0..90 {
            let (angle, r) = (std::f32::consts::TAU * unit(), unit().sqrt());
            let squeeze = if is_slender { 1.0 } else { 1.0 - 0.12 * depth };
            let (mut x, y) = (r * angle.cos(), r * angle.sin());
            if is_slender {
                x *= 0.25 + 0.75 * f32::midpoint(y, 1.0);
            }
            let lump = 0.82 + 0.22 * (3.0 * angle + seed as f32).sin();
            let px = cx + rx * x * squeeze * lump - 0.03 * wide * depth;
            let py = cy + ry * y * squeeze * lump - 0.05 * high * depth;
            // Lit from the upper left; the inside is dark.
            let lit = 0.40 + 0.42 * depth - 0.24 * y - 0.16 * x + 0.16 * (unit() - 0.5);
            clump(&mut picture, (px, py), wide * (0.030 + 0.030 * unit()), base, lit, &mut unit);
        }
    }
    picture
}

fn trunk(picture: &mut Pixmap, wide: f32, high: f32) {
    let mut builder = PathBuilder::new();
    builder.move_to(0.465 * wide, high);
    builder.line_to(0.48 * wide, 0.5 * high);
    builder.line_to(0.52 * wide, 0.5 * high);
    builder.line_to(0.54 * wide, high);
    builder.close();
    let Some(path) = builder.finish() else { return };
    let shader = super::canvas::screen_gradient(
        (0.47 * wide, 0.0),
        (0.535 * wide, 0.0),
        &[(0.0, Colour::new(112.0, 92.0, 70.0)), (1.0, Colour::new(48.0, 40.0, 34.0))],
    );
    let paint = Paint {
        shader: shader.unwrap_or_else(|| Colour::BLACK.shader()),
        anti_alias: true,
        ..Paint::default()
    };
    picture.fill_path(&path, &paint, FillRule::Winding, Transform::identity(), None);
}

fn clump(
    picture: &mut Pixmap,
    at: (f32, f32),
    size: f32,
    base: Colour,
    lit: f32,
    unit: &mut impl FnMut() -> f32,
) {
    for _ in 0..7 {
        let (dx, dy) = (size * 1.5 * (unit() - 0.5), size * 1.2 * (unit() - 0.5));
        let r = size * (0.22 + 0.38 * unit());
        let Some(path) = PathBuilder::from_circle(at.0 + dx, at.1 + dy, r) else { continue };
        let shade = (lit - 0.35 * dy / size + 0.22 * (unit() - 0.5)).clamp(0.16, 1.5);
        let warm = Colour::new(255.0, 226.0, 150.0);
        let colour = base.times(0.35 + 0.95 * shade).mix(warm, (0.16 * (shade - 0.5)).max(0.0));
        let paint = Paint { shader: colour.shader(), anti_alias: true, ..Paint::default() };
        picture.fill_path(&path, &paint, FillRule::Winding, Transform::identity(), None);
    }
}
