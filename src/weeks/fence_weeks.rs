//! Approaches grouped by their fence, each group in the order of dates.

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::dated_approach::{DatedApproach, WeeksEntry};
use super::doubt::WeeksDoubt;
use super::grouping::GroupBy;
use super::last_against_first::LastAgainstFirst;
use super::stride_overlay::StrideOverlay;
use crate::marks::Round;
use crate::quantity::{LengthUnits, Metres, Unit, written_bare};
use crate::reading::FenceAsks;

/// All approaches to one fence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FenceWeeks {
    /// What the fence is called, or what the group has in common.
    pub fence: String,
    /// In the order of dates, then of files' names; those without a date last. Never empty.
    pub approaches: Vec<DatedApproach>,
    /// Their strides by number, the farthest from the fence first.
    pub strides: Vec<StrideOverlay>,
    /// `None` for a single approach.
    pub last_against_first: Option<LastAgainstFirst>,
    /// Reasons to trust the comparison less.
    pub doubts: Vec<WeeksDoubt>,
}

/// Groups the approaches by what their fence is called, letter by letter; fences in the order of
/// their names.
pub fn by_fence(entries: Vec<WeeksEntry>) -> Vec<FenceWeeks> {
    by(GroupBy::Fence, entries)
}

/// Groups the approaches; groups in the order of their names.
pub fn by(what: GroupBy, entries: Vec<WeeksEntry>) -> Vec<FenceWeeks> {
    let mut groups: BTreeMap<String, Vec<WeeksEntry>> = BTreeMap::new();
    for entry in entries {
        groups.entry(what.group_of(&entry.approach)).or_default().push(entry);
    }
    groups.into_par_iter().map(|(fence, entries)| FenceWeeks::of(fence, entries)).collect()
}

impl FenceWeeks {
    fn of(fence: String, mut entries: Vec<WeeksEntry>) -> Self {
        // Sorting keeps the order of approaches within a file.
        entries.sort_by(|a, b| order(&a.approach).cmp(&order(&b.approach)));
        let last_against_first = match &entries[..] {
            [first, .., last] => Some(LastAgainstFirst::of(first, last)),
            _ => None,
        };
        let approaches: Vec<DatedApproach> =
            entries.into_iter().map(|entry| entry.approach).collect();
        let doubts = doubts(&fence, &approaches);
        let strides = StrideOverlay::of(&approaches);
        Self { fence, approaches, strides, last_against_first, doubts }
    }
}

/// Takes out who rode which horse and what the files are called. A name of any of the rounds goes
/// wherever it stands: a note on one horse may speak of another.
pub fn leave_names_off(weeks: &mut [FenceWeeks]) {
    let all = weeks.iter().flat_map(|fence| &fence.approaches);
    let named: BTreeSet<(String, String)> =
        all.map(|one| (one.rider.clone(), one.horse.clone())).collect();
    let rounds: Vec<Round> = named
        .into_iter()
        .map(|(rider, horse)| Round { rider, horse, ..Round::default() })
        .collect();
    let without =
        |text: &str| rounds.iter().fold(text.to_owned(), |text, round| round.without_names(&text));
    for fence in weeks {
        fence.fence = without(&fence.fence);
        fence.approaches.iter_mut().for_each(|one| one.leave_names_off(&without));
        for doubt in &mut fence.doubts {
            match doubt {
                WeeksDoubt::SeveralHorses { horses: names }
                | WeeksDoubt::SeveralRiders { riders: names } => {
                    names.iter_mut().for_each(String::clear);
                }
                WeeksDoubt::UnnamedFence { id, .. } => *id = without(id),
                WeeksDoubt::SeveralFences { fences } => {
                    fences.iter_mut().for_each(|fence| *fence = without(fence));
                }
                WeeksDoubt::AsksDiffer { what } => {
                    let stated = what.iter_mut().flat_map(|(_, stated)| stated);
                    stated.for_each(|said| *said = without(said));
                }
                WeeksDoubt::Undated { .. } | WeeksDoubt::StrideCountsDiffer { .. } => {}
            }
        }
    }
}

fn order(approach: &DatedApproach) -> (bool, &str, &str) {
    (approach.date.is_none(), approach.date.as_deref().unwrap_or_default(), &approach.file)
}

/// One thing that is stated of a fence, in words; empty where it is not.
type Stated<'a> = &'a dyn Fn(&FenceAsks) -> String;

/// What was stated of fence and ground in more than one way. What is not stated differs from nothing.
fn asks_that_differ(approaches: &[DatedApproach]) -> Vec<(String, Vec<String>)> {
    let length = |metres: Option<f64>| {
        metres.map(|m| written_bare(Metres::new(m), LengthUnits::Metres)).unwrap_or_default()
    };
    let stated: [(&str, Stated<'_>); 6] = [
        ("kind", &|asks| asks.kind.words().to_owned()),
        ("height", &|asks| length(asks.height_m)),
        ("spread", &|asks| length(asks.spread_m)),
        ("behind it", &|asks| asks.behind.clone()),
        ("around it", &|asks| asks.around.clone()),
        ("going", &|asks| asks.surface.clone()),
    ];
    let mut what = Vec::new();
    for (name, of) in stated {
        let all: BTreeSet<String> =
            approaches.iter().map(|one| of(&one.asks)).filter(|said| !said.is_empty()).collect();
        if all.len() > 1 {
            what.push((name.to_owned(), all.into_iter().collect()));
        }
    }
    what
}

fn doubts(fence: &str, approaches: &[DatedApproach]) -> Vec<WeeksDoubt> {
    let mut doubts = Vec::new();
    let of = approaches.len();
    let undated = approaches.iter().filter(|approach| approach.date.is_none()).count();
    if undated > 0 && of > 1 {
        doubts.push(WeeksDoubt::Undated { approaches: undated, of });
    }
    let fences: BTreeSet<&String> = approaches.iter().map(|one| &one.fence).collect();
    let is_one_fence = fences.len() == 1;
    if !is_one_fence {
        let fences = fences.into_iter().cloned().collect();
        doubts.push(WeeksDoubt::SeveralFences { fences });
    }
    let what = asks_that_differ(approaches);
    if is_one_fence && !what.is_empty() {
        doubts.push(WeeksDoubt::AsksDiffer { what });
    }
    let unnamed = approaches.iter().filter(|approach| !approach.fence_named).count();
    if unnamed > 0 && of > 1 && is_one_fence {
        doubts.push(WeeksDoubt::UnnamedFence { id: fence.to_owned(), approaches: unnamed });
    }
    let all = |name: fn(&DatedApproach) -> &String| -> Vec<String> {
        approaches.iter().map(name).cloned().collect::<BTreeSet<_>>().into_iter().collect()
    };
    let (horses, riders) = (all(|one| &one.horse), all(|one| &one.rider));
    if horses.len() > 1 {
        doubts.push(WeeksDoubt::SeveralHorses { horses });
    }
    if riders.len() > 1 {
        doubts.push(WeeksDoubt::SeveralRiders { riders });
    }
    if let [first, .., last] = approaches {
        let measured = |approach: &DatedApproach| {
            approach.strides.iter().filter(|stride| stride.length_m.is_some()).count()
        };
        let (first, last) = (measured(first), measured(last));
        if first != last {
            doubts.push(WeeksDoubt::StrideCountsDiffer { first, last });
        }
    }
    doubts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weeks::sample::{entry, evenly};

    #[test]
    fn approaches_stand_in_the_order_of_dates_then_of_files() {
        let entries = vec![
            entry("d", None, "oxer", &evenly(3.4)),
            entry("c", Some("2026-04-11"), "oxer", &evenly(3.5)),
            entry("b", None, "oxer", &evenly(3.4)),
            entry("z", Some("2026-03-28"), "oxer", &evenly(3.3)),
            entry("a", Some("2026-04-11"), "gate", &evenly(3.3)),
        ];
        let weeks = by_fence(entries);
        let fences: Vec<&str> = weeks.iter().map(|fence| fence.fence.as_str()).collect();
        assert_eq!(fences, ["gate", "oxer"]);
        let files: Vec<&str> = weeks[1].approaches.iter().map(|one| one.file.as_str()).collect();
        assert_eq!(files, ["z", "c", "b", "d"]);
        assert_eq!(weeks[1].doubts, [WeeksDoubt::Undated { approaches: 2, of: 4 }]);
        assert_eq!((weeks[0].doubts.len(), &weeks[0].last_against_first), (0, &None));
    }

    #[test]
    fn what_is_mixed_in_one_group_is_doubted() {
        let mut entries = vec![
            entry("a", Some("2026-04-04"), "A", &evenly(3.4)),
            entry("b", Some("2026-04-11"), "A", &evenly(3.5)[1..]),
        ];
        entries[1].approach.horse = "Pebble".into();
        entries[1].approach.fence_named = false;
        let weeks = by_fence(entries);
        let said: Vec<String> = weeks[0].doubts.iter().map(|doubt| doubt.sentence(true)).collect();
        assert_eq!(said.len(), 3, "{said:?}");
        assert!(said[0].contains("1 approach, only the id `A`"), "{}", said[0]);
        assert!(said[1].ends_with("(Juniper, Pebble)"), "{}", said[1]);
        assert!(said[2].contains("6 measured strides and the last 5"), "{}", said[2]);
    }

    #[test]
    fn names_are_left_off_everything() {
        let mut one =
            entry("Juniper 1.marks.json", Some("2026-04-04"), "Juniper's oxer", &evenly(3.4));
        one.approach.notes = vec!["Juniper waited".into()];
        let mut other = one.clone();
        other.approach.horse = "Pebble".into();
        let mut weeks = by_fence(vec![one, other]);
        leave_names_off(&mut weeks);
        let json = serde_json::to_string(&weeks).unwrap();
        assert!(!json.contains("Juniper") && !json.contains("Pebble"), "{json}");
        assert_eq!(weeks[0].fence, "the horse's oxer");
    }

    #[test]
    fn a_difference_counts_when_its_interval_leaves_out_zero() {
        let uneven = [3.5, 3.3, 3.05, 2.95, 3.35, 3.8];
        let weeks = by_fence(vec![
            entry("a", Some("2026-04-04"), "oxer", &uneven),
            entry("b", Some("2026-04-18"), "oxer", &evenly(3.5)),
        ]);
        let change = weeks[0].last_against_first.clone().unwrap();
        let range = change.range_m.unwrap();
        assert!(range.more_than_its_uncertainty && range.probability_larger < 0.001, "{range:?}");
        let take_off = change.take_off_m.unwrap();
        assert!(!take_off.more_than_its_uncertainty, "{take_off:?}");
        assert!((take_off.probability_larger - 0.5).abs() < 0.01, "{take_off:?}");
    }
}
