//! Distances for the next lesson: from a horse's stride to poles, bounces and lines, each beside
//! the published tables that apply.
//!
//! The stride is measured or typed ([`Asked`]); the rules are few and each names its source
//! ([`Rule`]); the tables are data with sources ([`Published`]). A distance never stands alone: it
//! has a low and a high end, the rows beside it, and warnings as data ([`PlanWarning`]).
//!
//! Ponies are shorter by their own stride and their own tables, not by a rule on top.
//!
//! Invariant: no file, no clock; a row from memory is shown and never decides anything. Not handled:
//! curved lines beyond the walked-pace rule, lines down or up a bank, cross-country combinations.

mod asked;
mod asked_error;
mod cautions;
mod exercise;
mod provenance;
mod published;
mod published_beside;
mod speed_tables;

mod adjusting;
mod adjusting_words;
mod beside;
mod convention;
mod distance;
mod level_strides;
mod line;
mod plan;
mod pony_note;
mod rule;
mod table_distance;
mod walked_line;
mod walked_paces;
mod warning;
mod wording;

mod going_words;
mod grouped_notes;
mod next_distances;
mod pace_beside;
mod speed_beside;
mod stated;
mod stride_words;

#[cfg(test)]
mod check_cases;
// Arithmetic of published check cases that no command asks for.
#[cfg(test)]
mod course;
#[cfg(test)]
mod fixture_checks;
#[cfg(test)]
pub(crate) mod sample;

pub use adjusting::{StrideNeeded, Version};
pub use adjusting_words::{as_it_lies, version_with_stride, version_words, versions};
pub use asked::{
    Asked, Gait, Going, PonyClass, Readiness, Size, Stride, StrideBasis, TYPED_WITHIN_M,
};
pub use asked_error::AskedError;
pub use beside::{Aside, Beside, Standing};
pub use cautions::CAUTIONS;
pub use convention::{Convention, METRIC_STRIDE_M, metric_line, twelve_foot_line};
pub use distance::{Distance, DistanceRange};
pub use exercise::{Exercise, LONGEST_LINE};
pub use going_words::slope_words;
pub use grouped_notes::grouped_notes;
pub use level_strides::{TooFewStrides, measured_stride};
pub use line::line;
pub use next_distances::next_distances;
pub use pace_beside::PaceBeside;
pub use plan::{Plan, plan, plan_line, plan_schema};
pub use pony_note::{LongerBy, PonyNote};
pub use provenance::{Grade, Provenance, Seen, Source, Table};
pub use published::{Population, Published, PublishedRow, RowGait, RowKind};
pub use published_beside::{PublishedBeside, published_beside};
pub use rule::Rule;
pub use speed_beside::{SpeedBeside, SpeedVerdict};
pub use speed_tables::{Phase, SpeedRow, SpeedTables};
pub use stated::{ASSUMED_HEIGHT_M, Stated};
pub use stride_words::stride_words;
pub use walked_line::WalkedLine;
pub use walked_paces::{WALKED_PACE_M, WalkedRange, walked_paces};
pub use warning::{PlanWarning, SLOPING_PERCENT, ShortenedBy, Shortening};
pub use wording::{
    DistanceWords, distance_words, laid_words, span_words, walked_number, walked_words,
};
