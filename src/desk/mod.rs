//! The desk: the page on which a coach marks a round, served to the browser of this computer.
//!
//! Invariant: nothing leaves the machine, nothing outside the opened folder is read, and a change
//! is on disk before it is acknowledged. The page is plain files in `page`; what goes between it
//! and the program is in [`wire`]. Not here: any number that the command line does not give.

mod access;
mod act_edit;
mod answers;
mod carried;
mod clip_motion;
mod drawn_end;
mod field_numbers;
mod folder;
mod frame_server;
mod hand_outs;
mod lengths;
mod lesson_arguments;
mod lesson_view;
mod measured;
mod numbers_view;
mod open_clip;
mod open_round;
mod other_rounds;
mod overlay_view;
mod page_files;
mod plain_words;
mod presence;
mod reading_view;
mod round_view;
mod routes;
mod serve;
mod spots;
mod stand_view;
mod state;
mod steps;
mod upload;
pub mod wire;

pub use access::Access;
pub use presence::Presence;
pub use serve::{DeskError, DeskOptions, router, serve};
pub use state::Desk;
