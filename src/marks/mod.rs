//! What a person placed and stated: the marks file as plain data, its rules and its edits.
//!
//! Invariant: no file, no clip, no clock. Metres, seconds, source pixels. Every change is one
//! [`Edit`], so undo is a list and every face of the program shares one truth. Keys that this
//! version does not know survive a round trip.

mod address;
mod approach;
mod camera_prior;
mod clip;
mod doubt;
mod edit;
mod fence;
mod file;
mod history;
mod mark;
mod missing;
mod names_off;
mod new_ids;
mod reference;
mod round;
mod rules;
#[cfg(test)]
pub(crate) mod sample;
mod tie;

pub use address::{MarkAddress, RailEnd};
pub use approach::{Approach, Event, Footfall, Lead, Limb, StrideNote};
pub use camera_prior::{CameraPrior, Motion, STEADY_HANDS_M};
pub use clip::{ClipNote, MarkedFrame};
pub use doubt::MarksDoubt;
pub use edit::{ApproachFact, Edit, EditRefused, FootfallFact, ListChange, ThingKind};
pub use fence::{BaseCorner, BaseMarks, Fence, FenceKind};
pub use file::{MarksFile, VERSION};
pub use history::{History, Step};
pub use mark::{HOOF_SD_PX, Mark, POINT_SD_PX};
pub use missing::Missing;
pub use new_ids::free_id;
pub use reference::{
    PoleEnd, PoleEndMarks, RailMarks, Reference, ReferenceKind, USUAL_DIAMETER_M, USUAL_LEAN_M,
};
pub use round::Round;
pub use rules::{Rule, RuleBreach, Subject};
pub use tie::{Tie, TiePlace};
