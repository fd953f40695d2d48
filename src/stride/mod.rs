//! Strides: what the surveyed hooves and their times say about the canter.
//!
//! Invariant: no pictures, no files. Every number is an [`Estimate`](crate::quantity::Estimate)
//! from one set of seeded draws of the joint posterior, so that strides that share a hoof or a
//! camera error are treated as sharing it.

mod outcome;

pub use outcome::{
    ApproachMeasurement, EdgeDistance, FenceEdge, Levelness, Measurement, PlacedFence,
    PlacedFootfall, StrideDoubt, StrideRow, TrackAtFence,
};
