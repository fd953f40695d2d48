//! One binary for all tests that look at the crate from outside.

mod program;
mod sample;

/// The commands that look at a clip.
mod cli_clip;
/// The commands that change and check marks files, run as the real program.
mod cli_marks;
/// Marks files on disk: reading, saving, undo lists, clips.
mod store;
