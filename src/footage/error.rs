//! What can go wrong with a clip, in words a coach can act on.
//!
//! One enum for the folder, because opening and reading fail for the same causes (a file, its streams, its frames).
//! Invariant: every message reads "cannot X: what was found (and what is needed)", and `hint` is one thing to do.

use std::io;
use std::path::PathBuf;

use super::io_words::io_words;
use crate::quantity::time::FrameNumber;

/// Why a clip cannot be opened or read.
#[derive(Debug, thiserror::Error)]
#[expect(
    missing_docs,
    reason = "the message of each error says what it is and what its fields are"
)]
pub enum FootageError {
    #[error("cannot open {}: there is no such file", path.display())]
    Missing { path: PathBuf },

    #[error("cannot open {}: it is a folder, not a file", path.display())]
    Directory { path: PathBuf },

    #[error("cannot open {}: it is a device or a pipe, and a clip must be a plain file", path.display())]
    NotAFile { path: PathBuf },

    #[error("cannot open {}: the file is empty (0 bytes)", path.display())]
    Empty { path: PathBuf },

    #[error("cannot read {}: {}", path.display(), io_words(reason))]
    Unreadable { path: PathBuf, reason: io::Error },

    #[error("cannot open {}: no video was found in it ({found})", path.display())]
    NotAVideo { path: PathBuf, found: String },

    #[error("cannot use stream {asked} of {}: {available}", path.display())]
    NoSuchStream { path: PathBuf, asked: usize, available: String },

    #[error("cannot decode {}: there is no decoder here for its codec ({codec})", path.display())]
    NoDecoder { path: PathBuf, codec: String },

    #[error("cannot open {}: its video stream holds no frames", path.display())]
    NoFrames { path: PathBuf },

    #[error("cannot open {}: the file is damaged, it promises {promised} frames and none can be read", path.display())]
    NothingReadable { path: PathBuf, promised: u64 },

    #[error(
        "cannot use a capture rate of {given} frames per second: a number above 0 and up to 100000 is needed"
    )]
    BadCaptureRate { given: f64 },

    #[error("cannot read frame {frame}: the clip ends at frame {last} ({last_s:.1} s) in {}", path.display())]
    FrameOutOfRange { path: PathBuf, frame: FrameNumber, last: FrameNumber, last_s: f64 },

    #[error("cannot read frame {frame}: its data is damaged (at {time_s:.3} s) in {}", path.display())]
    FrameDamaged { path: PathBuf, frame: FrameNumber, time_s: f64 },

    #[error(
        "cannot read frame {frame}: its size is {found_width}x{found_height}, the clip's is {width}x{height}, in {}",
        path.display()
    )]
    FrameSizeChanged {
        path: PathBuf,
        frame: FrameNumber,
        found_width: u32,
        found_height: u32,
        width: u32,
        height: u32,
    },

    #[error("cannot read {}: the file has changed since it was opened", path.display())]
    Changed { path: PathBuf },

    #[error("cannot {doing} {}: ffmpeg says \"{words}\"", path.display())]
    Ffmpeg { path: PathBuf, doing: &'static str, words: String },
}

impl FootageError {
    /// One thing the user can do about it, where there is one.
    pub fn hint(&self) -> Option<String> {
        let hint = match self {
            FootageError::Missing { .. } => "check the spelling and the folder".to_owned(),
            FootageError::Directory { .. } => "name a clip inside the folder".to_owned(),
            FootageError::NotAFile { .. } => "copy the clip to a file first".to_owned(),
            FootageError::Empty { .. } => "copy the clip from the phone again".to_owned(),
            FootageError::Unreadable { .. } => "check that you may read the file".to_owned(),
            FootageError::NotAVideo { .. } => {
                "choose the clip itself, as the phone saved it".to_owned()
            }
            FootageError::NoSuchStream { .. } => {
                "leave the stream out to use the best one".to_owned()
            }
            FootageError::NoDecoder { .. } => {
                "export the clip as H.264 or HEVC and open that".to_owned()
            }
            FootageError::NoFrames { .. } | FootageError::NothingReadable { .. } => {
                "copy the clip from the phone again; this copy may have been cut short".to_owned()
            }
            FootageError::BadCaptureRate { .. } => {
                "give the rate the camera recorded at, such as 240".to_owned()
            }
            FootageError::FrameOutOfRange { last, .. } => format!("use a frame from 0 to {last}"),
            FootageError::FrameDamaged { .. } => "use the frame before or after it".to_owned(),
            FootageError::FrameSizeChanged { .. } => {
                "cut the clip where its size changes".to_owned()
            }
            FootageError::Changed { .. } => "open the clip again".to_owned(),
            FootageError::Ffmpeg { .. } => return None,
        };
        Some(hint)
    }
}
