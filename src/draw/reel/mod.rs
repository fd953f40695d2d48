//! The reel: the approach as a clip, hoof prints appearing as they land and stride bars building up
//! in a band below the picture, so that nothing is covered.
//!
//! Here is everything but reading and writing frames: which frame is shown when (`times`), which
//! part of it and where (`layout`), the camera between marked frames (`cameras`), the band
//! (`band`) and putting one frame on the canvas (`paint`). The overlay on the ground is the
//! stills' with `Detail::Reel`.

mod band;
mod cameras;
mod layout;
mod paint;
mod times;

pub use band::{BandInput, band};
pub use cameras::{CAMERA_GAP_S, camera_at};
pub use layout::{ReelPart, ReelSlot, canvas_size, reel_layout};
pub use paint::paint_part;
pub use times::{ReelClip, ReelFrame, ReelMoment, ReelTimes, reel_times};
