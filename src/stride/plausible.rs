//! Strides that no horse makes: slips of marking that the survey cannot see, because a hoof in
//! the wrong place fits its one click as well as one in the right place.

use super::doubt::StrideDoubt;
use super::outcome::StrideRow;
use crate::quantity::{Unit, median};

/// A stride that lasted longer than this many medians may hide a footfall.
const LONGEST: f64 = 1.5;
/// One that lasted less than this part of the median is between different limbs or wrong frames.
const BRIEFEST: f64 = 0.6;
/// A horse that is pushed or propped before a fence changes its speed from stride to stride by
/// less than this factor: the arena's worst story has 1.6. Common practice, no source.
const LARGEST_CHANGE: f64 = 1.8;
/// Tempo from the slowest canter to a racing gallop, strides a minute: published rows lie between
/// 90 and 150 (reference rows 1 to 5); with room on either side.
const TEMPO: (f64, f64) = (60.0, 175.0);

/// Doubts about the strides of one approach, in the order ridden.
pub(super) fn implausible(strides: &[StrideRow]) -> Vec<StrideDoubt> {
    let durations: Vec<f64> = strides.iter().map(|row| row.duration_s.value.get()).collect();
    let Some(median_s) = median(&mut durations.clone()) else { return Vec::new() };
    let mut doubts = Vec::new();
    let strides_per_min = 60.0 / median_s;
    if !(TEMPO.0..=TEMPO.1).contains(&strides_per_min) {
        doubts.push(StrideDoubt::TempoDoubtful { strides_per_min });
    }
    // Two strides cannot outvote each other.
    if strides.len() >= 3 {
        for (row, &duration_s) in strides.iter().zip(&durations) {
            let stride = row.number;
            if duration_s > LONGEST * median_s {
                doubts.push(StrideDoubt::MaybeMissed { stride });
            } else if duration_s < BRIEFEST * median_s {
                doubts.push(StrideDoubt::TooBrief { stride, duration_s, median_s });
            }
        }
    }
    for pair in strides.windows(2) {
        let speed = |row: &StrideRow| row.speed_m_per_s.map(|speed| speed.value.get());
        let (Some(from_m_per_s), Some(to_m_per_s)) = (speed(&pair[0]), speed(&pair[1])) else {
            continue;
        };
        let change = from_m_per_s / to_m_per_s.max(1e-9);
        if !(1.0 / LARGEST_CHANGE..=LARGEST_CHANGE).contains(&change) {
            let stride = pair[0].number;
            doubts.push(StrideDoubt::SpeedJumps { stride, from_m_per_s, to_m_per_s });
        }
    }
    doubts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Estimate, Metres, MetresPerSecond, Seconds, StridesPerMinute};

    fn exactly<U: Unit + Copy>(value: f64) -> Estimate<U> {
        let value = U::new(value);
        Estimate { value, sd: U::new(0.0), low95: value, high95: value }
    }

    fn strides(lengths_and_durations: &[(f64, f64)]) -> Vec<StrideRow> {
        let first = -(lengths_and_durations.len() as i32);
        (first..0)
            .zip(lengths_and_durations)
            .map(|(number, &(length, duration))| StrideRow {
                number,
                from_footfall: String::new(),
                to_footfall: String::new(),
                length_m: Some(exactly::<Metres>(length)),
                duration_s: exactly::<Seconds>(duration),
                tempo_strides_per_min: exactly::<StridesPerMinute>(60.0 / duration),
                speed_m_per_s: Some(exactly::<MetresPerSecond>(length / duration)),
                note: String::new(),
            })
            .collect()
    }

    #[test]
    fn a_real_chip_is_no_slip() {
        // The arena's story of the horse that was eased, pushed and had to add a short stride.
        let rows = [(3.05, 0.60), (2.95, 0.62), (3.35, 0.60), (3.80, 0.60), (2.45, 0.60)];
        assert_eq!(implausible(&strides(&rows)), []);
    }

    #[test]
    fn a_footfall_on_the_wrong_frame_is_doubted() {
        let rows = [(3.4, 0.60), (3.4, 0.78), (3.4, 0.30), (3.4, 0.60), (3.4, 0.60)];
        let doubts = implausible(&strides(&rows));
        assert!(matches!(doubts[0], StrideDoubt::TooBrief { stride: -3, .. }), "{doubts:?}");
        assert!(doubts[0].sentence().starts_with("stride \u{2212}3 lasted 0.30 s"));
    }

    #[test]
    fn a_hoof_a_metre_off_is_doubted() {
        let rows = [(3.4, 0.60), (4.7, 0.60), (1.34, 0.60), (3.4, 0.60)];
        let doubts = implausible(&strides(&rows));
        assert!(
            doubts.iter().any(|d| matches!(d, StrideDoubt::SpeedJumps { stride: -3, .. })),
            "{doubts:?}"
        );
    }

    #[test]
    fn durations_are_held_against_their_median() {
        // The median is 0.60 s: half as long again is 0.90 s, six tenths are 0.36 s.
        let doubts = |odd: f64| {
            let rows = [0.60, 0.58, 0.62, odd, 0.60].map(|duration| (6.0 * duration, duration));
            implausible(&strides(&rows))
        };
        assert_eq!(doubts(0.89), []);
        assert_eq!(doubts(0.91), [StrideDoubt::MaybeMissed { stride: -2 }]);
        assert_eq!(doubts(0.37), []);
        let brief = StrideDoubt::TooBrief { stride: -2, duration_s: 0.35, median_s: 0.60 };
        assert_eq!(doubts(0.35), [brief]);
        // Of two strides neither can be the odd one; of three one can.
        let rows = [(3.0, 0.50), (5.4, 0.90), (3.0, 0.50)];
        assert_eq!(implausible(&strides(&rows[..2])), []);
        assert_eq!(implausible(&strides(&rows)), [StrideDoubt::MaybeMissed { stride: -2 }]);
        assert_eq!(implausible(&[]), []);
    }

    #[test]
    fn a_speed_may_change_by_less_than_the_stated_factor_either_way() {
        // Half a second each: 4.0 and 2.2 m are a factor of 1.82, 4.0 and 2.3 m one of 1.74.
        let pair = |from: f64, to: f64| implausible(&strides(&[(from, 0.5), (to, 0.5)]));
        assert_eq!(pair(4.0, 2.3), []);
        assert_eq!(pair(2.3, 4.0), []);
        let jump = |from_m_per_s, to_m_per_s| StrideDoubt::SpeedJumps {
            stride: -2,
            from_m_per_s,
            to_m_per_s,
        };
        assert_eq!(pair(4.0, 2.2), [jump(8.0, 4.4)]);
        assert_eq!(pair(2.2, 4.0), [jump(4.4, 8.0)]);
    }

    #[test]
    fn a_tempo_of_the_canter_is_not_doubted() {
        let doubted = |per_min: f64| {
            let duration = 60.0 / per_min;
            !implausible(&strides(&[(6.0 * duration, duration); 3])).is_empty()
        };
        assert_eq!([59.0, 61.0, 174.0, 176.0].map(doubted), [true, false, false, true]);
    }

    #[test]
    fn slow_motion_taken_for_real_time_is_doubted() {
        let rows = [(3.4, 2.4), (3.5, 2.4)];
        assert!(matches!(
            implausible(&strides(&rows))[..],
            [StrideDoubt::TempoDoubtful { strides_per_min }] if (strides_per_min - 25.0).abs() < 1e-9
        ));
    }
}
