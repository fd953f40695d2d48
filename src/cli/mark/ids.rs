//! Ids that need not be typed: the only one there is.

use crate::cli::Failure;
use crate::marks::{Approach, Fence};

/// The id that was typed, or that of the only fence.
pub(super) fn fence(typed: Option<String>, fences: &[Fence]) -> Result<String, Failure> {
    only(typed, fences.iter().map(|fence| fence.id.as_str()), "fence")
}

/// The id that was typed, or that of the only approach.
pub(super) fn approach(typed: Option<String>, list: &[Approach]) -> Result<String, Failure> {
    only(typed, list.iter().map(|approach| approach.id.as_str()), "approach")
}

fn only<'a>(
    typed: Option<String>,
    ids: impl Iterator<Item = &'a str>,
    kind: &str,
) -> Result<String, Failure> {
    if let Some(id) = typed {
        return Ok(id);
    }
    let ids: Vec<&str> = ids.collect();
    match ids.as_slice() {
        [id] => Ok((*id).to_owned()),
        [] => Err(Failure::new(format!("cannot tell which {kind} is meant: the file has none"))
            .hint(format!("state one first: `groundline mark MARKS {kind} --help` says how"))),
        ids => {
            let ids: Vec<String> = ids.iter().map(|id| format!("`{id}`")).collect();
            let (count, ids) = (ids.len(), ids.join(", "));
            let message =
                format!("cannot tell which {kind} is meant: the file has {count} ({ids})");
            Err(Failure::usage(message).hint(format!("name it with --{kind}")))
        }
    }
}

/// A value without which a new thing cannot be made.
pub(super) fn needed<T>(value: Option<T>, option: &str, thing: &str) -> Result<T, Failure> {
    value.ok_or_else(|| {
        Failure::usage(format!("cannot add {thing}: --{option} is missing (needed for a new one)"))
    })
}
