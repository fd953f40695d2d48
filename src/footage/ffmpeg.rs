//! Starting ffmpeg's libraries once, quietly.
//!
//! ffmpeg prints to standard error on its own. That output is switched off here, and nowhere else: what it would
//! say reaches the user as an error, a doubt or a count of decoder errors instead.
//! Invariant: every entry into this folder passes through `start`.

use std::path::Path;
use std::sync::OnceLock;

use ffmpeg_next as ff;

use super::error::FootageError;

/// Makes ffmpeg ready and silent. Cheap after the first call.
pub fn start() {
    static STARTED: OnceLock<()> = OnceLock::new();
    STARTED.get_or_init(|| {
        // Since FFmpeg 5 there is nothing left to register, and `init` can only succeed; the log level is what counts.
        ff::util::error::register_all();
        ff::util::log::set_level(ff::util::log::Level::Quiet);
    });
}

/// An ffmpeg failure for which we have no better words than its own.
pub fn error(path: &Path, doing: &'static str, cause: ff::Error) -> FootageError {
    FootageError::Ffmpeg { path: path.to_owned(), doing, words: cause.to_string() }
}
