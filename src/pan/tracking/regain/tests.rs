//! Likenesses that are, and those that only seem.

use super::*;
use crate::pan::tracking::testing::painted;
use crate::scene::PictureSize;

const SIZE: PictureSize = PictureSize { width: 640, height: 360 };

fn judge() -> Judge {
    Judge { size: SIZE, slack_px: 4.0, core_px: 1.0, seed: 3 }
}

fn places() -> Vec<FramePoint> {
    (0..40)
        .map(|i| {
            let (column, row) = (f64::from(i % 8), f64::from(i / 8));
            FramePoint::new(110.0 + 60.0 * column, 80.0 + 50.0 * row)
        })
        .collect()
}

/// Points of `first` looked for in `later`, each expected `wrong` pixels aside.
fn regained(
    first: &crate::pan::tracking::testing::Painted,
    later: &crate::pan::tracking::testing::Painted,
    wrong: f64,
) -> Option<Regained> {
    let (then, now) = (Pyramid::of(first.view(), 3), Pyramid::of(later.view(), 3));
    let patches: Vec<Patch> = places().iter().map(|&at| Patch::cut(&then, at)).collect();
    let wanted: Vec<Wanted<'_>> = places()
        .iter()
        .zip(&patches)
        .map(|(at, patch)| Wanted {
            patch,
            at: FramePoint::new(at.x + wrong, at.y),
            stretch: Matrix2::identity(),
        })
        .collect();
    regain(&now, &wanted, 7, &judge(), 12)
}

#[test]
fn points_are_found_where_they_are_and_not_where_they_were_expected() {
    let size = (640, 360);
    let first = painted(size, |x, y| (x, y));
    let later = painted(size, |x, y| (x - 3.4, y + 1.2));
    let regained = regained(&first, &later, 17.0).unwrap();
    assert!(regained.count >= 36, "{}", regained.count);
    for (at, found) in places().iter().zip(&regained.found) {
        let Some(found) = found else { continue };
        let off = found.found.at.distance(FramePoint::new(at.x + 3.4, at.y - 1.2));
        assert!(off < 0.03, "{off}");
    }
}

#[test]
fn the_posts_of_a_fence_are_not_taken_for_each_other() {
    // The same every 40 pixels: which of two posts it is nothing tells.
    let size = (640, 360);
    let posts = painted(size, |x, y| (x.rem_euclid(40.0), y));
    assert!(regained(&posts, &posts, 20.0).is_none());
    // Nor in another place.
    let other = painted(size, |x, y| (x + 4000.0, y + 900.0));
    let first = painted(size, |x, y| (x, y));
    assert!(regained(&first, &other, 0.0).is_none());
}
