//! Marks files on disk, and the two files beside each: its backup and its undo list.
//!
//! Invariant: a save either happens whole or not at all, and nothing is written over a file that
//! could not be read, that is newer than this program, or that changed since it was read.

mod clip;
mod error;
mod json_words;
mod load;
mod open_marks;
mod paths;
mod save;
mod undo_file;

pub use clip::{ClipChanged, clip_matches, hash_of_file};
pub use error::StoreError;
pub use json_words::json_words;
pub use load::load;
pub use open_marks::OpenMarks;
pub use paths::{backup_path, clip_path, marks_path_for, path_from, undo_path};
pub use save::{save, write_whole};
