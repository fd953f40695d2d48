//! Brightness between pixels.
//!
//! Read with the cubic B-spline, not sharpened to pass through the pixels: what it takes off fine
//! detail is the same wherever between pixels a place lies, so two looks at one thing differ by
//! noise alone. Interpolation that is exact on pixels and softer between them pulls a match towards
//! some fractions of a pixel. Weights: Unser 1999, "Splines: a perfect fit", eq. 11 (from memory).

use super::luma::LumaView;

/// Taps of the spline beyond the square on both sides together.
const TAPS: usize = 3;
/// Room for the widest square with its taps.
const ROOM: usize = 28;

/// Brightness on a square grid of `W` by `W` places one pixel apart whose middle is (`x`, `y`),
/// by rows. `None` when that reaches past the picture.
#[inline]
pub(super) fn square<const W: usize>(view: LumaView<'_>, x: f32, y: f32) -> Option<[[f32; W]; W]> {
    let (u, v) = (x - 0.5 - (W / 2) as f32, y - 0.5 - (W / 2) as f32);
    if !(u >= 1.0 && v >= 1.0) {
        return None;
    }
    let (left, top) = (u as usize - 1, v as usize - 1);
    if left + W + TAPS > view.wide || top + W + TAPS > view.high {
        return None;
    }
    let across = weights(u.fract());
    let mut rows = [[0.0_f32; W]; ROOM];
    for (j, row) in rows.iter_mut().enumerate().take(W + TAPS) {
        *row = filtered(&view.row(top + j)[left..left + W + TAPS], across);
    }
    Some(joined(&rows, weights(v.fract())))
}

/// The same for a place near to the edge: what lies outside is as the nearest pixel inside.
pub(super) fn square_at_edge<const W: usize>(view: LumaView<'_>, x: f32, y: f32) -> [[f32; W]; W] {
    let (u, v) = (x - 0.5 - (W / 2) as f32, y - 0.5 - (W / 2) as f32);
    let (left, top) = (u.floor() as i64 - 1, v.floor() as i64 - 1);
    let inside = |at: i64, end: usize| at.clamp(0, end as i64 - 1) as usize;
    let across = weights(u - u.floor());
    let mut rows = [[0.0_f32; W]; ROOM];
    for (j, row) in rows.iter_mut().enumerate().take(W + TAPS) {
        let from = view.row(inside(top + j as i64, view.high));
        let mut line = [0; ROOM];
        for (i, value) in line.iter_mut().enumerate() {
            *value = from[inside(left + i as i64, view.wide)];
        }
        *row = filtered(&line[..W + TAPS], across);
    }
    joined(&rows, weights(v - v.floor()))
}

#[inline]
fn filtered<const W: usize>(line: &[u8], weights: [f32; 4]) -> [f32; W] {
    let mut floats = [0.0_f32; ROOM];
    floats.iter_mut().zip(line).for_each(|(float, &value)| *float = f32::from(value));
    let mut out = [0.0; W];
    for (i, out) in out.iter_mut().enumerate() {
        *out = weights[0] * floats[i]
            + weights[1] * floats[i + 1]
            + weights[2] * floats[i + 2]
            + weights[3] * floats[i + 3];
    }
    out
}

#[inline]
fn joined<const W: usize>(rows: &[[f32; W]; ROOM], weights: [f32; 4]) -> [[f32; W]; W] {
    let mut out = [[0.0; W]; W];
    for (j, out) in out.iter_mut().enumerate() {
        for (i, out) in out.iter_mut().enumerate() {
            *out = weights[0] * rows[j][i]
                + weights[1] * rows[j + 1][i]
                + weights[2] * rows[j + 2][i]
                + weights[3] * rows[j + 3][i];
        }
    }
    out
}

/// The four weights of the cubic B-spline at the fraction `f`.
#[inline]
fn weights(f: f32) -> [f32; 4] {
    let g = 1.0 - f;
    let (ff, gg) = (f * f, g * g);
    [gg * g / 6.0, 2.0 / 3.0 - ff * (2.0 - f) / 2.0, 2.0 / 3.0 - gg * (2.0 - g) / 2.0, ff * f / 6.0]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::PictureSize;

    fn slope() -> Vec<u8> {
        (0..30 * 30).map(|i| (10 + 3 * (i % 30) + 5 * (i / 30)) as u8).collect()
    }

    #[test]
    fn a_slope_is_read_exactly_everywhere() {
        let pixels = slope();
        let size = PictureSize { width: 30, height: 30 };
        let view = LumaView::new(size, 30, &pixels).unwrap();
        for (x, y) in [(14.5, 16.5), (14.8, 16.5), (9.13, 11.87), (5.0, 17.0)] {
            let expected =
                |i: usize, j: usize| 10.0 + 3.0 * (x + i as f32 - 3.5) + 5.0 * (y + j as f32 - 3.5);
            let read = square::<7>(view, x, y).unwrap();
            for (i, j) in [(0, 0), (6, 0), (3, 3), (2, 6)] {
                assert!((read[j][i] - expected(i, j)).abs() < 1e-3);
            }
            assert_eq!(square_at_edge::<7>(view, x, y), read);
        }
    }

    #[test]
    fn past_the_edge_there_is_no_brightness_or_that_of_the_edge() {
        let pixels = slope();
        let size = PictureSize { width: 30, height: 30 };
        let view = LumaView::new(size, 30, &pixels).unwrap();
        for (x, y) in [(4.4, 9.0), (9.0, 4.4), (25.6, 9.0), (9.0, 25.6), (f32::NAN, 9.0)] {
            assert_eq!(square::<7>(view, x, y), None);
        }
        assert!(square::<7>(view, 4.6, 25.4).is_some());
        assert!((square_at_edge::<7>(view, -40.0, -40.0)[3][3] - 10.0).abs() < 1e-4);
    }
}
