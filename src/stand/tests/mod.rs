//! The expectation against arena scenes, the design's table, and what must grow with what.

mod arena;
mod filmed;
mod monotony;
mod places;
