//! Strides: what the surveyed hooves and their times say about the canter.
//!
//! Invariant: no pictures, no files. Every number is an [`Estimate`](crate::quantity::Estimate)
//! from one set of seeded draws of the joint posterior, so that strides that share a hoof or a
//! camera error are treated as sharing it.

mod approach;
mod chance;
mod contacts;
mod doubt;
mod fence_line;
mod levelness;
mod measure;
mod outcome;
mod plausible;
mod scene_draw;
mod series;

pub use doubt::StrideDoubt;
pub use measure::{Draws, MeasureError, measure, measure_surveyed};
pub use outcome::{
    ApproachMeasurement, EdgeDistance, FenceEdge, Levelness, Measurement, PlacedFence,
    PlacedFootfall, StrideRow, TrackAtFence,
};
