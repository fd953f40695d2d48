//! The size and the hash of a clip file, read in pieces.

use std::fs::File;
use std::path::Path;

use super::error::FootageError;

/// BLAKE3 of the file, in hexadecimal.
pub fn of_file(path: &Path) -> Result<String, FootageError> {
    let unreadable = |reason| FootageError::Unreadable { path: path.to_owned(), reason };
    let file = File::open(path).map_err(unreadable)?;
    let mut hasher = blake3::Hasher::new();
    hasher.update_reader(file).map_err(unreadable)?;
    Ok(hasher.finalize().to_hex().to_string())
}

pub fn size_of_file(path: &Path) -> Result<u64, FootageError> {
    let facts = std::fs::metadata(path)
        .map_err(|reason| FootageError::Unreadable { path: path.to_owned(), reason })?;
    Ok(facts.len())
}
