//! Whether a clip on disk is the one that the marks were placed on.

use std::fs::File;
use std::io::{Error, ErrorKind};
use std::path::{Path, PathBuf};

use super::error::quoted;
use crate::footage::io_words;
use crate::marks::ClipNote;
use crate::scene::PictureSize;

/// Why the clip cannot be used with its marks.
#[derive(Debug, thiserror::Error)]
pub enum ClipChanged {
    /// Nothing is there.
    #[error("cannot find the clip {}: there is no such file", quoted(&whole(path)))]
    NotThere {
        /// Where it should lie.
        path: PathBuf,
    },
    /// A file of another length.
    #[error(
        "cannot use the clip {}: the marks were placed on another file (it has {found} bytes, {needed} needed)",
        quoted(path)
    )]
    OtherSize {
        /// The clip.
        path: PathBuf,
        /// Its length.
        found: u64,
        /// The length of the file that was marked.
        needed: u64,
    },
    /// A file of the same length and other content.
    #[error(
        "cannot use the clip {}: the marks were placed on another file (the same length, other content)",
        quoted(path)
    )]
    OtherContent {
        /// The clip.
        path: PathBuf,
    },
    /// A file that shows something else. Told by who opens the clip, where the note has no hash.
    #[error(
        "cannot use the clip {}: it has {} ({} needed)",
        quoted(path),
        pictures(found),
        pictures(needed)
    )]
    OtherPictures {
        /// The clip.
        path: PathBuf,
        /// Its picture and its number of frames.
        found: (PictureSize, u32),
        /// Those of the clip that was marked.
        needed: (PictureSize, u32),
    },
    /// The system would not let us read.
    #[error("cannot read the clip {}: {}", quoted(path), io_words(source))]
    Unreadable {
        /// The clip.
        path: PathBuf,
        /// What the system said.
        #[source]
        source: Error,
    },
}

impl ClipChanged {
    /// What can be done about it.
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::NotThere { .. }
            | Self::OtherSize { .. }
            | Self::OtherContent { .. }
            | Self::OtherPictures { .. } => {
                Some("put the clip that was marked back, or begin a new marks file".into())
            }
            Self::Unreadable { .. } => None,
        }
    }
}

/// With its folder, so that it is seen where it was looked for.
fn whole(path: &Path) -> PathBuf {
    std::path::absolute(path).unwrap_or_else(|_| path.to_owned())
}

fn pictures((size, frames): &(PictureSize, u32)) -> String {
    format!("{frames} frames of {} × {} px", size.width, size.height)
}

/// Refuses any file but the one that was marked: first by length, then by content. What the note
/// does not say cannot be compared.
pub fn clip_matches(path: &Path, clip: &ClipNote) -> Result<(), ClipChanged> {
    let path_of = || path.to_owned();
    let unreadable = |source: Error| match source.kind() {
        ErrorKind::NotFound => ClipChanged::NotThere { path: path_of() },
        _ => ClipChanged::Unreadable { path: path_of(), source },
    };
    let found = std::fs::metadata(path).map_err(unreadable)?.len();
    let needed = clip.size_bytes;
    if needed != 0 && found != needed {
        return Err(ClipChanged::OtherSize { path: path_of(), found, needed });
    }
    if clip.blake3.is_empty() {
        return Ok(());
    }
    if !hash_of_file(path).map_err(unreadable)?.eq_ignore_ascii_case(&clip.blake3) {
        return Err(ClipChanged::OtherContent { path: path_of() });
    }
    Ok(())
}

/// The BLAKE3 hash of a file of any length, in hexadecimal digits.
pub fn hash_of_file(path: &Path) -> Result<String, Error> {
    let mut hasher = blake3::Hasher::new();
    hasher.update_reader(File::open(path)?)?;
    Ok(hasher.finalize().to_hex().to_string())
}
