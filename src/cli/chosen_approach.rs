//! Which approach of a marks file a command is about.

use super::Failure;
use crate::stride::ApproachMeasurement;

/// The approach named `id`, or the first where none is named.
pub(super) fn chosen_approach<'a>(
    approaches: &'a [ApproachMeasurement],
    id: Option<&str>,
) -> Result<&'a ApproachMeasurement, Failure> {
    let chosen = match id {
        Some(id) => approaches.iter().find(|approach| approach.approach == id),
        None => approaches.first(),
    };
    chosen.ok_or_else(|| {
        let known: Vec<_> = approaches.iter().map(|a| format!("`{}`", a.approach)).collect();
        let known = if known.is_empty() { "none".into() } else { known.join(", ") };
        let failure = Failure::new(format!(
            "cannot find the approach: the marks file holds no such approach (it holds {known})"
        ));
        failure.hint("`groundline check MARKS` lists what is marked")
    })
}
