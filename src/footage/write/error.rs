//! What can go wrong with writing a clip.
//!
//! Invariant: as in the rest of the folder, "cannot X: what was found (and what is needed)", and one thing to do.

use std::io;
use std::path::PathBuf;

use crate::footage::io_words;

/// Why a clip cannot be written.
#[derive(Debug, thiserror::Error)]
#[expect(
    missing_docs,
    reason = "the message of each error says what it is and what its fields are"
)]
pub enum WriteError {
    #[error(
        "cannot write a clip of {width}x{height} pixels: both must be even, from 2 to {largest}"
    )]
    Size { width: u32, height: u32, largest: u32 },

    #[error(
        "cannot write a clip at {num}/{den} frames per second: both numbers must be from 1 to 2147483647"
    )]
    Rate { num: u32, den: u32 },

    #[error(
        "cannot write frame {frame}: it is {found_width}x{found_height} pixels, the clip is {width}x{height}"
    )]
    FrameSize { frame: u32, found_width: u32, found_height: u32, width: u32, height: u32 },

    #[error(
        "cannot write frame {frame}: its time ({ticks} ticks) must be after the one before ({before} ticks)"
    )]
    TimeNotAfter { frame: u32, ticks: i64, before: i64 },

    #[error("cannot write {}: no frame was given", path.display())]
    NoFrames { path: PathBuf },

    #[error("cannot write {}: its folder or name is not text that ffmpeg can open (UTF-8 is needed)", path.display())]
    PathNotText { path: PathBuf },

    #[error("cannot write {}: this ffmpeg has no {encoder} encoder", path.display())]
    NoEncoder { path: PathBuf, encoder: &'static str },

    #[error("cannot write {}: {}", path.display(), io_words(reason))]
    File { path: PathBuf, reason: io::Error },

    #[error("cannot {doing} {}: ffmpeg says \"{words}\"", path.display())]
    Ffmpeg { path: PathBuf, doing: &'static str, words: String },
}

impl WriteError {
    /// One thing the user can do about it, where there is one.
    pub fn hint(&self) -> Option<String> {
        let hint = match self {
            WriteError::Size { .. } => "cut or enlarge the pictures by one row or column",
            WriteError::NoEncoder { .. } => "install an ffmpeg built with x264",
            WriteError::File { .. } => "check that the folder exists, may be written and has room",
            WriteError::PathNotText { .. } => "choose a folder with a plain name",
            _ => return None,
        };
        Some(hint.to_owned())
    }
}
