//! Grey pictures of 8 bits: one that is looked at, one that is owned.

use crate::scene::PictureSize;

/// A luma picture that somebody else owns: rows of 8-bit brightness.
#[derive(Clone, Copy, Debug)]
pub struct LumaView<'a> {
    pub(super) wide: usize,
    pub(super) high: usize,
    stride: usize,
    pixels: &'a [u8],
}

/// Why bytes are not a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("cannot read {given} bytes as a picture: {needed} are needed ({high} rows of {stride})")]
pub struct LumaError {
    /// Bytes there are.
    pub given: usize,
    /// Bytes there should be.
    pub needed: usize,
    /// Rows.
    pub high: usize,
    /// Bytes from one row to the next; at least the width.
    pub stride: usize,
}

impl<'a> LumaView<'a> {
    /// The picture of `size` whose rows start `stride` bytes apart. Refuses fewer bytes than that
    /// takes, and rows that overlap.
    pub fn new(size: PictureSize, stride: usize, pixels: &'a [u8]) -> Result<Self, LumaError> {
        let (wide, high) = (size.width as usize, size.height as usize);
        let needed = stride.saturating_mul(high.saturating_sub(1)).saturating_add(wide);
        if stride < wide || pixels.len() < needed {
            return Err(LumaError { given: pixels.len(), needed, high, stride });
        }
        Ok(Self { wide, high, stride, pixels })
    }

    /// One row, `wide` long.
    #[inline]
    pub(super) fn row(&self, y: usize) -> &'a [u8] {
        &self.pixels[y * self.stride..y * self.stride + self.wide]
    }
}

/// A luma picture of our own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Plane {
    pub(super) wide: usize,
    pub(super) high: usize,
    pub(super) pixels: Vec<u8>,
}

impl Plane {
    pub(super) fn view(&self) -> LumaView<'_> {
        LumaView { wide: self.wide, high: self.high, stride: self.wide, pixels: &self.pixels }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_a_stride_apart_and_the_last_may_end_early() {
        let bytes: Vec<u8> = (0..13).collect();
        let size = PictureSize { width: 3, height: 3 };
        let view = LumaView::new(size, 5, &bytes).unwrap();
        assert_eq!(view.row(1), [5, 6, 7]);
        assert_eq!(view.row(2), [10, 11, 12]);
        assert!(LumaView::new(size, 5, &bytes[..12]).is_err());
        assert!(LumaView::new(size, 2, &bytes).is_err());
    }
}
