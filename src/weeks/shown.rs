//! What the approaches of many rounds have shown of a horse.

use std::collections::BTreeMap;

use super::dated_approach::WeeksEntry;
use crate::quantity::{Estimate, Metres};
use crate::stride::ShownStrides;

/// Between which lengths the strides of `entries` lie, which are of one horse; approaches of one file
/// are one round. `None` where no stride has a length.
pub fn shown_in(entries: &[WeeksEntry]) -> Option<ShownStrides> {
    let mut rounds: BTreeMap<&str, Vec<Estimate<Metres>>> = BTreeMap::new();
    for entry in entries {
        let lengths = entry.approach.strides.iter().filter_map(|stride| stride.length_m);
        rounds.entry(&entry.approach.file).or_default().extend(lengths);
    }
    rounds.into_values().filter_map(ShownStrides::of_round).reduce(ShownStrides::and)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;
    use crate::weeks::sample::entry;

    #[test]
    fn a_file_is_one_round_however_many_approaches_it_holds() {
        let day = Some("2026-10-02");
        let entries = [
            entry("a", day, "gate", &[3.4, 3.5]),
            entry("a", day, "oxer", &[3.3]),
            entry("b", day, "gate", &[3.8]),
        ];
        let shown = shown_in(&entries).unwrap();
        let [span] = shown.spans[..] else { panic!("{shown:?}") };
        // Each ± 0.08 m.
        assert!((span.low_m.get() - 3.22).abs() < 1e-9 && (span.high_m.get() - 3.88).abs() < 1e-9);
        assert_eq!(shown.rounds, 2);
        assert_eq!(shown_in(&[]), None);
    }
}
