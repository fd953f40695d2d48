//! The same fence, week after week: approaches of many rounds, grouped by fence, in the order of
//! their dates, the last compared with the first.
//!
//! Invariant: no file, no clock, no guess. Fences are the same when they are called the same;
//! whatever else would have to be guessed is a [`WeeksDoubt`]. Instead of their names, approaches can
//! be grouped by what their fences ask ([`GroupBy`]).

mod dated_approach;
mod doubt;
mod fence_weeks;
mod grouping;
mod last_against_first;
mod names;
mod shown;
mod stride_overlay;
mod wording;

#[cfg(test)]
pub(crate) mod sample;

pub use dated_approach::{ComparedDraws, DatedApproach, NumberedStride, WeeksEntry};
pub use doubt::WeeksDoubt;
pub use fence_weeks::{FenceWeeks, by, by_fence, leave_names_off};
pub use grouping::GroupBy;
pub use last_against_first::{Change, LastAgainstFirst};
pub use names::{NamesFound, Wanted};
pub use shown::shown_in;
pub use stride_overlay::{MIDDLE_HALF_FROM, StrideOverlay};
pub use wording::{ChangeWords, change_words, grouped_doubts, pace_changes_words};
