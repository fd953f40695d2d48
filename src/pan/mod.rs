//! How the camera moved, found from the background alone.
//!
//! Two steps. [`Tracker`] looks at the pictures, one after the other, and gives [`Tracks`]: points of
//! the still background, each seen in many frames. [`adjust`] turns them into the camera's turn, zoom
//! and shift in every frame with one joint covariance: a bundle adjustment over the key frames, then
//! a resection of each frame between them.
//!
//! Invariant: no files, no clock; the same pictures give the same motion on any number of processor
//! cores. Not handled: rolling shutter; lenses that bend otherwise than by one radial term.

mod adjust;
#[cfg(test)]
mod adjust_tests;
mod adjusted;
mod align;
mod beginning;
mod between;
mod bundle;
mod chain;
mod choose;
mod consensus;
mod corners;
mod deepen;
mod descend;
mod doubt;
mod error;
mod fit;
mod follow;
mod frames_between;
#[cfg(test)]
mod invented;
mod keying;
mod look;
mod luma;
mod misfits;
mod motion;
mod motion_model;
mod normal;
mod packed;
mod patch;
mod picture_map;
mod point;
mod predict;
mod priors;
mod pyramid;
mod record;
mod reduce;
mod regain;
mod resect;
mod run;
mod sampling;
mod settings;
mod sightings;
mod spread;
mod stabilise;
mod stretches;
#[cfg(test)]
mod testing;
mod thumbnail;
mod tracker;
#[cfg(test)]
mod tracker_tests;
mod tracks;
mod turn_between;
mod weighing;

pub use adjust::{Adjustment, adjust};
pub use adjusted::FoundPoint;
pub use between::RelativeMotion;
pub use bundle::KeyPose;
pub use doubt::MotionDoubt;
pub use error::{MotionError, MotionGap};
pub use luma::{LumaError, LumaView};
pub use motion::{CameraMotion, FrameMotion, MotionPiece, Residuals};
pub use motion_model::MotionModel;
pub use packed::Packed;
pub use predict::Predicted;
pub use priors::MotionPriors;
pub use settings::TrackerSettings;
pub use stretches::Stretch;
pub use tracker::Tracker;
pub use tracks::{Held, Sighting, TrackedFrame, Tracks};
