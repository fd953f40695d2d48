//! Spreading points over the picture: a grid of cells.

use crate::scene::{FramePoint, PictureSize};

/// A grid over the picture.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cells {
    across: usize,
    down: usize,
    wide: f64,
    high: f64,
}

impl Cells {
    /// Cells `across` by `down`.
    pub(super) fn new(size: PictureSize, across: usize, down: usize) -> Self {
        let wide = f64::from(size.width.max(1)) / across as f64;
        let high = f64::from(size.height.max(1)) / down as f64;
        Self { across, down, wide, high }
    }

    /// Where the weight of agreeing pairs is shared out.
    pub(super) fn for_consensus(size: PictureSize) -> Self {
        Self::new(size, 10, 6)
    }

    /// Where corners are looked for, cell by cell.
    pub(super) fn for_corners(size: PictureSize) -> Self {
        Self::new(size, 16, 9)
    }

    /// One sighting in each is enough between key frames.
    pub(super) fn for_thinning(size: PictureSize) -> Self {
        Self::new(size, 8, 5)
    }

    /// How much of the picture is covered.
    pub(super) fn for_cover(size: PictureSize) -> Self {
        Self::new(size, 6, 4)
    }

    pub(super) fn count(&self) -> usize {
        self.across * self.down
    }

    /// The cell of a point; the nearest one for a point outside.
    pub(super) fn of(&self, point: FramePoint) -> usize {
        let x = ((point.x / self.wide).max(0.0) as usize).min(self.across - 1);
        let y = ((point.y / self.high).max(0.0) as usize).min(self.down - 1);
        y * self.across + x
    }

    /// How many cells hold at least one of `points`.
    pub(super) fn covered(&self, points: impl Iterator<Item = FramePoint>) -> usize {
        let mut held = vec![false; self.count()];
        points.for_each(|point| held[self.of(point)] = true);
        held.iter().filter(|&&held| held).count()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_point_has_a_cell() {
        let cells = Cells::new(PictureSize { width: 100, height: 50 }, 4, 2);
        let of = |x, y| cells.of(FramePoint::new(x, y));
        assert_eq!((of(0.0, 0.0), of(99.9, 0.0), of(26.0, 30.0), of(100.0, 50.0)), (0, 3, 5, 7));
        assert_eq!(of(-3.0, 90.0), 4);
        let points = [(1.0, 1.0), (2.0, 2.0), (60.0, 40.0)].map(|(x, y)| FramePoint::new(x, y));
        assert_eq!(cells.covered(points.into_iter()), 2);
    }
}
