//! One desk a folder: which other has it open, and under which address this one was open last.
//!
//! Both stand in the system's cache folder, so that nothing is left beside the user's clips. A desk
//! that is started again takes its old address and key, so that a page left open finds it again.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{Read, Seek, Write};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::access::Access;
use crate::store::system_cache_folder;

/// A desk's hold on a folder.
#[derive(Debug, Default)]
pub struct Presence {
    /// Locked as long as the desk runs; the system lets go of it when the desk dies.
    held: Option<File>,
    elsewhere: Option<String>,
    key: Option<PathBuf>,
}

/// What a page left open needs to be answered again.
#[derive(Serialize, Deserialize)]
struct Address {
    port: u16,
    token: String,
}

impl Presence {
    /// Takes hold of the folder, or finds who has it. Where the cache folder cannot be written
    /// nothing is known, and the saving of marks still finds every conflict.
    pub fn claim(folder: &Path) -> Self {
        let Some(place) = place_of(folder) else { return Self::default() };
        let lock = place.with_extension("lock");
        let opened =
            OpenOptions::new().read(true).write(true).create(true).truncate(false).open(lock);
        let Ok(mut file) = opened else { return Self::default() };
        match file.try_lock() {
            Ok(()) => {
                Self { held: Some(file), elsewhere: None, key: Some(place.with_extension("key")) }
            }
            Err(TryLockError::WouldBlock) => {
                let mut other = String::new();
                let read = file.read_to_string(&mut other).is_ok() && !other.is_empty();
                let said = if read { other } else { "another address".to_owned() };
                Self { elsewhere: Some(said), ..Self::default() }
            }
            Err(TryLockError::Error(_)) => Self::default(),
        }
    }

    /// Where another desk has the folder open.
    pub fn elsewhere(&self) -> Option<&str> {
        self.elsewhere.as_deref()
    }

    /// The address under which the folder was open last.
    pub fn last_access(&self) -> Option<Access> {
        let text = std::fs::read(self.key.as_deref()?).ok()?;
        let Address { port, token } = serde_json::from_slice(&text).ok()?;
        Access::again(port, token)
    }

    /// Says where the folder is open now. What cannot be written only cannot be told.
    pub fn announce(&mut self, access: &Access) {
        let Some(file) = &mut self.held else { return };
        let told = file
            .set_len(0)
            .and_then(|()| file.rewind())
            .and_then(|()| file.write_all(access.place().as_bytes()));
        drop(told);
        let Some(path) = &self.key else { return };
        let address = Address { port: access.port(), token: access.token().to_owned() };
        if let Ok(text) = serde_json::to_vec(&address) {
            drop(write_private(path, &text));
        }
    }
}

/// For nobody's eyes but the user's own.
fn write_private(path: &Path, text: &[u8]) -> std::io::Result<()> {
    let mut options = OpenOptions::new();
    options.write(true).create(true).truncate(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options.open(path)?.write_all(text)
}

fn place_of(folder: &Path) -> Option<PathBuf> {
    let desks = system_cache_folder()?.join("groundline/desks");
    std::fs::create_dir_all(&desks).ok()?;
    let whole = folder.canonicalize().ok()?;
    let name = blake3::hash(whole.as_os_str().as_encoded_bytes()).to_hex();
    Some(desks.join(&name[..16]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_desk_started_again_has_its_old_address() {
        let folder = tempfile::tempdir().unwrap();
        let mut first = Presence::claim(folder.path());
        assert!(first.elsewhere().is_none() && first.last_access().is_none());
        let access = Access::new(8123).unwrap();
        first.announce(&access);
        assert_eq!(Presence::claim(folder.path()).elsewhere(), Some("http://127.0.0.1:8123"));
        drop(first);
        let again = Presence::claim(folder.path());
        assert_eq!(again.elsewhere(), None);
        assert_eq!(again.last_access().map(|access| access.url()), Some(access.url()));
    }
}
