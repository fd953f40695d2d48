//! Where the horse and the fence stand on a picture, as convex outlines a little larger than they
//! are. Nobody marks them: they follow from the footfall of the moment and the fence's bases.

use super::area::Spot;
use super::seen::{View, heading_at};
use crate::marks::Limb;
use crate::scene::GroundPoint;
use crate::stride::{ApproachMeasurement, PlacedFootfall};

/// From a horse's hind hoof on the ground to tail and nose, metres.
const BESIDE_HIND_M: (f64, f64) = (1.3, 2.5);
/// From its fore hoof.
const BESIDE_FORE_M: (f64, f64) = (2.6, 1.4);
/// Half its width with the rider's leg.
const HALF_WIDE_M: f64 = 0.35;
/// To the top of the rider's helmet.
const HIGH_M: f64 = 2.6;
/// A footfall further from the moment than this does not say where the horse is.
const NEAR_S: f64 = 0.35;
/// How far wings stand beyond the marked ends of a base, and how high fences are taken to be.
const WING_M: f64 = 0.25;
const FENCE_HIGH_M: f64 = 1.45;

/// The outline of horse and rider at `time_s`; `None` when no footfall near it says where.
pub(super) fn horse(
    view: &View,
    approach: &ApproachMeasurement,
    now: Option<&PlacedFootfall>,
    time_s: f64,
) -> Option<Vec<Spot>> {
    let hoof = hoof_near(approach, now, time_s)?;
    view.upright(&horse_ground(approach, hoof.limb, hoof.place?), HIGH_M)
}

/// The footfall that says where the horse is at `time_s`: that of the moment, or where it has no
/// place the nearest one that has.
pub(super) fn hoof_near<'a>(
    approach: &'a ApproachMeasurement,
    now: Option<&'a PlacedFootfall>,
    time_s: f64,
) -> Option<&'a PlacedFootfall> {
    let away = |footfall: &&PlacedFootfall| (footfall.time_s - time_s).abs();
    let placed = approach.footfalls.iter().filter(|footfall| footfall.place.is_some());
    now.filter(|now| now.place.is_some()).or_else(|| {
        let nearest = placed.min_by(|a, b| away(a).total_cmp(&away(b)));
        nearest.filter(|footfall| away(footfall) <= NEAR_S)
    })
}

/// The ground under a horse one of whose hooves is at `place`.
fn horse_ground(
    approach: &ApproachMeasurement,
    limb: Limb,
    place: GroundPoint,
) -> [GroundPoint; 4] {
    let (sin, cos) = heading_at(approach, place).sin_cos();
    let (behind, ahead) = if limb.is_hind() { BESIDE_HIND_M } else { BESIDE_FORE_M };
    [(-behind, HALF_WIDE_M), (-behind, -HALF_WIDE_M), (ahead, -HALF_WIDE_M), (ahead, HALF_WIDE_M)]
        .map(|(along, left)| {
            GroundPoint::new(place.x + along * cos - left * sin, place.y + along * sin + left * cos)
        })
}

/// The outline of the fence with its wings; `None` when fewer than two of its base's ends are
/// known, or when it is not before the camera.
pub(super) fn fence(view: &View, approach: &ApproachMeasurement) -> Option<Vec<Spot>> {
    let fence = &approach.fence;
    let mut ground: Vec<GroundPoint> = Vec::new();
    for base in completed(fence.take_off_base, fence.landing_base) {
        match base {
            [Some(left), Some(right)] => {
                let length = left.distance(right).max(1e-6);
                let (dx, dy) = ((right.x - left.x) / length, (right.y - left.y) / length);
                ground.push(GroundPoint::new(left.x - WING_M * dx, left.y - WING_M * dy));
                ground.push(GroundPoint::new(right.x + WING_M * dx, right.y + WING_M * dy));
            }
            [left, right] => ground.extend(left.into_iter().chain(right)),
        }
    }
    if ground.len() < 2 { None } else { view.upright(&ground, FENCE_HIGH_M) }
}

/// Both bases; the end that one of them lacks is put across from its other end as on the other.
fn completed(
    take_off: [Option<GroundPoint>; 2],
    landing: [Option<GroundPoint>; 2],
) -> [[Option<GroundPoint>; 2]; 2] {
    let like = |base: [Option<GroundPoint>; 2], other: [Option<GroundPoint>; 2]| {
        let ([left, right], [Some(from), Some(to)]) = (base, other) else { return base };
        let moved = |at: GroundPoint, sign: f64| {
            GroundPoint::new(at.x + sign * (to.x - from.x), at.y + sign * (to.y - from.y))
        };
        [
            left.or(right.map(|right| moved(right, -1.0))),
            right.or(left.map(|left| moved(left, 1.0))),
        ]
    };
    [like(take_off, landing), like(landing, take_off)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::area::Area;
    use crate::draw::sample::{self, SEVEN};
    use crate::draw::theme::PictureSizes;
    use crate::scene::PictureSize;

    #[test]
    fn the_outlines_hold_the_hoof_and_the_base() {
        let picture = PictureSize { width: 1920, height: 1080 };
        let camera = sample::camera(picture, 4.0, 24.0);
        let view = View { camera: &camera, picture, sizes: PictureSizes::of(picture) };
        let approach = sample::approach(SEVEN);
        let hoof = approach.footfalls.iter().find(|f| f.footfall == "h5").unwrap();
        let at = view.spot(hoof.place.unwrap()).unwrap();
        let outline = horse(&view, &approach, Some(hoof), hoof.time_s).unwrap();
        let held = Area::holding(&outline).unwrap();
        assert!(held.holds(at) && held.top < at.y - 60.0, "{held:?} {at:?}");
        let base = approach.fence.take_off_base.map(|end| view.spot(end.unwrap()).unwrap());
        let held = Area::holding(&fence(&view, &approach).unwrap()).unwrap();
        assert!(base.iter().all(|end| held.holds(*end)), "{held:?} {base:?}");
        assert_eq!(horse(&view, &approach, None, 99.0), None);
    }

    #[test]
    fn a_base_marked_at_one_end_is_as_long_as_the_other() {
        let [take_off, landing] = {
            let fence = sample::approach(SEVEN).fence;
            [fence.take_off_base, fence.landing_base]
        };
        for one_end in [[landing[0], None], [None, landing[1]]] {
            assert_eq!(completed(take_off, one_end), [take_off, landing]);
        }
        assert_eq!(completed(take_off, [None, None]), [take_off, [None, None]]);
    }
}
