//! Why a marks file could not be read or written.

use std::io::{Error, ErrorKind};
use std::path::PathBuf;

use crate::footage::io_words;
use crate::marks::{RuleBreach, VERSION};

/// Breaches that a message lists; the rest is counted.
const LISTED: usize = 3;

/// Why a marks file could not be read or written. When it could not be written, what was there
/// before is still there, whole.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// Nothing is there.
    #[error("cannot read {}: there is no such file (a marks file needed)", quoted(path))]
    NotThere {
        /// What was to be read.
        path: PathBuf,
    },
    /// A folder is there.
    #[error("cannot use {}: it is a folder (a marks file needed)", quoted(path))]
    Folder {
        /// What was to be read or written.
        path: PathBuf,
    },
    /// No folder is there, where one was to be looked through.
    #[error("cannot look through {}: there is no such folder", quoted(path))]
    FolderNotThere {
        /// What was to be looked through.
        path: PathBuf,
    },
    /// A file is there, where a folder was to be looked through.
    #[error(
        "cannot look through {}: it is a file (a folder with marks files needed)",
        quoted(path)
    )]
    NoFolder {
        /// What was to be looked through.
        path: PathBuf,
    },
    /// A clip, where its marks file was to be named.
    #[error("cannot use {}: it is a clip (its marks file needed)", quoted(path))]
    Clip {
        /// What was to be read.
        path: PathBuf,
    },
    /// A file of no bytes, or of nothing but blanks.
    #[error("cannot read {}: the file is empty (a marks file needed)", quoted(path))]
    Empty {
        /// What was read.
        path: PathBuf,
    },
    /// Far larger than marks can be.
    #[error(
        "cannot read {}: it has {found} bytes (a marks file of at most {most} needed)",
        quoted(path)
    )]
    TooLarge {
        /// What was to be read.
        path: PathBuf,
        /// Its size.
        found: u64,
        /// The most that is read.
        most: u64,
    },
    /// Not JSON.
    #[error("cannot read {}: it is not JSON at line {line}, column {column}: {why}", quoted(path))]
    NotJson {
        /// What was read.
        path: PathBuf,
        /// Where it stops being JSON, from 1.
        line: usize,
        /// Where it stops being JSON, from 1.
        column: usize,
        /// What is wrong there.
        why: String,
    },
    /// JSON, but of another purpose.
    #[error(
        "cannot read {}: it is JSON but no marks file (a number under `groundline_marks` needed)",
        quoted(path)
    )]
    NotMarks {
        /// What was read.
        path: PathBuf,
    },
    /// Written by a later version of the program.
    #[error(
        "cannot read {}: it is of version {found} (version {VERSION} or older needed)",
        quoted(path)
    )]
    Newer {
        /// What was read.
        path: PathBuf,
        /// Its version.
        found: u64,
    },
    /// A marks file in which a thing is missing or of the wrong shape.
    #[error("cannot read {}: `{at}` does not fit: {why}", quoted(path))]
    Misfit {
        /// What was read.
        path: PathBuf,
        /// Where in the file.
        at: String,
        /// What is wrong there.
        why: String,
    },
    /// A key that this version does not know, in a place where it cannot be kept.
    #[error(
        "cannot read {}: `{key}` is not known to this version and would be lost on saving",
        quoted(path)
    )]
    UnknownKey {
        /// What was read.
        path: PathBuf,
        /// The key.
        key: String,
    },
    /// A marks file that breaks rules.
    #[error("cannot use {}: {}", quoted(path), listed(breaches))]
    Breaches {
        /// What was read or to be written.
        path: PathBuf,
        /// All of them.
        breaches: Vec<RuleBreach>,
    },
    /// The system would not let us read.
    #[error("cannot read {}: {}", quoted(path), io_words(source))]
    Unreadable {
        /// What was to be read.
        path: PathBuf,
        /// What the system said.
        #[source]
        source: Error,
    },
    /// The system would not let us write.
    #[error("cannot save {}: {} (nothing was changed)", quoted(path), unwritable(path, source))]
    Unwritable {
        /// What was to be written.
        path: PathBuf,
        /// What the system said.
        #[source]
        source: Error,
    },
    /// Somebody protected the file.
    #[error("cannot save {}: the file is write-protected", quoted(path))]
    Protected {
        /// What was to be written.
        path: PathBuf,
    },
    /// Somebody else wrote the file since it was read.
    #[error("cannot save {}: it was changed by somebody else since it was read", quoted(path))]
    ChangedMeanwhile {
        /// What was to be written.
        path: PathBuf,
    },
    /// A new file was to be made where one is.
    #[error("cannot begin {}: there already is such a file", quoted(path))]
    AlreadyThere {
        /// What was to be made.
        path: PathBuf,
    },
    /// The undo list is not that of this file as it is now.
    #[error("cannot undo or redo in {}: {} {why}", quoted(marks), quoted(undo))]
    ForeignUndo {
        /// The marks file.
        marks: PathBuf,
        /// The undo list.
        undo: PathBuf,
        /// What is wrong with it.
        why: String,
    },
}

impl StoreError {
    /// What can be done about it.
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::NotThere { .. } => {
                Some("`groundline begin CLIP` makes a marks file for a clip".into())
            }
            Self::Clip { path } => {
                let marks = super::marks_path_for(path);
                Some(match marks.is_file() {
                    true => format!("beside it lies {}", quoted(&marks)),
                    false => format!("`groundline begin {}` makes one", path.display()),
                })
            }
            Self::Empty { path } | Self::NotJson { path, .. } | Self::Misfit { path, .. } => {
                let backup = super::backup_path(path);
                backup.is_file().then(|| format!("the state before is in {}", quoted(&backup)))
            }
            Self::Breaches { path, .. } => Some(mend(path)),
            Self::Unwritable { source, .. } => unwritable_hint(source.kind()).map(str::to_owned),
            Self::FolderNotThere { .. } => Some("check the spelling".into()),
            Self::NoFolder { .. } => Some("name the folder it lies in".into()),
            Self::Newer { .. } => Some("a later version of groundline can read it".into()),
            Self::ChangedMeanwhile { .. } => Some("read it again and repeat the change".into()),
            Self::ForeignUndo { .. } => {
                Some("what was done before cannot be taken back; new changes can".into())
            }
            _ => None,
        }
    }
}

/// How a file with broken rules is made whole again. Such a file cannot come from this program.
fn mend(path: &std::path::Path) -> String {
    let backup = super::backup_path(path);
    let or = match backup.is_file() {
        true => format!(", or take the state before from {}", quoted(&backup)),
        false => String::new(),
    };
    format!("correct it in a text editor{or}; `groundline check` lists every broken rule")
}

/// What the system said; a folder that is not there is named.
fn unwritable(path: &std::path::Path, source: &Error) -> String {
    let folder = super::paths::folder_of(path);
    match source.kind() {
        ErrorKind::NotFound if !folder.exists() => format!("there is no folder {}", quoted(folder)),
        _ => io_words(source),
    }
}

fn unwritable_hint(kind: ErrorKind) -> Option<&'static str> {
    match kind {
        ErrorKind::NotFound => Some("make the folder first, or choose another"),
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => {
            Some("choose a folder that you may write to")
        }
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => {
            Some("make room, or choose another disk")
        }
        ErrorKind::AlreadyExists => Some("choose another name"),
        ErrorKind::IsADirectory => Some("add the name of a file in that folder"),
        ErrorKind::InvalidInput => Some("choose the name of a file"),
        _ => None,
    }
}

pub(super) fn quoted(path: &std::path::Path) -> String {
    format!("`{}`", path.display())
}

fn listed(breaches: &[RuleBreach]) -> String {
    let mut said: Vec<String> = breaches.iter().take(LISTED).map(ToString::to_string).collect();
    let more = breaches.len().saturating_sub(LISTED);
    if more > 0 {
        said.push(format!("and {more} more"));
    }
    said.join("; ")
}
