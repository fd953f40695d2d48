//! What changed, in words that terminal and page share.

use super::fence_weeks::FenceWeeks;
use super::last_against_first::{Change, LastAgainstFirst};
use crate::quantity::{LengthUnits, Unit, written, written_probability};
use crate::stride::PaceChanges;

/// One line of the comparison.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChangeWords {
    /// What is compared.
    pub name: &'static str,
    /// In the first approach, with ± and unit.
    pub first: String,
    /// In the last.
    pub last: String,
    /// The last less the first, signed, with ± and unit.
    pub difference: String,
    /// What that means: "more even", "within its ±".
    pub verdict: &'static str,
    /// "99 % likely less".
    pub probability: String,
    /// Whether the difference is more than its uncertainty.
    pub certain: bool,
}

/// The lines for which both approaches have a number: how even first, then what else.
pub fn change_words(change: &LastAgainstFirst, units: LengthUnits) -> Vec<ChangeWords> {
    let level = ["less even", "more even"];
    [
        change.variation_percent.as_ref().map(|c| words("variation", c, level, units)),
        change.range_m.as_ref().map(|c| words("longest \u{2212} shortest", c, level, units)),
        change.mean_m.as_ref().map(|c| words("mean stride", c, ["longer", "shorter"], units)),
        change.take_off_m.as_ref().map(|c| {
            words("take-off", c, ["farther from the fence", "nearer to the fence"], units)
        }),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn words<U: Unit>(
    name: &'static str,
    change: &Change<U>,
    [larger, smaller]: [&'static str; 2],
    units: LengthUnits,
) -> ChangeWords {
    let grew = change.difference.value.get() > 0.0;
    // A difference of two shares is counted in points, or it would read as a share of the first.
    let difference = written(&change.difference, units).to_string().replace('%', "points");
    let sign = if grew { "+" } else { "" };
    let (likely, way) = if change.probability_larger >= 0.5 {
        (change.probability_larger, "larger")
    } else {
        (1.0 - change.probability_larger, "smaller")
    };
    let verdict = match (change.more_than_its_uncertainty, change.difference.low95.get() > 0.0) {
        (true, true) => larger,
        (true, false) => smaller,
        (false, _) => "within its ±",
    };
    ChangeWords {
        name,
        first: written(&change.first, units).to_string(),
        last: written(&change.last, units).to_string(),
        difference: format!("{sign}{difference}"),
        verdict,
        probability: format!("{way}: {}", written_probability(likely)),
        certain: change.more_than_its_uncertainty,
    }
}

/// "1 (87 %)": the most probable count and its probability.
pub fn pace_changes_words(changes: &PaceChanges) -> String {
    format!("{} ({})", changes.count, written_probability(changes.probability))
}

/// The doubts about single approaches, each once: whose it is ("all approaches", "2026-04-04 and
/// 2026-04-11"), then the sentence.
pub fn grouped_doubts(weeks: &FenceWeeks) -> Vec<(String, String)> {
    let mut groups: Vec<(&String, Vec<&str>)> = Vec::new();
    for approach in &weeks.approaches {
        for doubt in &approach.doubts {
            match groups.iter_mut().find(|(sentence, _)| *sentence == doubt) {
                Some((_, whose)) => whose.push(approach.date_words()),
                None => groups.push((doubt, vec![approach.date_words()])),
            }
        }
    }
    let all = weeks.approaches.len();
    groups
        .into_iter()
        .map(|(doubt, whose)| {
            let whose = match &whose[..] {
                several if several.len() == all && all > 1 => "all approaches".to_owned(),
                [only] => (*only).to_owned(),
                [first, second] => format!("{first} and {second}"),
                [first, second, more @ ..] => {
                    format!("{first}, {second} and {} more", more.len())
                }
                [] => String::new(),
            };
            (whose, doubt.clone())
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::weeks::by_fence;
    use crate::weeks::sample::{entry, evenly};

    #[test]
    fn a_change_says_what_it_means_and_how_likely_it_is() {
        let uneven = [3.5, 3.3, 3.05, 2.95, 3.35, 3.8];
        let weeks = by_fence(vec![
            entry("a", Some("2026-04-04"), "oxer", &uneven),
            entry("b", Some("2026-04-18"), "oxer", &evenly(3.5)),
        ]);
        let change = weeks[0].last_against_first.as_ref().unwrap();
        let said = change_words(change, LengthUnits::Metres);
        assert_eq!(said.iter().filter(|words| words.certain).count(), 3);
        assert_eq!((said[1].first.as_str(), said[1].verdict), ("0.85 ± 0.08 m", "more even"));
        assert_eq!(said[1].difference, "\u{2212}0.78 ± 0.11 m");
        assert_eq!(said[1].probability, "smaller: over 99 %");
        assert_eq!(said[2].verdict, "longer");
        assert!(said[2].difference.starts_with('+'), "{}", said[2].difference);
        assert_eq!(said[3].verdict, "within its ±");
    }
}
