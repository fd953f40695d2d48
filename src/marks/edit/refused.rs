//! Why a change was not made.

use super::lists::ThingKind;
use crate::marks::address::MarkAddress;
use crate::marks::rules::RuleBreach;
use crate::quantity::FrameNumber;

/// A change that was not made; the file is as it was.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum EditRefused {
    /// Nothing has that id.
    #[error("there is no {kind} `{id}` in the file{}", known_words(known))]
    NoSuchThing {
        /// What was looked for.
        kind: ThingKind,
        /// Under which id.
        id: String,
        /// The ids there are.
        known: Vec<String>,
    },
    /// Something already has that id.
    #[error("there already is a {kind} `{id}` (an id of its own needed)")]
    IdTaken {
        /// What it is.
        kind: ThingKind,
        /// The id.
        id: String,
    },
    /// A place in a list beyond its end.
    #[error("there is no place {at} in a list of {length}")]
    BeyondList {
        /// The place asked for.
        at: usize,
        /// How long the list is.
        length: usize,
    },
    /// The reference is of another kind, or the rail is not listed.
    #[error("there is no {place} in the file")]
    NoSuchPlace {
        /// What was addressed.
        place: MarkAddress,
    },
    /// The place has no mark on that frame.
    #[error("there is no mark of the {place} on frame {}{}", frame.0, marked_words(marked))]
    NoMark {
        /// What was addressed.
        place: MarkAddress,
        /// On which frame.
        frame: FrameNumber,
        /// The frames on which it is marked.
        marked: Vec<FrameNumber>,
    },
    /// A footfall's only mark.
    #[error("the {place} has one mark and cannot be without it (remove the footfall instead)")]
    OnlyMark {
        /// The footfall.
        place: MarkAddress,
    },
    /// The time of that frame is not in the file.
    #[error("the time of frame {} is not in the file", frame.0)]
    FrameNotKnown {
        /// The frame.
        frame: FrameNumber,
    },
    /// The file would break a rule.
    #[error("{breach}")]
    BreaksRule {
        /// The first rule it would break.
        breach: RuleBreach,
    },
}

fn known_words(known: &[String]) -> String {
    if known.is_empty() {
        return " (it has none)".to_owned();
    }
    let quoted: Vec<String> = known.iter().map(|id| format!("`{id}`")).collect();
    format!(" (it has {})", quoted.join(", "))
}

fn marked_words(marked: &[FrameNumber]) -> String {
    if marked.is_empty() {
        return " (it is not marked anywhere)".to_owned();
    }
    let numbers: Vec<String> = marked.iter().map(|frame| frame.0.to_string()).collect();
    format!(" (it is marked on {})", numbers.join(", "))
}
