//! Snapping held against pictures of known truth.

mod arena;
mod drawn;
mod pole_drawing;
mod refusals;
mod tally;
