//! How a stored picture must be turned to stand upright, and the turning itself.
//!
//! A container stores a 3x3 matrix that maps stored pixels to the screen (ISO/IEC 14496-12, 6.2.2); phones use eight
//! of them: four quarter turns, each with or without a mirror. Pure. Invariant: turning moves pixels, it never mixes
//! them. Not handled: other angles; the nearest of the eight is used and `exact` says that it is not the same.

use rayon::prelude::*;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Rows of the upright picture that one task fills; with turns, this many columns are read together.
const BAND: usize = 16;

/// The way from a stored picture to an upright one: first mirror left to right, then turn clockwise.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Orientation {
    /// 0, 90, 180 or 270.
    pub turn_clockwise_deg: u16,
    /// Whether left and right are exchanged, before the turn.
    pub mirrored: bool,
}

impl Orientation {
    /// Reads a display matrix (16.16 fixed point, row by row), and whether it is exactly this orientation.
    pub fn from_matrix(matrix: [i32; 9]) -> (Orientation, bool) {
        let [a, b, _, c, d, ..] = matrix.map(f64::from);
        // Screen x = a x + c y, screen y = b x + d y, both axes as pictures have them: right and down.
        let swaps = b.abs() + c.abs() > a.abs() + d.abs();
        let mirrored = a * d - b * c < 0.0;
        let (x_axis, size) =
            if swaps { (b, b.abs().max(c.abs())) } else { (a, a.abs().max(d.abs())) };
        // Where the stored x axis ends up; a mirror first turns it round.
        let x_axis = if mirrored { -x_axis } else { x_axis };
        let turn_clockwise_deg = match (swaps, x_axis >= 0.0) {
            (false, true) => 0,
            (false, false) => 180,
            (true, true) => 90,
            (true, false) => 270,
        };
        let orientation = Orientation { turn_clockwise_deg, mirrored };
        let off_axis = if swaps { a.abs() + d.abs() } else { b.abs() + c.abs() };
        (orientation, off_axis <= 0.01 * size)
    }

    /// Whether the upright picture has width and height exchanged.
    pub fn swaps_axes(self) -> bool {
        self.turn_clockwise_deg % 180 == 90
    }

    /// The upright size of a picture stored with that one.
    pub fn upright_size(self, (width, height): (u32, u32)) -> (u32, u32) {
        if self.swaps_axes() { (height, width) } else { (width, height) }
    }
}

/// Pixels in rows, each row `stride` bytes after the one before.
#[derive(Clone, Copy)]
pub struct Rows<'a> {
    pub bytes: &'a [u8],
    pub stride: usize,
    pub width: usize,
    pub height: usize,
}

/// Copies a picture of `N` bytes a pixel so that it stands upright, without gaps between rows.
pub fn upright<const N: usize>(stored: Rows<'_>, orientation: Orientation) -> Vec<u8> {
    let (width, _) = orientation.upright_size((stored.width as u32, stored.height as u32));
    let width = width as usize;
    let mut out = vec![0; stored.width * stored.height * N];
    out.par_chunks_mut(width * N * BAND).enumerate().for_each(|(band, rows)| {
        if orientation.swaps_axes() {
            turn_band::<N>(stored, orientation, band * BAND, width, rows);
        } else {
            copy_band::<N>(stored, orientation, band * BAND, width, rows);
        }
    });
    out
}

/// Rows of the upright picture that are rows of the stored one, perhaps read backwards.
fn copy_band<const N: usize>(
    stored: Rows<'_>,
    orientation: Orientation,
    first: usize,
    width: usize,
    out: &mut [u8],
) {
    let upside_down = orientation.turn_clockwise_deg == 180;
    let backwards = upside_down != orientation.mirrored;
    for (row, out) in out.chunks_exact_mut(width * N).enumerate() {
        let y = first + row;
        let y = if upside_down { stored.height - 1 - y } else { y };
        let line = &stored.bytes[y * stored.stride..y * stored.stride + width * N];
        if backwards {
            for (to, from) in out.chunks_exact_mut(N).zip(line.chunks_exact(N).rev()) {
                to.copy_from_slice(from);
            }
        } else {
            out.copy_from_slice(line);
        }
    }
}

/// Rows of the upright picture that are columns of the stored one.
fn turn_band<const N: usize>(
    stored: Rows<'_>,
    orientation: Orientation,
    first: usize,
    width: usize,
    out: &mut [u8],
) {
    let rows = out.len() / (width * N);
    let clockwise = orientation.turn_clockwise_deg == 90;
    let from_left = clockwise != orientation.mirrored;
    // The columns this band takes, as a piece of each stored row.
    let left = if from_left { first } else { stored.width - first - rows };
    for x in 0..width {
        // Clockwise, the upright x runs up the stored column; the other way, down.
        let y = if clockwise { stored.height - 1 - x } else { x };
        let piece = &stored.bytes[y * stored.stride + left * N..][..rows * N];
        for (row, pixel) in piece.chunks_exact(N).enumerate() {
            let row = if from_left { row } else { rows - 1 - row };
            let at = (row * width + x) * N;
            out[at..at + N].copy_from_slice(pixel);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ONE: i32 = 65_536;

    fn orientation(turn_clockwise_deg: u16, mirrored: bool) -> Orientation {
        Orientation { turn_clockwise_deg, mirrored }
    }

    /// The letters of a 3x2 picture after turning, row by row.
    fn turned(orientation: Orientation) -> String {
        let stored = Rows { bytes: b"abc.def.", stride: 4, width: 3, height: 2 };
        String::from_utf8(upright::<1>(stored, orientation)).expect("letters stay letters")
    }

    #[test]
    fn all_eight_ways_to_stand() {
        let found: Vec<String> = [
            (0, false),
            (90, false),
            (180, false),
            (270, false),
            (0, true),
            (90, true),
            (180, true),
            (270, true),
        ]
        .iter()
        .map(|(turn, mirrored)| turned(orientation(*turn, *mirrored)))
        .collect();
        let expected =
            ["abcdef", "daebfc", "fedcba", "cfbead", "cbafed", "fcebda", "defabc", "adbecf"];
        assert_eq!(found, expected);
    }

    #[test]
    fn matrices_of_phones_are_read() {
        let read = |a, b, c, d| Orientation::from_matrix([a, b, 0, c, d, 0, 7, 9, 1 << 30]);
        assert_eq!(read(ONE, 0, 0, ONE), (orientation(0, false), true));
        assert_eq!(read(0, ONE, -ONE, 0), (orientation(90, false), true));
        assert_eq!(read(-ONE, 0, 0, -ONE), (orientation(180, false), true));
        assert_eq!(read(0, -ONE, ONE, 0), (orientation(270, false), true));
        assert_eq!(read(-ONE, 0, 0, ONE), (orientation(0, true), true));
        assert_eq!(read(ONE, 0, 0, -ONE), (orientation(180, true), true));
        assert!(!read(46_341, 46_341, -46_341, 46_341).1);
    }

    #[test]
    fn a_matrix_moves_a_corner_where_the_turn_moves_it() {
        // For each matrix: the stored pixel 'b' (x 1, y 0 of 3x2) must land where the matrix sends it.
        for (a, b, c, d) in [
            (0, 1, 1, 0),
            (0, -1, -1, 0),
            (0, 1, -1, 0),
            (0, -1, 1, 0),
            (-1, 0, 0, 1),
            (1, 0, 0, -1),
        ] {
            let (found, _) =
                Orientation::from_matrix([a * ONE, b * ONE, 0, c * ONE, d * ONE, 0, 0, 0, 1 << 30]);
            let text = turned(found);
            let width = found.upright_size((3, 2)).0 as i32;
            let height = 6 / width;
            // Centre of the pixel, from the centre of the picture, in halves of a pixel.
            let (x, y) = (0, -1);
            let (to_x, to_y) = ((a * x + c * y + width - 1) / 2, (b * x + d * y + height - 1) / 2);
            let at = (to_y * width + to_x) as usize;
            assert_eq!(&text[at..=at], "b", "{found:?} of {:?}", (a, b, c, d));
        }
    }
}
