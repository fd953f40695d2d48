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
mod cautions;
mod exercise;
mod provenance;
mod published;
mod published_beside;
mod speed_tables;

mod adjusting;
mod beside;
mod convention;
mod distance;
mod level_strides;
mod line;
mod paced_line;
mod plan;
mod rule;
mod table_distance;
mod walked_paces;
mod warning;
mod wording;

mod course;
mod going_words;
mod grouped_notes;
mod next_distances;
mod pace_beside;
mod speed_beside;
mod stated;
mod stride_words;

#[cfg(test)]
mod check_cases;
#[cfg(test)]
mod fixture_checks;
#[cfg(test)]
pub(crate) mod sample;

pub use adjusting::{ADJUSTING_SHARE, Allowance, StrideNeeded, Version, strides_needed};
pub use asked::{Asked, AskedError, Gait, Going, PonyClass, Readiness, Size, Stride, StrideBasis};
pub use beside::{Aside, Beside, Standing};
pub use cautions::CAUTIONS;
pub use convention::{Convention, conventions, height_formula, metric_line, twelve_foot_line};
pub use course::{longest_course, time_allowed, time_limit, way_at};
pub use distance::{Distance, DistanceRange};
pub use exercise::{Exercise, LONGEST_LINE};
pub use grouped_notes::grouped_notes;
pub use level_strides::{LEVEL_PERCENT, TooFewStrides, measured_stride};
pub use line::{landing_and_take_off, line};
pub use next_distances::next_distances;
pub use pace_beside::PaceBeside;
pub use paced_line::{strides_of_walked, walked_on_a_curve, walked_paces_of_line};
pub use plan::{Plan, plan, plan_line, plan_schema};
pub use provenance::{Grade, Provenance, Seen, Source, Table};
pub use published::{Population, Published, PublishedRow, RowGait, RowKind};
pub use published_beside::{PublishedBeside, published_beside};
pub use rule::Rule;
pub use speed_beside::{SpeedBeside, SpeedVerdict, beside_speeds};
pub use speed_tables::{Phase, SpeedRow, SpeedTables};
pub use stated::Stated;
pub use stride_words::stride_words;
pub use walked_paces::{WALKED_PACE_M, WalkedRange, walked_paces};
pub use warning::{PlanWarning, ShortenedBy};
pub use wording::{DistanceWords, distance_words, laid_words, span_words, walked_words};
