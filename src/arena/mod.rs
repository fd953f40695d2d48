//! Synthetic scenes whose truth is known: for the demo, the tests and the accuracy figures.
//!
//! A [`Scene`] is plain data. [`Truth::of`] says what is true in it, [`marks`] places the marks a
//! coach would place, [`render`] paints the pictures a phone would take.
//!
//! Invariant: no file, no clock, no ffmpeg; the same seed gives the same truth, marks and
//! pictures.

mod chance;
mod check;
mod clicking;
mod curve;
mod filming;
mod gait;
mod plan;
mod references;
mod scene;
mod stories;
mod surroundings;
mod track;
mod truth;

#[cfg(test)]
mod tests;

pub use check::SceneError;
pub use clicking::{Clicking, Laid, MarkedLimbs, marks};
pub use filming::{Filming, Handling, Light};
pub use references::TruePole;
pub use scene::{
    Coat, FenceBuild, Ground, Horse, HorseSize, LayingErrors, Pace, Poles, Ride, Scene, Surface,
};
pub use track::{Track, TrackShape};
pub use truth::{Contact, TrueFrame, TrueStride, Truth};
