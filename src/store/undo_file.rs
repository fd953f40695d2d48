//! The undo list beside a marks file, so that undo works from one command to the next.

use std::io::ErrorKind;
use std::path::Path;

use serde::{Deserialize, Serialize};

use super::error::StoreError;
use super::paths::undo_path;
use super::save::write_whole;
use crate::footage::io_words;
use crate::marks::History;

/// The version of the undo file that this program writes and reads.
const UNDO_VERSION: u32 = 1;

#[derive(Serialize, Deserialize)]
struct UndoFile {
    groundline_undo: u32,
    /// BLAKE3 hash of the marks file that the last step led to.
    marks_blake3: String,
    #[serde(flatten)]
    history: History,
}

/// What the undo file is to the marks file as it is now.
pub(super) enum Remembered {
    /// Its history; empty when there is no undo file.
    Own(History),
    /// Of no use, and why.
    Foreign(String),
}

pub(super) fn hash(bytes: &[u8]) -> String {
    blake3::hash(bytes).to_hex().to_string()
}

/// Reads the undo list of the marks file whose bytes are `marks_bytes`.
pub(super) fn recall(marks: &Path, marks_bytes: &[u8]) -> Remembered {
    let bytes = match std::fs::read(undo_path(marks)) {
        Ok(bytes) => bytes,
        Err(error) if error.kind() == ErrorKind::NotFound => {
            return Remembered::Own(History::default());
        }
        Err(error) => return Remembered::Foreign(format!("cannot be read: {}", io_words(&error))),
    };
    match serde_json::from_slice::<UndoFile>(&bytes) {
        Ok(file) if file.groundline_undo != UNDO_VERSION => {
            let found = file.groundline_undo;
            Remembered::Foreign(format!("is of version {found} (version {UNDO_VERSION} needed)"))
        }
        Ok(file) if file.marks_blake3 != hash(marks_bytes) => Remembered::Foreign(
            "belongs to another state of the file (it was changed since without the list)".into(),
        ),
        Ok(file) => Remembered::Own(file.history),
        Err(_) => Remembered::Foreign("is damaged".into()),
    }
}

/// Writes the undo list of the marks file whose bytes are `marks_bytes`.
pub(super) fn remember(
    marks: &Path,
    marks_bytes: &[u8],
    history: &History,
) -> Result<(), StoreError> {
    let path = undo_path(marks);
    let file = UndoFile {
        groundline_undo: UNDO_VERSION,
        marks_blake3: hash(marks_bytes),
        history: history.clone(),
    };
    #[expect(
        clippy::expect_used,
        reason = "edits hold only strings, numbers, lists and string-keyed maps"
    )]
    let text = serde_json::to_vec(&file).expect("an undo list is always JSON");
    write_whole(&path, &text).map_err(|source| StoreError::Unwritable { path, source })
}
