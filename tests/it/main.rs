//! One binary for all tests that look at the crate from outside.

mod program;
mod sample;
mod support;

/// The commands that look at a clip.
mod cli_clip;
/// The commands that change and check marks files, run as the real program.
mod cli_marks;
/// Marks files on disk: reading, saving, undo lists, clips.
mod store;

// The footage folder: opening, reading, awkward files, and agreement with another program.
mod footage_awkward;
mod footage_frames;
mod footage_open;
mod footage_outside;
mod footage_pixels;
mod footage_robust;
mod footage_write;
