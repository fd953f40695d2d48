//! How the camera moved, found from the background alone.
//!
//! [`Tracker`] takes in frames one by one and hands out [`Tracks`]: points of the still background
//! with where each was seen.
//!
//! ```text
//! luma, pyramid, sampling     the picture, its reductions, brightness between pixels
//! thumbnail, laying           how the whole picture moved, roughly
//! corners, patch              which points to follow, and what each looked like when it was born
//! align, follow               a patch found again: place, likeness, noise, the way back
//! picture_map, consensus      the map most of the picture agrees on; the rest are movers
//! run                         what is known from frame to frame; whose sighting counts
//! tracker, keying, beginning  what is done with a frame; key frames; after a loss or a cut
//! regain                      points of old found again
//! record                      what is kept, and the tracks made of it
//! ```
//!
//! A point is always placed against its own first look, stretched as the map between then and now
//! says, so that errors do not add up from frame to frame.
//!
//! Invariant: no files, no clocks; the same frames and settings give the same tracks on any number
//! of threads. Of pictures only thumbnails of key frames and patches of points are kept.
//! Not handled: rolling shutter, lens distortion (both are left to the adjustment), a picture that
//! turns by more than some 40° between two sights of a thing.

mod align;
mod beginning;
mod consensus;
mod corners;
mod follow;
mod keying;
mod laying;
mod luma;
mod patch;
mod picture_map;
mod point;
mod pyramid;
mod record;
mod regain;
mod run;
mod sampling;
mod settings;
mod spread;
mod thumbnail;
mod tracker;

#[cfg(test)]
mod testing;
#[cfg(test)]
mod tests;

use super::tracks;

pub use luma::{LumaError, LumaView};
pub use settings::TrackerSettings;
pub use tracker::Tracker;
