//! What the system says when a file cannot be used, in the program's own voice.

use std::io::{Error, ErrorKind};

/// What the system said, without its numbers.
pub fn io_words(error: &Error) -> String {
    let words = match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder",
        ErrorKind::PermissionDenied => "the system does not allow it",
        ErrorKind::StorageFull => "the disk is full",
        ErrorKind::QuotaExceeded => "the space granted to this user is used up",
        ErrorKind::FileTooLarge => "the file would be larger than is allowed",
        ErrorKind::ReadOnlyFilesystem => "the disk is read-only",
        ErrorKind::IsADirectory => "it is a folder",
        ErrorKind::AlreadyExists => "there already is a file of that name",
        ErrorKind::InvalidData => "it is not text",
        ErrorKind::NotADirectory => "a part of the path is not a folder",
        _ => return error.to_string().to_lowercase(),
    };
    words.to_owned()
}
