//! Timing of the canter and of the jump: published rows where they exist, else marked.
//!
//! Order of the footfalls: trailing hind, then leading hind and trailing fore together, then
//! leading fore, then suspension (FEI glossary, "canter"; British Dressage, "Basic paces").
//! Limb timings of the canter of riding horses were not found in print; rows of the gallop
//! (9–17 m/s) are used where they reach and continued below, and every such place says so.

use crate::marks::Limb;

/// Stance durations at two speeds: 9 Thoroughbreds, gallop over ground; 131 and 143 ms at 9 m/s,
/// 77 and 94 ms at 17 m/s, fore and hind (Witte, Hirst & Wilson 2006, J Exp Biol 209:4389).
const STANCE_ROWS: [(f64, f64, f64); 2] = [(9.0, 0.131, 0.143), (17.0, 0.077, 0.094)];

/// Stride length and duration of Olympic dressage horses (Deuel & Park 1990): 2.08 m in 0.617 s
/// and 4.15 m in 0.592 s.
const DURATION_ROWS: [(f64, f64); 2] = [(2.08, 0.617), (4.15, 0.592)];

/// Hind contact at take-off, one horse over 1.60 m, 0.20 s (Stinner 2014, quoted).
pub(super) const TAKE_OFF_STANCE_S: f64 = 0.20;

/// Time between the two hind contacts at take-off: "nearly together" (Leach, Ormrod & Clayton
/// 1984 gives no figure; this one is common practice, no source).
pub(super) const TAKE_OFF_HIND_GAP_S: f64 = 0.025;

/// Duration of a stride of `length_m` by the published rows, held constant outside them. A
/// smaller animal's stride is compared at its own scale and is quicker by the root of it (equal
/// Froude number; the rows are of horses).
pub(super) fn stride_duration_s(length_m: f64, scale: f64) -> f64 {
    let [(short, slow), (long, quick)] = DURATION_ROWS;
    let share = ((length_m / scale - short) / (long - short)).clamp(0.0, 1.0);
    (slow + share * (quick - slow)) * scale.sqrt()
}

/// Stance duration of a fore or hind limb at `speed`, m/s.
///
/// Between 9 and 17 m/s the distance the body travels over the hoof (speed × stance) runs
/// straight between the published rows; below 9 m/s it is continued on the same line: an
/// assumption, no source. It gives 0.20 s at 5.8 m/s, a duty factor of a third.
pub(super) fn stance_s(is_hind: bool, speed: f64, scale: f64) -> f64 {
    let travel = |row: (f64, f64, f64)| row.0 * if is_hind { row.2 } else { row.1 };
    let [slow, fast] = STANCE_ROWS;
    let speed = speed.max(2.0);
    let at_scale = speed / scale.sqrt();
    let share = (at_scale - slow.0) / (fast.0 - slow.0);
    let travelled = travel(slow) + share * (travel(fast) - travel(slow));
    scale * travelled / speed
}

/// How long after the leading hind's contact `limb` meets the ground, in strides.
///
/// The order is published (above); the advanced placements are common practice, no source.
/// Before take-off the diagonal pair comes apart and the forelimbs meet the ground later and
/// closer together: "short spacing between the two forelimbs in the last stride before jumping"
/// (Japanese 3-D study of two horses before a 1.0 m fence).
pub(super) fn beat(limb: Limb, before_take_off: bool) -> f64 {
    match (limb, before_take_off) {
        (Limb::TrailingHind, _) => -0.23,
        (Limb::LeadingHind, _) | (Limb::TrailingFore, false) => 0.0,
        (Limb::LeadingFore, false) => 0.24,
        (Limb::TrailingFore, true) => 0.19,
        (Limb::LeadingFore, true) => 0.37,
    }
}

/// Height of the centre of mass when the hind hooves leave the ground. Over water 1.36 m
/// (Clayton, Colborne & Burns 1995); over a fence the trunk is steeper: common practice, no
/// source, but with it both rows of [`flight_rise_m`] give plausible flights.
pub(super) const LIFT_OFF_CENTRE_M: f64 = 1.50;

/// How far the centre of mass rises in flight over a fence of `height_m`.
///
/// 1.83 m over a fence of 1.0 m (Powers & Harrison 2000); 0.70 s of flight over 1.60 m (Stinner
/// 2014), which is a rise of 0.60 m. Straight between the two, the first clearance below 1.0 m.
pub(super) fn flight_rise_m(height_m: f64, scale: f64) -> f64 {
    let height = height_m / scale;
    let clearance = 0.83 - 0.55 * (height - 1.0).max(0.0);
    scale * (height + clearance - LIFT_OFF_CENTRE_M).max(0.15)
}

/// Flight time over a fence of `height_m`: a parabola that ends as high as it began.
pub(super) fn flight_s(height_m: f64, scale: f64) -> f64 {
    2.0 * (2.0 * flight_rise_m(height_m, scale) / GRAVITY).sqrt()
}

/// m/s².
pub(super) const GRAVITY: f64 = 9.81;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stance_meets_the_published_rows() {
        for (speed, fore, hind) in STANCE_ROWS {
            assert!((stance_s(false, speed, 1.0) - fore).abs() < 1e-12);
            assert!((stance_s(true, speed, 1.0) - hind).abs() < 1e-12);
        }
        let canter = stance_s(true, 5.83, 1.0);
        assert!((0.17..0.24).contains(&canter), "{canter}");
    }

    #[test]
    fn durations_meet_the_published_rows() {
        for (length, duration) in DURATION_ROWS {
            assert!((stride_duration_s(length, 1.0) - duration).abs() < 1e-12);
        }
    }

    #[test]
    fn flight_over_the_highest_published_fence_is_near_its_figure() {
        // One horse over 1.60 m: 0.70 s (Stinner 2014, quoted).
        assert!((flight_s(1.60, 1.0) - 0.70).abs() < 0.01);
    }
}
