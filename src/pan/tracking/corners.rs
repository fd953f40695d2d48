//! Corners worth following: places whose surroundings fix them in both directions.
//!
//! The smaller eigenvalue of the slopes' products (Shi & Tomasi 1994, from memory), on the picture
//! at half size. `imageproc` has FAST only, which finds dots of noise on sand as gladly as a
//! post's foot and says nothing of how well either can be placed.

use rayon::prelude::*;

use super::luma::LumaView;
use super::spread::Cells;
use crate::scene::{FramePoint, PictureSize};

/// Reach of the window over which slopes are summed, pixels at half size.
const REACH: usize = 3;
/// Least mean of squared slopes in the weaker direction, grey levels² per pixel², at half size.
/// Noise of two levels gives 0.5 there.
const LEAST: f32 = 4.0;
/// Share of the picture's strong corners below which a corner is not worth its place.
const SHARE: f32 = 0.002;

/// A corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Corner {
    /// Pixels of the full picture.
    pub(super) at: FramePoint,
    /// Mean of squared slopes in the weaker direction.
    pub(super) strength: f32,
}

/// Corners of the picture given at half size, none nearer to another or to one of `taken` than
/// `apart` pixels (of the full picture), about `per_cell` at the most in each cell with those
/// taken. In turns: those of the cells with the fewest before them come first, the stronger before
/// the weaker.
pub(super) fn corners(
    half: LumaView<'_>,
    size: PictureSize,
    taken: &[FramePoint],
    per_cell: usize,
    apart: f64,
) -> Vec<Corner> {
    let mut found = peaks(half);
    found.sort_by(|a, b| {
        b.strength
            .total_cmp(&a.strength)
            .then(a.at.y.total_cmp(&b.at.y))
            .then(a.at.x.total_cmp(&b.at.x))
    });
    let strong = found.get(found.len() / 20).map_or(0.0, |corner| corner.strength);
    let cells = Cells::for_corners(size);
    let mut crowd = vec![0; cells.count()];
    let mut near: Vec<Vec<FramePoint>> = vec![Vec::new(); cells.count()];
    for &point in taken {
        crowd[cells.of(point)] += 1;
        near[cells.of(point)].push(point);
    }
    let around = |near: &[Vec<FramePoint>], at: FramePoint| {
        let reach = [-apart, 0.0, apart];
        reach.iter().any(|dx| {
            reach.iter().any(|dy| {
                let home = cells.of(FramePoint::new(at.x + dx, at.y + dy));
                near[home].iter().any(|other| other.distance(at) < apart)
            })
        })
    };
    let mut kept = Vec::new();
    for corner in found {
        if corner.strength < LEAST.max(SHARE * strong) {
            break;
        }
        let home = cells.of(corner.at);
        if crowd[home] >= per_cell || around(&near, corner.at) {
            continue;
        }
        kept.push((crowd[home], corner));
        crowd[home] += 1;
        near[home].push(corner.at);
    }
    // The first of every cell before the second of any: sand under the horse matters as much as the
    // strong edges of a fence.
    kept.sort_by_key(|(before, _)| *before);
    kept.into_iter().map(|(_, corner)| corner).collect()
}

/// Local maxima of the smaller eigenvalue.
fn peaks(half: LumaView<'_>) -> Vec<Corner> {
    let (wide, high) = (half.wide, half.high);
    let margin = REACH + 2;
    if wide < 4 * margin || high < 4 * margin {
        return Vec::new();
    }
    let strengths = strengths(half);
    (margin..high - margin)
        .into_par_iter()
        .flat_map_iter(|y| {
            let strengths = &strengths;
            (margin..wide - margin).filter_map(move |x| {
                let own = strengths[y * wide + x];
                if own < LEAST {
                    return None;
                }
                let least = |other: usize| own > strengths[other];
                let not_over = |other: usize| own >= strengths[other];
                let i = y * wide + x;
                let peak = not_over(i - wide - 1)
                    && not_over(i - wide)
                    && not_over(i - wide + 1)
                    && not_over(i - 1)
                    && least(i + 1)
                    && least(i + wide - 1)
                    && least(i + wide)
                    && least(i + wide + 1);
                let at = FramePoint::new(2.0 * x as f64 + 1.0, 2.0 * y as f64 + 1.0);
                peak.then_some(Corner { at, strength: own })
            })
        })
        .collect()
}

/// The smaller eigenvalue at every pixel, by sums along rows, then along columns.
fn strengths(half: LumaView<'_>) -> Vec<f32> {
    let (wide, high) = (half.wide, half.high);
    let side = 2 * REACH + 1;
    let mut along = vec![[0.0_f32; 3]; wide * high];
    along.par_chunks_mut(wide).enumerate().for_each(|(y, out)| {
        if y == 0 || y + 1 >= high {
            return;
        }
        let (above, row, below) = (half.row(y - 1), half.row(y), half.row(y + 1));
        let mut products = vec![[0.0_f32; 3]; wide];
        for x in 1..wide - 1 {
            let gx = 0.5 * (f32::from(row[x + 1]) - f32::from(row[x - 1]));
            let gy = 0.5 * (f32::from(below[x]) - f32::from(above[x]));
            products[x] = [gx * gx, gx * gy, gy * gy];
        }
        for x in REACH..wide - REACH {
            let mut sums = [0.0; 3];
            for product in &products[x - REACH..=x + REACH] {
                for k in 0..3 {
                    sums[k] += product[k];
                }
            }
            out[x] = sums;
        }
    });
    let mut strengths = vec![0.0_f32; wide * high];
    let count = (side * side) as f32;
    strengths.par_chunks_mut(wide).enumerate().for_each(|(y, out)| {
        if y < REACH || y + REACH >= high {
            return;
        }
        for (x, out) in out.iter_mut().enumerate() {
            let mut sums = [0.0; 3];
            for dy in 0..side {
                let row = &along[(y + dy - REACH) * wide + x];
                for k in 0..3 {
                    sums[k] += row[k];
                }
            }
            let [xx, xy, yy] = sums.map(|sum| sum / count);
            *out = 0.5 * (xx + yy) - (0.25 * (xx - yy).powi(2) + xy * xy).sqrt();
        }
    });
    strengths
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn corners_of_squares_are_found_and_edges_are_not() {
        let (wide, high) = (120_usize, 80_usize);
        let mut pixels = vec![60_u8; wide * high];
        for (x0, y0) in [(20, 20), (70, 40)] {
            for y in y0..y0 + 24 {
                for x in x0..x0 + 24 {
                    pixels[y * wide + x] = 160;
                }
            }
        }
        let half = LumaView::new(PictureSize { width: 120, height: 80 }, wide, &pixels).unwrap();
        let size = PictureSize { width: 240, height: 160 };
        let found = corners(half, size, &[], 3, 8.0);
        assert_eq!(found.len(), 8, "{found:?}");
        for corner in &found {
            let near = [(20, 20), (70, 40)].iter().any(|&(x, y)| {
                [0, 24].iter().any(|dx| {
                    [0, 24].iter().any(|dy| {
                        let true_corner =
                            FramePoint::new(f64::from(2 * (x + dx)), f64::from(2 * (y + dy)));
                        corner.at.distance(true_corner) < 8.0
                    })
                })
            });
            assert!(near, "{corner:?}");
        }
        let taken = [found[0].at];
        assert_eq!(corners(half, size, &taken, 3, 8.0).len(), 7);
    }
}
