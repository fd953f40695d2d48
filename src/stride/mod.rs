//! Strides: what the surveyed hooves and their times say about the canter.
//!
//! Invariant: no pictures, no files. Every number is an [`Estimate`](crate::quantity::Estimate)
//! from one set of seeded draws of the joint posterior, so that strides that share a hoof or a
//! camera error are treated as sharing it.

mod approach;
mod approach_draws;
mod chance;
mod contacts;
mod doubt;
mod expected;
mod fence_line;
mod levelness;
mod measure;
mod moves;
mod outcome;
mod pace_changes;
mod plausible;
mod scene_draw;
mod series;
mod shown_strides;
mod two_fences;

pub use approach_draws::{ApproachDraws, TrackDraw};
pub use doubt::StrideDoubt;
pub use expected::{ExpectedStride, expected_strides};
pub use measure::{
    Drawn, Draws, MeasureError, measure, measure_drawn, measure_surveyed, measure_with_motion,
};
pub use moves::{Move, Way, moves};
pub use outcome::{
    ApproachMeasurement, EdgeDistance, FenceEdge, Levelness, Measurement, PlacedFence,
    PlacedFootfall, StrideRow, TrackAtFence,
};
pub use pace_changes::{PACE_TOLERANCE, PaceChanges};
pub use shown_strides::{ShownStrides, StrideSpan};
pub use two_fences::{LineDoubt, LineMeasurement, NeededStride};
