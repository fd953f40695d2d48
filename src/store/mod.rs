//! Marks files on disk, and the files beside each: its backup, its undo list, and the camera's motion
//! followed through its clip. Elsewhere, kept for speed only: what was measured from them.
//!
//! Invariant: a save either happens whole or not at all, and nothing is written over a file that
//! could not be read, that is newer than this program, or that changed since it was read.

mod clip;
mod error;
mod find_marks;
mod first_marks;
mod follow_clip;
mod json_words;
mod load;
mod marked_clip;
mod measured_cache;
mod measured_files;
mod motion_file;
mod open_marks;
mod paths;
mod save;
mod shown_elsewhere;
mod undo_file;

pub use clip::{ClipChanged, clip_matches, hash_of_file};
pub use error::StoreError;
pub use find_marks::marks_files_in;
pub use first_marks::{Beginning, NotBegun, first_marks, usual_motion};
pub use follow_clip::{Followed, Following, NotFollowed, follow_clip};
pub use json_words::json_words;
pub use load::{load, marks_bytes, marks_of_bytes};
pub use marked_clip::{NoClip, frame_time, open, open_marked};
pub use measured_cache::{MeasuredCache, system_cache_folder};
pub use measured_files::{MeasuredFiles, measured_files};
pub use motion_file::{
    MOTION_FORMAT, keep_motion, kept_motion, missing_beside_motion, motion_stamp,
};
pub use open_marks::OpenMarks;
pub use paths::{backup_path, clip_path, marks_path_for, motion_path, path_from, undo_path};
pub use save::{save, write_whole};
pub use shown_elsewhere::{ShownElsewhere, shown_elsewhere};
