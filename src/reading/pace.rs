//! Changes of pace: how often the strides went longer or shorter, where, which way, how surely.
//!
//! Common practice, no source: one change, either way, is fine; shorter and then longer, or the
//! reverse, is what spoils an approach.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::answer::{Answer, Lack};
use super::settings::Settings;
use crate::quantity::{Estimate, Metres, Percent, Unit};
use crate::stride::{ApproachDraws, Move, Way, moves};

/// How the pace went.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PaceReading {
    /// Whether there was one change at most, and so no turn from shorter to longer or back.
    pub is_one_at_most: Answer,
    /// The most probable way it went.
    pub likeliest: PacePattern,
    /// Its probability among all, 0 to 1; 0 where nothing was measured.
    pub probability: f64,
    /// Probability of each number of changes, from none on; they add up to 1.
    pub changes: Vec<f64>,
    /// A length must go back by more than this share of the mean to count.
    pub tolerance_percent: Percent,
}

/// The moves of an approach, in the order ridden; none for a steady one.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
pub struct PacePattern {
    /// Two that follow one another go opposite ways.
    pub moves: Vec<PaceMove>,
    /// How likely all of them began and ended just there, given that it went this way, 0 to 1.
    pub place_probability: f64,
}

/// Strides that grow or shrink.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PaceMove {
    /// Which way.
    pub way: Way,
    /// The stride before the first that differs: an extreme.
    pub from: i32,
    /// The stride at which it ends: the other extreme.
    pub to: i32,
    /// Length at `to` less length at `from`.
    pub by_m: Estimate<Metres>,
}

/// Fewer strides have no pace to speak of.
const LEAST_STRIDES: usize = 3;

/// Reads the changes of pace.
pub(super) fn read_pace(draws: &ApproachDraws, settings: &Settings) -> PaceReading {
    let tolerance_percent = settings.pace_tolerance_percent;
    let all: Vec<Vec<Move>> = draws
        .lengths_m
        .iter()
        .filter(|lengths| lengths.len() >= LEAST_STRIDES)
        .map(|lengths| moves(lengths, tolerance_percent.get()))
        .collect();
    let one_at_most = Answer::of(all.iter().map(|moves| moves.len() <= 1), settings.sure);
    let Some(is_one_at_most) = one_at_most else {
        return PaceReading {
            is_one_at_most: Answer::Lacks { lack: Lack::Strides },
            likeliest: PacePattern::default(),
            probability: 0.0,
            changes: Vec::new(),
            tolerance_percent,
        };
    };
    let total = all.len() as f64;
    let mut changes = vec![0.0; all.iter().map(Vec::len).max().unwrap_or(0) + 1];
    let mut patterns: BTreeMap<Vec<Way>, usize> = BTreeMap::new();
    for moves in &all {
        changes[moves.len()] += 1.0 / total;
        *patterns.entry(moves.iter().map(|one| one.way).collect()).or_default() += 1;
    }
    // Of two as probable the one with fewer moves.
    let most = patterns.iter().max_by_key(|(ways, count)| (**count, usize::MAX - ways.len()));
    let (ways, count) = most.map_or((Vec::new(), 0), |(ways, count)| (ways.clone(), *count));
    let of_pattern: Vec<&Vec<Move>> = all
        .iter()
        .filter(|moves| moves.iter().map(|one| one.way).eq(ways.iter().copied()))
        .collect();
    let (places, place_probability) = likeliest_places(&of_pattern);
    let moves = places.iter().filter_map(|place| told(draws, place)).collect();
    PaceReading {
        is_one_at_most,
        likeliest: PacePattern { moves, place_probability },
        probability: count as f64 / total,
        changes,
        tolerance_percent,
    }
}

/// Where the moves of a pattern lie together in most of its draws, and in what share of them.
fn likeliest_places(of_pattern: &[&Vec<Move>]) -> (Vec<Move>, f64) {
    let mut counts: BTreeMap<&Vec<Move>, usize> = BTreeMap::new();
    for moves in of_pattern {
        *counts.entry(moves).or_default() += 1;
    }
    let most = counts.into_iter().max_by_key(|(_, count)| *count);
    most.map_or((Vec::new(), 1.0), |(moves, count)| {
        (moves.clone(), count as f64 / of_pattern.len() as f64)
    })
}

fn told(draws: &ApproachDraws, place: &Move) -> Option<PaceMove> {
    let by = draws.lengths_m.iter().map(|lengths| lengths[place.to] - lengths[place.from]);
    Some(PaceMove {
        way: place.way,
        from: *draws.stride_numbers.get(place.from)?,
        to: *draws.stride_numbers.get(place.to)?,
        by_m: Estimate::about_median(by.collect())?,
    })
}

impl PacePattern {
    /// The ways in their order.
    pub fn ways(&self) -> Vec<Way> {
        self.moves.iter().map(|one| one.way).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::sample::drawn;

    fn read(lengths: &[f64], sd: f64) -> PaceReading {
        read_pace(&drawn(lengths, sd, 1.8, 0.01), &Settings::default())
    }

    #[test]
    fn steady_one_way_and_there_and_back_are_told_apart() {
        use Way::{Longer, Shorter};
        let steady = read(&[3.47, 3.52, 3.50, 3.46, 3.53, 3.50], 0.02);
        assert!(steady.is_one_at_most.is_yes() && steady.likeliest.moves.is_empty());
        let built = read(&[3.10, 3.20, 3.30, 3.40, 3.48, 3.56], 0.02);
        assert!(built.is_one_at_most.is_yes());
        assert_eq!(built.likeliest.ways(), [Longer]);
        let eased_then_pushed = read(&[3.52, 3.46, 3.30, 3.10, 3.36, 3.48], 0.02);
        assert!(matches!(eased_then_pushed.is_one_at_most, Answer::No { .. }));
        assert_eq!(eased_then_pushed.likeliest.ways(), [Shorter, Longer]);
        let [eased, pushed] = &eased_then_pushed.likeliest.moves[..] else { panic!() };
        assert_eq!((eased.to, pushed.from, pushed.to), (-3, -3, -1));
        // 3.48 − 3.10 m.
        assert!((pushed.by_m.value.get() - 0.38).abs() < 0.01);
        assert!(eased_then_pushed.likeliest.place_probability > 0.9);
    }

    #[test]
    fn what_the_error_hides_cannot_be_told() {
        // A turn of 0.20 m beside a tolerance of 0.17 m, each stride known to 0.08 m.
        let read = read(&[3.50, 3.40, 3.30, 3.40, 3.50], 0.08);
        assert!(matches!(read.is_one_at_most, Answer::CannotTell { .. }), "{read:?}");
        assert!((read.changes.iter().sum::<f64>() - 1.0).abs() < 1e-9);
    }

    #[test]
    fn two_strides_have_no_pace_to_change() {
        let read = read(&[3.5, 3.0], 0.02);
        assert_eq!(read.is_one_at_most, Answer::Lacks { lack: Lack::Strides });
    }
}
