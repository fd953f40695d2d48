//! Which approach of a marks file a command is about.

use super::Failure;
use crate::marks::{Approach, MarksFile};
use crate::stride::ApproachMeasurement;

/// Which one is meant where none is named.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Unnamed {
    /// The first of the file.
    First,
    /// The last of the file, which was ridden last.
    Last,
}

/// The approach named `id`, or the `unnamed` one.
pub(super) fn chosen_approach<'a>(
    approaches: &'a [ApproachMeasurement],
    id: Option<&str>,
    unnamed: Unnamed,
) -> Result<&'a ApproachMeasurement, Failure> {
    chosen(approaches, |approach| &approach.approach, id, unnamed)
}

/// The same among approaches that are marked and not measured.
pub(super) fn chosen_marked<'a>(
    file: &'a MarksFile,
    id: Option<&str>,
    unnamed: Unnamed,
) -> Result<&'a Approach, Failure> {
    chosen(&file.approaches, |approach| &approach.id, id, unnamed)
}

fn chosen<'a, T>(
    approaches: &'a [T],
    id_of: fn(&T) -> &str,
    id: Option<&str>,
    unnamed: Unnamed,
) -> Result<&'a T, Failure> {
    let chosen = match (id, unnamed) {
        (Some(id), _) => approaches.iter().find(|approach| id_of(approach) == id),
        (None, Unnamed::First) => approaches.first(),
        (None, Unnamed::Last) => approaches.last(),
    };
    chosen.ok_or_else(|| {
        let known: Vec<_> = approaches.iter().map(|a| format!("`{}`", id_of(a))).collect();
        let known = if known.is_empty() { "none".into() } else { known.join(", ") };
        let failure = Failure::new(format!(
            "cannot find the approach: the marks file holds no such approach (it holds {known})"
        ));
        failure.hint("`groundline check MARKS` lists what is marked")
    })
}
