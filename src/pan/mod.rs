//! How the camera moved, found from the background alone.
//!
//! Two steps. [`Tracker`] looks at the pictures, one after the other, and gives [`Tracks`]: points of
//! the still background, each seen in many frames. [`adjust`] turns them into the camera's turn, zoom
//! and shift in every frame with one joint covariance.
//!
//! Invariant: no files, no clock; the same pictures give the same motion on any number of processor
//! cores. Not handled: rolling shutter; lenses that bend otherwise than by one radial term.

mod adjustment;
mod tracking;
mod tracks;

pub use adjustment::{
    Adjustment, CameraMotion, FoundPoint, FrameMotion, KeyPose, MotionDoubt, MotionError,
    MotionGap, MotionModel, MotionPiece, MotionPriors, Packed, Predicted, RelativeMotion,
    Residuals, Stretch, adjust,
};
pub use tracking::{LumaError, LumaView, Tracker, TrackerSettings};
pub use tracks::{Held, Sighting, TrackedFrame, Tracks};
