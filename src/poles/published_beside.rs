//! The published rows beside a distance, taken together: their range, and their sources by grade.

use std::collections::{BTreeMap, BTreeSet};

use super::beside::{Beside, Standing};
use super::distance::Distance;
use super::provenance::Grade;
use super::wording::span_words;
use crate::quantity::{LengthUnits, Metres};

/// The rows that a distance is compared with.
#[derive(Clone, Debug, PartialEq)]
pub struct PublishedBeside {
    /// The lowest of their low ends.
    pub low_m: Metres,
    /// The highest of their high ends.
    pub high_m: Metres,
    /// Tags of their sources, under the grade of the row they stand in, good ones first.
    pub tags: BTreeMap<Grade, Vec<String>>,
}

/// The rows that `distance` is compared with; `None` when there is none.
pub fn published_beside(distance: &Distance) -> Option<PublishedBeside> {
    let compared = |beside: &&Beside| matches!(beside.standing, Standing::Compared { .. });
    let rows: Vec<_> = distance.beside.iter().filter(compared).map(|beside| &beside.row).collect();
    let low = rows.iter().filter_map(|row| row.low_m);
    let high = rows.iter().filter_map(|row| row.high_m);
    let mut tags: BTreeMap<Grade, BTreeSet<(usize, &String)>> = BTreeMap::new();
    for row in &rows {
        // Shorter tags first, so that R4 stands before R12.
        let its = row.provenance.sources.iter().map(|tag| (tag.len(), tag));
        tags.entry(row.provenance.grade).or_default().extend(its);
    }
    let plain = |(grade, tags): (Grade, BTreeSet<(usize, &String)>)| {
        (grade, tags.into_iter().map(|(_, tag)| tag.clone()).collect())
    };
    Some(PublishedBeside {
        low_m: low.reduce(|a, b| if b < a { b } else { a })?,
        high_m: high.reduce(|a, b| if b > a { b } else { a })?,
        tags: tags.into_iter().map(plain).collect(),
    })
}

impl PublishedBeside {
    /// "B: R20 R21; C: R1 R12".
    pub fn tags_words(&self) -> String {
        let one = |(grade, tags): (&Grade, &Vec<String>)| {
            format!("{}: {}", grade.words(), tags.join(" "))
        };
        self.tags.iter().map(one).collect::<Vec<_>>().join("; ")
    }

    /// "6.40 to 8.08 m (B: R20 R21; C: R12)".
    pub fn words(&self, units: LengthUnits) -> String {
        format!("{} ({})", span_words(self.low_m, self.high_m, units), self.tags_words())
    }
}
