//! How the camera moved, found from the background alone.
//!
//! From points of the still background, each seen in many frames, to the camera's turn, zoom and
//! shift in every frame with one joint covariance: a bundle adjustment over the key frames, then a
//! resection of each frame between them.
//!
//! Invariant: no pictures, no files, no clock; the same tracks give the same motion on any number
//! of processor cores.

mod adjust;
mod adjusted;
mod between;
mod bundle;
mod chain;
mod choose;
mod deepen;
mod descend;
mod doubt;
mod error;
mod fit;
mod frames_between;
#[cfg(test)]
mod invented;
mod look;
mod misfits;
mod motion;
mod motion_model;
mod normal;
mod packed;
mod predict;
mod priors;
mod reduce;
mod resect;
mod sightings;
mod stabilise;
mod stretches;
#[cfg(test)]
mod tests;
mod turn_between;
mod weighing;

use super::tracks;

pub use adjust::{Adjustment, adjust};
pub use adjusted::FoundPoint;
pub use between::RelativeMotion;
pub use bundle::KeyPose;
pub use doubt::MotionDoubt;
pub use error::{MotionError, MotionGap};
pub use motion::{CameraMotion, FrameMotion, MotionPiece, Residuals};
pub use motion_model::MotionModel;
pub use packed::Packed;
pub use predict::Predicted;
pub use priors::MotionPriors;
pub use stretches::Stretch;
