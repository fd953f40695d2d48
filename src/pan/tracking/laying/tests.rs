//! Thumbnails laid on each other.

use super::*;
use crate::pan::tracking::pyramid::Pyramid;
use crate::pan::tracking::testing::painted;
use crate::pan::tracking::thumbnail::levels_for;
use crate::scene::FramePoint;

fn thumbnail(warp: impl Fn(f64, f64) -> (f64, f64)) -> Thumbnail {
    let picture = painted((640, 360), |x, y| {
        let (u, v) = warp(x, y);
        (u / 3.0, v / 3.0)
    });
    Thumbnail::of(&Pyramid::of(picture.view(), levels_for(640)))
}

#[test]
fn a_large_shift_is_searched_and_a_small_turn_settled() {
    let first = thumbnail(|x, y| (x, y));
    let far = first.search(&thumbnail(|x, y| (x + 171.0, y - 38.0)));
    let at = FramePoint::new(320.0, 180.0);
    let moved = far.map.apply(at).unwrap();
    assert!(moved.distance(FramePoint::new(149.0, 218.0)) < 1.5, "{moved:?}");
    assert!(far.unlike < 0.1);
    let (sin, cos) = 0.03_f64.sin_cos();
    let turned = thumbnail(|x, y| (cos * x - sin * y + 4.0, sin * x + cos * y));
    let laid = first.lay(&turned, &PictureMap::identity());
    let moved = laid.map.apply(at).unwrap();
    let back = (cos * moved.x - sin * moved.y + 4.0, sin * moved.x + cos * moved.y);
    assert!(at.distance(FramePoint::new(back.0, back.1)) < 1.0, "{back:?}");
    let other = first.search(&thumbnail(|x, y| (x + 50_000.0, y)));
    assert!(other.unlike > 0.3, "{}", other.unlike);
}
