//! How the whole picture moved, from very small pictures: where to begin looking for points.
//!
//! Shift, turn and scale by Gauss & Newton with weights that make little of what differs much
//! (horse and rider are a small part of the picture).

use nalgebra::{Matrix3, Matrix4, Vector3, Vector4};

use super::picture_map::PictureMap;
use super::thumbnail::Thumbnail;

/// Rounds of the fine search.
const ROUNDS: usize = 12;

/// How two thumbnails lie on each other.
#[derive(Clone, Copy, Debug)]
pub(super) struct Laid {
    /// To the second picture from the first, pixels of the full picture.
    pub(super) map: PictureMap,
    /// Mean difference over the typical contrast: 0 for the same picture, about 1 for strangers.
    pub(super) unlike: f32,
}

impl Thumbnail {
    /// Lays `later` on `self`, beginning at `start`, by shift, turn and scale on top of it.
    pub(super) fn lay(&self, later: &Self, start: &PictureMap) -> Laid {
        let mut map = self.shrunk(start);
        let slopes = self.slopes();
        for _ in 0..ROUNDS {
            let Some(step) = self.step(later, &map, &slopes) else { break };
            map *= step;
            if self.still(&step) {
                break;
            }
        }
        let unlike = self.unlike(later, &map);
        Laid { map: self.grown(map).unwrap_or(*start), unlike }
    }

    /// Lays `later` on `self` without any idea where: every shift that leaves half of the picture
    /// in common, then [`Self::lay`].
    pub(super) fn search(&self, later: &Self) -> Laid {
        let (small, small_later) = (self.halved(), later.halved());
        let reach_x = (small.wide as i32 * 11) / 20;
        let reach_y = (small.high as i32 * 2) / 5;
        let mut best = (f32::MAX, 0, 0);
        for dy in -reach_y..=reach_y {
            for dx in -reach_x..=reach_x {
                let off = small.difference(&small_later, dx, dy);
                if off < best.0 {
                    best = (off, dx, dy);
                }
            }
        }
        let shift = 2.0 * self.scale;
        let mut matrix = Matrix3::identity();
        matrix[(0, 2)] = f64::from(best.1) * shift;
        matrix[(1, 2)] = f64::from(best.2) * shift;
        let start = PictureMap::of(matrix).unwrap_or_else(PictureMap::identity);
        self.lay(later, &start)
    }

    /// Whether a step moves no corner of the thumbnail by more than a thirtieth of its pixels.
    fn still(&self, step: &Matrix3<f64>) -> bool {
        let (wide, high) = (self.wide as f64, self.high as f64);
        [(0.0, 0.0), (wide, 0.0), (0.0, high), (wide, high)].iter().all(|&(x, y)| {
            let moved = step * Vector3::new(x, y, 1.0);
            (moved.x / moved.z - x).hypot(moved.y / moved.z - y) < 0.03
        })
    }

    fn shrunk(&self, map: &PictureMap) -> Matrix3<f64> {
        let grow = Matrix3::new_scaling(self.scale);
        let shrink = Matrix3::new_scaling(1.0 / self.scale);
        shrink * map.matrix() * grow
    }

    fn grown(&self, matrix: Matrix3<f64>) -> Option<PictureMap> {
        let grow = Matrix3::new_scaling(self.scale);
        let shrink = Matrix3::new_scaling(1.0 / self.scale);
        PictureMap::of(grow * matrix * shrink)
    }

    fn slopes(&self) -> Vec<[f32; 2]> {
        let mut slopes = vec![[0.0; 2]; self.values.len()];
        for y in 1..self.high.saturating_sub(1) {
            for x in 1..self.wide - 1 {
                let i = y * self.wide + x;
                slopes[i] = [
                    0.5 * (self.values[i + 1] - self.values[i - 1]),
                    0.5 * (self.values[i + self.wide] - self.values[i - self.wide]),
                ];
            }
        }
        slopes
    }

    /// Where a pixel of `self` lies on `later`, and the brightness there.
    #[inline]
    fn read(&self, later: &Self, m: &[f32; 9], x: usize, y: usize) -> Option<f32> {
        let (u, v) = (x as f32 + 0.5, y as f32 + 0.5);
        let w = m[6] * u + m[7] * v + m[8];
        if w <= 1e-6 {
            return None;
        }
        let px = (m[0] * u + m[1] * v + m[2]) / w - 0.5;
        let py = (m[3] * u + m[4] * v + m[5]) / w - 0.5;
        if !(px >= 0.0 && py >= 0.0) {
            return None;
        }
        let (i, j) = (px as usize, py as usize);
        if i + 1 >= later.wide || j + 1 >= later.high {
            return None;
        }
        let (f, g) = (px - i as f32, py - j as f32);
        let at = j * later.wide + i;
        let values = &later.values;
        let above = values[at] + f * (values[at + 1] - values[at]);
        let below = at + later.wide;
        let below = values[below] + f * (values[below + 1] - values[below]);
        Some(above + g * (below - above))
    }

    /// One step of the fine search: the small shift, turn and scale to put before `map`.
    fn step(&self, later: &Self, map: &Matrix3<f64>, slopes: &[[f32; 2]]) -> Option<Matrix3<f64>> {
        let m = by_rows(map);
        let offset = self.offset(later, &m)?;
        let core = 0.5 * offset.1.max(1.0);
        let (cx, cy) = (self.wide as f32 / 2.0, self.high as f32 / 2.0);
        let mut normal = Matrix4::<f64>::zeros();
        let mut right = Vector4::<f64>::zeros();
        for y in 1..self.high - 1 {
            for x in 1..self.wide - 1 {
                let i = y * self.wide + x;
                let Some(value) = self.read(later, &m, x, y) else { continue };
                let off = value - self.values[i] - offset.0;
                let weight = 1.0 / (1.0 + (off / core).powi(2));
                let [gx, gy] = slopes[i];
                let (u, v) = (x as f32 + 0.5 - cx, y as f32 + 0.5 - cy);
                let row = [gx, gy, gx * u + gy * v, gy * u - gx * v];
                for r in 0..4 {
                    let scaled = weight * row[r];
                    for c in 0..=r {
                        normal[(r, c)] += f64::from(scaled * row[c]);
                    }
                    right[r] += f64::from(scaled * off);
                }
            }
        }
        for r in 0..4 {
            for c in r + 1..4 {
                normal[(r, c)] = normal[(c, r)];
            }
        }
        let step = normal.cholesky()?.solve(&right);
        let (cx, cy) = (f64::from(cx), f64::from(cy));
        let (scale, turn) = (1.0 + step[2], step[3]);
        let about = Matrix3::new(
            scale,
            -turn,
            step[0] + cx - scale * cx + turn * cy,
            turn,
            scale,
            step[1] + cy - turn * cx - scale * cy,
            0.0,
            0.0,
            1.0,
        );
        about.try_inverse()
    }

    /// Median brightness difference and the median distance from it.
    fn offset(&self, later: &Self, m: &[f32; 9]) -> Option<(f32, f32)> {
        let mut offs: Vec<f32> = Vec::with_capacity(self.values.len() / 4);
        for y in (0..self.high).step_by(2) {
            for x in (0..self.wide).step_by(2) {
                if let Some(value) = self.read(later, m, x, y) {
                    offs.push(value - self.values[y * self.wide + x]);
                }
            }
        }
        if offs.len() < self.values.len() / 16 {
            return None;
        }
        let middle = offs.len() / 2;
        let median = *offs.select_nth_unstable_by(middle, f32::total_cmp).1;
        offs.iter_mut().for_each(|off| *off = (*off - median).abs());
        let spread = *offs.select_nth_unstable_by(middle, f32::total_cmp).1;
        Some((median, spread))
    }

    fn unlike(&self, later: &Self, map: &Matrix3<f64>) -> f32 {
        let contrast = self.contrast().min(later.contrast()).max(1.0);
        self.offset(later, &by_rows(map)).map_or(f32::MAX, |(_, spread)| spread / contrast)
    }

    /// Mean difference at a whole shift, freed of brightness.
    fn difference(&self, later: &Self, dx: i32, dy: i32) -> f32 {
        let from_x = (-dx).max(0) as usize;
        let to_x = (self.wide as i32).min(later.wide as i32 - dx) as usize;
        let from_y = (-dy).max(0) as usize;
        let to_y = (self.high as i32).min(later.high as i32 - dy) as usize;
        let count = ((to_x - from_x) * (to_y - from_y)) as f32;
        let rows = || {
            (from_y..to_y).map(|y| {
                let own = &self.values[y * self.wide + from_x..y * self.wide + to_x];
                let at = (y as i32 + dy) as usize * later.wide + (from_x as i32 + dx) as usize;
                (own, &later.values[at..at + own.len()])
            })
        };
        let mean = |(a, b): (&[f32], &[f32])| a.iter().zip(b).map(|(a, b)| b - a).sum::<f32>();
        let shared = rows().map(mean).sum::<f32>() / count;
        let off = |(a, b): (&[f32], &[f32])| {
            a.iter().zip(b).map(|(a, b)| (b - a - shared).abs()).sum::<f32>()
        };
        rows().map(off).sum::<f32>() / count
    }
}

fn by_rows(m: &Matrix3<f64>) -> [f32; 9] {
    [m.m11, m.m12, m.m13, m.m21, m.m22, m.m23, m.m31, m.m32, m.m33].map(|value| value as f32)
}

#[cfg(test)]
mod tests;
