//! Whether another desk has the same folder open. Told by a locked file in the system's cache
//! folder, so that nothing is left beside the user's clips.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{Read, Seek, Write};
use std::path::{Path, PathBuf};

use crate::store::system_cache_folder;

/// Held as long as the desk runs; the system lets go of it when the desk dies.
#[derive(Debug, Default)]
pub(super) struct Presence {
    /// Locked.
    _held: Option<File>,
    /// Where the other desk is.
    pub elsewhere: Option<String>,
}

impl Presence {
    /// Says that the folder is open at `place`, or finds who has it. Where the cache folder cannot
    /// be written nothing is known, and the saving of marks still finds every conflict.
    pub fn announce(folder: &Path, place: &str) -> Self {
        let Some(path) = lock_path(folder) else { return Self::default() };
        let opened =
            OpenOptions::new().read(true).write(true).create(true).truncate(false).open(path);
        let Ok(mut file) = opened else { return Self::default() };
        match file.try_lock() {
            Ok(()) => {
                let written = file
                    .set_len(0)
                    .and_then(|()| file.rewind())
                    .and_then(|()| file.write_all(place.as_bytes()));
                // An address that cannot be written is only one that cannot be told.
                drop(written);
                Self { _held: Some(file), elsewhere: None }
            }
            Err(TryLockError::WouldBlock) => {
                let mut other = String::new();
                let read = file.read_to_string(&mut other).is_ok() && !other.is_empty();
                let said = if read { other } else { "another address".to_owned() };
                Self { _held: None, elsewhere: Some(said) }
            }
            Err(TryLockError::Error(_)) => Self::default(),
        }
    }
}

fn lock_path(folder: &Path) -> Option<PathBuf> {
    let desks = system_cache_folder()?.join("groundline/desks");
    std::fs::create_dir_all(&desks).ok()?;
    let whole = folder.canonicalize().ok()?;
    let name = blake3::hash(whole.as_os_str().as_encoded_bytes()).to_hex();
    Some(desks.join(format!("{}.lock", &name[..16])))
}
