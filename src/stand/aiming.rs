//! Where the phone points.
//!
//! Bearings are angles about the phone from square across the track, positive the way the horse
//! goes. What must be in view comes first (strides, take-off, ground line), then as many poles as fit.

use schemars::JsonSchema;
use serde::Serialize;

use super::lesson::Lesson;
use super::phone::Phone;
use crate::marks::PoleEnd;
use crate::scene::{Camera, GroundPoint, Lens, Pose, ScenePoint};

/// Share of the field kept free on either side: nobody points a phone to the pixel.
const SPARE: f64 = 0.03;
/// A hand that follows points ahead of the hind hooves, at the horse's middle (common practice, no
/// source).
const AHEAD_M: f64 = 0.9;

/// The phone's camera when the hoof at `contact` meets the ground.
pub fn camera(lesson: &Lesson, phone: &Phone, contact: GroundPoint) -> Camera {
    let aim_x = match phone.turns() {
        true => contact.x + AHEAD_M,
        false => -aimed_before_fence_m(lesson, phone),
    };
    let target = ScenePoint::new(aim_x, 0.0, aim_height_m(phone));
    let lens = Lens::with_field(phone.picture, phone.field_deg.to_radians());
    Camera { lens, pose: Pose::looking_at(phone.place(), target) }
}

/// Where the middle of a standing phone's picture crosses the track, metres before the ground line.
pub(super) fn aimed_before_fence_m(lesson: &Lesson, phone: &Phone) -> f64 {
    phone.aim_before_fence_m.unwrap_or_else(|| -middle(lesson, phone))
}

/// Height over the track of the picture's middle: a rider at 10 m fills it from hoof to hat, and
/// farther away the ground lies in its lower part (as the arena films).
fn aim_height_m(phone: &Phone) -> f64 {
    0.45 + 0.045 * phone.distance_m
}

/// Where the track is crossed by the middle of the best view, x in metres.
fn middle(lesson: &Lesson, phone: &Phone) -> f64 {
    let bearing = |x: f64, y: f64| {
        let across = (y - phone.place().y) * -phone.side.sign();
        (x - phone.place().x).atan2(across.max(0.1))
    };
    let strides = &lesson.strides;
    let first = -strides.take_off_m - f64::from(strides.count) * strides.length_m;
    let base = lesson.base().map(|end| bearing(end.x, end.y));
    let near = bearing(first, 0.0);
    let far = base[0].max(base[1]).max(bearing(strides.landing_m, 0.0));
    let (low, high) = (near.min(base[0]).min(base[1]), far.max(near));
    let ends = [(1, PoleEnd::Left), (1, PoleEnd::Right)]
        .into_iter()
        .chain([(lesson.poles.count, PoleEnd::Left), (lesson.poles.count, PoleEnd::Right)]);
    let poles = ends.map(|(pole, end)| {
        let place = lesson.poles.end(pole, end);
        bearing(place.x, place.y)
    });
    let (all_low, all_high) =
        poles.fold((low, high), |(low, high), pole| (low.min(pole), high.max(pole)));
    let half = phone.field_deg.to_radians() / 2.0 * (1.0 - 2.0 * SPARE);
    let wanted = f64::midpoint(all_low, all_high);
    let turn = if high - low <= 2.0 * half {
        wanted.clamp(high - half, low + half)
    } else {
        // Not all strides fit: the fence and the last of them do.
        high - half
    };
    // Nobody looks along the track.
    phone.place().x + turn.clamp(-1.4, 1.4).tan() * phone.distance_m
}

/// Edges of what the phone sees from the first contact to the landing, radians from x to the left.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct View {
    /// The right edge, seen from the phone.
    pub from_rad: f64,
    /// The left edge; the larger of the two.
    pub to_rad: f64,
}

/// The view of the whole approach: that of a phone on a stand, or all that one passes over which
/// turns with the horse.
pub fn view(lesson: &Lesson, phone: &Phone) -> View {
    let half = phone.field_deg.to_radians() / 2.0;
    let sign = phone.side.sign();
    let headings = lesson.strides.footfalls().into_iter().map(|laid| {
        let camera = camera(lesson, phone, laid.place);
        let ahead = camera.ray(camera.lens.centre);
        // Off square across the track, the way the horse goes; square is +y from the right.
        let onward_rad = ahead.x.atan2(-sign * ahead.y);
        sign * (onward_rad - std::f64::consts::FRAC_PI_2)
    });
    let (low, high) =
        headings.fold((f64::MAX, f64::MIN), |(low, high), at| (low.min(at), high.max(at)));
    View { from_rad: low - half, to_rad: high + half }
}
