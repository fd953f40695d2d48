//! Two ways to an uncomfortable jump, each told from the other (common practice, no source):
//!
//! - the canter dies on the way, while the rider hunts for a distance, and the horse gets deep and must
//!   heave itself over;
//! - the rider sees a distance too late, runs at it from nothing in the last three strides, and the
//!   horse adds another stride.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::answer::{Answer, Lack};
use super::settings::Settings;
use crate::quantity::{Estimate, Metres, Unit};
use crate::stride::ApproachDraws;

/// Which of the two.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Fault {
    /// The canter died on the way, and the horse came deep.
    DiedAndDeep,
    /// Run at it from nothing, and a stride was added.
    RanAndAdded,
}

/// Whether it happened, and what shows it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FaultReading {
    /// Which.
    pub fault: Fault,
    /// Whether it happened.
    pub happened: Answer,
    /// Whether the strides alone look like it: also known where the take-off is not.
    pub strides_show_it: Answer,
    /// Of the draws that show it, the share that does from just that stride to that.
    pub place_probability: f64,
    /// The stride at which the strides begin to shrink (died), or to grow (ran).
    pub from: Option<i32>,
    /// The last of them.
    pub to: Option<i32>,
    /// Length at `to` less length at `from`.
    pub by_m: Option<Estimate<Metres>>,
    /// The mean of the other strides less the last one; for the added stride.
    pub last_shorter_m: Option<Estimate<Metres>>,
}

/// Fewer strides show neither.
const LEAST_STRIDES: usize = 4;
/// Strides in which one runs at a fence from nothing: the last three before the one that is added.
const RUN: usize = 3;

/// What one draw shows of a fault: from where to where, places in the series.
type Shown = Option<(usize, usize)>;

/// Reads both faults.
pub(super) fn read_faults(draws: &ApproachDraws, settings: &Settings) -> [FaultReading; 2] {
    [Fault::DiedAndDeep, Fault::RanAndAdded].map(|fault| read_fault(fault, draws, settings))
}

fn read_fault(fault: Fault, draws: &ApproachDraws, settings: &Settings) -> FaultReading {
    let nothing = |lack| FaultReading {
        fault,
        happened: Answer::Lacks { lack },
        strides_show_it: Answer::Lacks { lack },
        place_probability: 0.0,
        from: None,
        to: None,
        by_m: None,
        last_shorter_m: None,
    };
    if draws.stride_numbers.len() < LEAST_STRIDES || draws.stride_numbers.last() != Some(&-1) {
        return nothing(Lack::Strides);
    }
    let seen = |lengths: &Vec<f64>| match fault {
        Fault::DiedAndDeep => died(lengths, settings),
        Fault::RanAndAdded => ran(lengths, settings),
    };
    let by_strides: Vec<Shown> = draws.lengths_m.iter().map(seen).collect();
    let answer = |shown: &[Shown]| Answer::of(shown.iter().map(Option::is_some), settings.sure);
    let Some(strides_show_it) = answer(&by_strides) else {
        return nothing(Lack::Strides);
    };
    let with_take_off = match fault {
        Fault::DiedAndDeep if draws.take_off_m.is_empty() => None,
        Fault::DiedAndDeep => Some(deep_too(&by_strides, &draws.take_off_m, settings)),
        Fault::RanAndAdded => Some(by_strides.clone()),
    };
    let happened = match &with_take_off {
        Some(shown) => answer(shown),
        None => Some(Answer::Lacks { lack: Lack::TakeOff }),
    };
    let Some(happened) = happened else {
        return nothing(Lack::Strides);
    };
    let shown = with_take_off.unwrap_or(by_strides);
    let place = most_often(shown.iter().flatten().copied());
    let number = |at: usize| draws.stride_numbers.get(at).copied();
    let by = place.and_then(|((from, to), _)| {
        let by = draws.lengths_m.iter().map(|lengths| lengths[to] - lengths[from]);
        Estimate::about_median(by.collect())
    });
    let shorter = draws.lengths_m.iter().filter_map(|lengths| last_shorter_m(lengths)).collect();
    FaultReading {
        fault,
        happened,
        strides_show_it,
        place_probability: place.map_or(0.0, |(_, share)| share),
        from: place.and_then(|((from, _), _)| number(from)),
        to: place.and_then(|((_, to), _)| number(to)),
        by_m: by,
        last_shorter_m: (fault == Fault::RanAndAdded)
            .then(|| Estimate::about_median(shorter))
            .flatten(),
    }
}

/// What also came deep. Lengths and take-off are drawn apart (`ApproachDraws`), so that which draw of
/// one meets which of the other is chance: what they share, the last hoof, is not in it.
fn deep_too(by_strides: &[Shown], take_off_m: &[f64], settings: &Settings) -> Vec<Shown> {
    let deep = take_off_m.iter().map(|m| *m < settings.take_off_zone.low_m().get());
    by_strides.iter().zip(deep).map(|(shown, is_deep)| shown.filter(|_| is_deep)).collect()
}

/// The canter died: from some stride on the strides shrink by more than the tolerance and do not come
/// back. A stride that was added at the end is not taken for it.
fn died(lengths: &[f64], settings: &Settings) -> Shown {
    let body = match was_added(lengths, settings) {
        true => &lengths[..lengths.len() - 1],
        false => lengths,
    };
    let tolerance = tolerance_m(lengths, settings);
    let last = body.len() - 1;
    let from = place_of(body, |a, b| a >= b)?;
    let low = body[from..].iter().copied().fold(f64::INFINITY, f64::min);
    // On the way, not in one stride.
    let on_the_way = last - from >= 2;
    let dies = body[from] - body[last] > tolerance;
    let stays = body[last] - low <= tolerance;
    (on_the_way && dies && stays).then_some((from, last))
}

/// Run at from nothing, and another stride added: the last stride is short, the three before it grow
/// by more than the tolerance, and before those nothing grew.
fn ran(lengths: &[f64], settings: &Settings) -> Shown {
    if !was_added(lengths, settings) {
        return None;
    }
    let tolerance = tolerance_m(lengths, settings);
    let fast = lengths.len() - 2;
    let begin = fast.saturating_sub(RUN);
    let slow = begin + place_of(&lengths[begin..fast], |a, b| a <= b)?;
    let runs = lengths[fast] - lengths[slow] > tolerance;
    let from_nothing = lengths[slow] - lengths[0] <= tolerance;
    (runs && from_nothing).then_some((slow, fast))
}

/// Whether the last stride is one that was added.
fn was_added(lengths: &[f64], settings: &Settings) -> bool {
    last_shorter_m(lengths).is_some_and(|shorter| shorter > settings.added_shorter_m.get())
}

/// The mean of the others less the last, metres.
fn last_shorter_m(lengths: &[f64]) -> Option<f64> {
    let (last, others) = lengths.split_last()?;
    Some(others.iter().sum::<f64>() / others.len() as f64 - last)
}

fn tolerance_m(lengths: &[f64], settings: &Settings) -> f64 {
    let mean = lengths.iter().sum::<f64>() / lengths.len() as f64;
    settings.pace_tolerance_percent.get() / 100.0 * mean
}

/// Place of the last length that is `beyond` or equal to all others.
fn place_of(lengths: &[f64], beyond: fn(f64, f64) -> bool) -> Option<usize> {
    let mut found = 0;
    for (at, &length) in lengths.iter().enumerate() {
        if beyond(length, *lengths.get(found)?) {
            found = at;
        }
    }
    (!lengths.is_empty()).then_some(found)
}

/// The place that is there most often, and the share of all that is.
fn most_often(places: impl Iterator<Item = (usize, usize)>) -> Option<((usize, usize), f64)> {
    let mut counts = std::collections::BTreeMap::new();
    for place in places {
        *counts.entry(place).or_insert(0_usize) += 1;
    }
    let all: usize = counts.values().sum();
    let most = counts.into_iter().max_by_key(|(_, count)| *count)?;
    Some((most.0, most.1 as f64 / all as f64))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::sample::drawn;

    const DIED: [f64; 6] = [3.55, 3.50, 3.35, 3.15, 2.95, 2.80];
    const RAN: [f64; 7] = [3.50, 3.30, 3.05, 2.95, 3.35, 3.80, 2.45];

    fn read(lengths: &[f64], take_off: f64) -> [FaultReading; 2] {
        read_faults(&drawn(lengths, 0.03, take_off, 0.03), &Settings::default())
    }

    fn happened(lengths: &[f64], take_off: f64) -> [bool; 2] {
        read(lengths, take_off).map(|fault| fault.happened.is_yes())
    }

    #[test]
    fn each_fault_is_known_by_its_own_signs() {
        assert_eq!(happened(&DIED, 0.70), [true, false]);
        // The same strides with a take-off within the zone are one change, which is fine.
        assert_eq!(happened(&DIED, 1.60), [false, false]);
        assert_eq!(happened(&RAN, 1.30), [false, true]);
        // Deep as well: still the one that ran, for the canter did not die at the end.
        assert_eq!(happened(&RAN, 0.70), [false, true]);
        // Died, and a short stride added: the strides before it never grew.
        assert_eq!(happened(&[3.55, 3.40, 3.25, 3.10, 3.00, 2.40], 0.70), [true, false]);
        // Built all the way and a stride added: not from nothing.
        assert_eq!(happened(&[3.00, 3.20, 3.40, 3.60, 3.80, 2.60], 1.30), [false, false]);
        // Level and deep: nothing died.
        assert_eq!(happened(&[3.50, 3.48, 3.52, 3.50, 3.49], 0.60), [false, false]);
        // One short stride is none of the two.
        assert_eq!(happened(&[3.50, 3.48, 3.52, 3.50, 2.70], 0.60), [false, false]);
    }

    #[test]
    fn the_evidence_is_the_strides_it_happened_in() {
        let [died, _] = read(&DIED, 0.70);
        assert_eq!((died.from, died.to), (Some(-6), Some(-1)));
        assert!((died.by_m.unwrap().value.get() + 0.75).abs() < 0.02);
        assert_eq!(died.last_shorter_m, None);
        let [_, ran] = read(&RAN, 1.30);
        assert_eq!((ran.from, ran.to), (Some(-4), Some(-2)));
        assert!((ran.by_m.unwrap().value.get() - 0.85).abs() < 0.02);
        // Mean of the six others: 3.325 m.
        assert!((ran.last_shorter_m.unwrap().value.get() - 0.875).abs() < 0.02);
    }

    #[test]
    fn too_few_strides_or_no_take_off_is_no_answer() {
        let settings = Settings::default();
        let few = read_faults(&drawn(&[3.5, 3.2, 2.9], 0.03, 0.7, 0.03), &settings);
        assert!(few.iter().all(|one| one.happened == Answer::Lacks { lack: Lack::Strides }));
        let mut unjumped = drawn(&DIED, 0.03, 0.7, 0.03);
        unjumped.take_off_m.clear();
        let [died, ran] = read_faults(&unjumped, &settings);
        assert_eq!(died.happened, Answer::Lacks { lack: Lack::TakeOff });
        assert!(matches!(ran.happened, Answer::No { .. }));
        // The last stride was not measured: nothing is known of its end.
        let mut open = drawn(&RAN, 0.03, 1.3, 0.03);
        open.stride_numbers = (-8..-1).collect();
        assert!(
            read_faults(&open, &settings).iter().all(|one| one.happened.probability().is_none())
        );
    }
}
