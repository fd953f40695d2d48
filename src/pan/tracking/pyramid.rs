//! A picture at full size, half, a quarter and so on.

use rayon::prelude::*;

use super::luma::{LumaView, Plane};

/// Rows of a level worked on together: enough that handing them out costs nothing.
const BAND: usize = 64;

/// A picture and its reductions. Level 0 is the picture itself, which is not copied; a pixel of a
/// level is the mean of four below it, so a place at level l is that of level 0 over 2ˡ (outer
/// corners at zero, as everywhere).
pub(super) struct Pyramid<'a> {
    full: LumaView<'a>,
    smaller: Vec<Plane>,
}

impl<'a> Pyramid<'a> {
    /// With `levels` levels in all, at least one; fewer when the picture becomes too small.
    pub(super) fn of(full: LumaView<'a>, levels: usize) -> Self {
        let mut smaller: Vec<Plane> = Vec::with_capacity(levels.saturating_sub(1));
        for _ in 1..levels {
            let below = smaller.last().map_or(full, Plane::view);
            if below.wide < 16 || below.high < 16 {
                break;
            }
            smaller.push(halved(below));
        }
        Self { full, smaller }
    }

    /// How many levels there are.
    pub(super) fn levels(&self) -> usize {
        self.smaller.len() + 1
    }

    /// One level; the smallest for a number past the end.
    pub(super) fn level(&self, level: usize) -> LumaView<'_> {
        match level.min(self.smaller.len()) {
            0 => self.full,
            above => self.smaller[above - 1].view(),
        }
    }
}

/// Half the size, each pixel the rounded mean of four.
fn halved(from: LumaView<'_>) -> Plane {
    let (wide, high) = (from.wide / 2, from.high / 2);
    let mut pixels = vec![0; wide * high];
    pixels.par_chunks_mut(wide * BAND).enumerate().for_each(|(band, rows)| {
        for (i, out) in rows.chunks_exact_mut(wide).enumerate() {
            let y = 2 * (band * BAND + i);
            let above = from.row(y).chunks_exact(2);
            let below = from.row(y + 1).chunks_exact(2);
            for ((out, a), b) in out.iter_mut().zip(above).zip(below) {
                let sum = u16::from(a[0]) + u16::from(a[1]) + u16::from(b[0]) + u16::from(b[1]);
                *out = ((sum + 2) >> 2) as u8;
            }
        }
    });
    Plane { wide, high, pixels }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::PictureSize;

    #[test]
    fn each_level_holds_means_of_four() {
        let (wide, high) = (67_usize, 201_usize);
        let pixels: Vec<u8> = (0..wide * high).map(|i| (i * 7 % 251) as u8).collect();
        let size = PictureSize { width: 67, height: 201 };
        let view = LumaView::new(size, wide, &pixels).unwrap();
        let pyramid = Pyramid::of(view, 3);
        assert_eq!(pyramid.levels(), 3);
        let half = pyramid.level(1);
        assert_eq!((half.wide, half.high), (33, 100));
        for (x, y) in [(0, 0), (32, 99), (5, 70)] {
            let at = |dx: usize, dy: usize| f64::from(view.row(2 * y + dy)[2 * x + dx]);
            let mean = (at(0, 0) + at(1, 0) + at(0, 1) + at(1, 1)) / 4.0;
            assert!((f64::from(half.row(y)[x]) - mean).abs() <= 0.5);
        }
        assert_eq!(pyramid.level(2).wide, 16);
        assert_eq!(pyramid.level(9).wide, 16);
    }
}
