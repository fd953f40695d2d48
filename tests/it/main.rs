//! One binary for all tests that look at the crate from outside.

mod sample;

/// The commands that make and change marks files, run as the real program.
mod cli_marks;
/// Marks files on disk: reading, saving, undo lists, clips.
mod store;
