//! Very small pictures, by which whole views are laid on each other (see `laying`).

use super::luma::LumaView;
use super::pyramid::Pyramid;

/// Widest thumbnail, pixels.
const WIDEST: usize = 120;
/// A picture about a hundred pixels wide.
#[derive(Clone, Debug)]
pub(super) struct Thumbnail {
    pub(super) wide: usize,
    pub(super) high: usize,
    /// Pixels of the full picture in one of these.
    pub(super) scale: f64,
    pub(super) values: Vec<f32>,
}

/// Levels a pyramid needs for thumbnails of a picture `wide` pixels wide.
pub(super) fn levels_for(wide: usize) -> usize {
    let mut levels = 1;
    while wide >> (levels - 1) > WIDEST {
        levels += 1;
    }
    levels
}

impl Thumbnail {
    /// From a pyramid of enough levels.
    pub(super) fn of(pyramid: &Pyramid<'_>) -> Self {
        let level = pyramid.levels() - 1;
        let view = pyramid.level(level);
        Self { wide: view.wide, high: view.high, scale: f64::from(1 << level), values: soft(view) }
    }

    /// Typical contrast: mean distance from the mean, grey levels.
    pub(super) fn contrast(&self) -> f32 {
        let count = self.values.len().max(1) as f32;
        let mean = self.values.iter().sum::<f32>() / count;
        self.values.iter().map(|value| (value - mean).abs()).sum::<f32>() / count
    }

    /// Half the size.
    pub(super) fn halved(&self) -> Self {
        let (wide, high) = (self.wide / 2, self.high / 2);
        let values = (0..wide * high)
            .map(|i| {
                let at = 2 * (i / wide) * self.wide + 2 * (i % wide);
                let v = &self.values;
                (v[at] + v[at + 1] + v[at + self.wide] + v[at + self.wide + 1]) / 4.0
            })
            .collect();
        Self { wide, high, scale: 2.0 * self.scale, values }
    }
}

/// Smoothed by 1-2-1 both ways: slopes then hold over a pixel or two.
fn soft(view: LumaView<'_>) -> Vec<f32> {
    let (wide, high) = (view.wide, view.high);
    let mut values = Vec::with_capacity(wide * high);
    for y in 0..high {
        let rows = [y.saturating_sub(1), y, (y + 1).min(high - 1)].map(|y| view.row(y));
        for x in 0..wide {
            let columns = [x.saturating_sub(1), x, (x + 1).min(wide - 1)];
            let sum = |row: &[u8]| {
                let [a, b, c] = columns.map(|x| f32::from(row[x]));
                a + 2.0 * b + c
            };
            values.push((sum(rows[0]) + 2.0 * sum(rows[1]) + sum(rows[2])) / 16.0);
        }
    }
    values
}
