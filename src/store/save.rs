//! Writing so that a crash, a full disk or a pulled plug leaves the old file or the new one,
//! never half of either: write aside in the same folder, fsync, rename, fsync the folder.

use std::fs::File;
use std::io::{Error, ErrorKind, Write};
use std::path::{Path, PathBuf};

use super::error::StoreError;
use super::paths::{backup_path, folder_of};
use crate::marks::MarksFile;

/// Writes a marks file that keeps every rule; the file it replaces becomes the backup. Nothing
/// is touched when the file already holds just this.
pub fn save(path: &Path, file: &MarksFile) -> Result<(), StoreError> {
    let breaches = file.check();
    if !breaches.is_empty() {
        return Err(StoreError::Breaches { path: path.to_owned(), breaches });
    }
    replace_keeping_backup(path, &text_of(file))
}

/// The file as it is written: indented, in a fixed order, with a final newline.
pub(super) fn text_of(file: &MarksFile) -> Vec<u8> {
    #[expect(
        clippy::expect_used,
        reason = "strings, numbers, lists and string-keyed maps: nothing in it can fail to be written"
    )]
    let mut text = serde_json::to_vec_pretty(file).expect("a marks file is always JSON");
    text.push(b'\n');
    text
}

fn replace_keeping_backup(path: &Path, text: &[u8]) -> Result<(), StoreError> {
    let target = behind_links(path);
    let unwritable = |source| StoreError::Unwritable { path: path.to_owned(), source };
    match std::fs::metadata(&target) {
        Ok(facts) if facts.is_dir() => return Err(StoreError::Folder { path: path.to_owned() }),
        Ok(facts) if facts.permissions().readonly() => {
            return Err(StoreError::Protected { path: path.to_owned() });
        }
        Ok(_) => {
            let before = std::fs::read(&target).map_err(unwritable)?;
            if before == text {
                return Ok(());
            }
            write_whole(&backup_path(&target), &before).map_err(unwritable)?;
        }
        Err(error) if error.kind() == ErrorKind::NotFound => {}
        Err(source) => return Err(unwritable(source)),
    }
    write_whole(&target, text).map_err(unwritable)
}

/// The file that a link stands for, so that the link stays a link.
fn behind_links(path: &Path) -> PathBuf {
    std::fs::canonicalize(path).unwrap_or_else(|_| path.to_owned())
}

/// Puts `bytes` at `path`, whole and durably, or changes nothing. A link stays a link: the file
/// that it stands for is written.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), Error> {
    let path = &behind_links(path);
    only_over_files(path)?;
    let folder = folder_of(path);
    let mut name = std::ffi::OsString::from(".");
    name.push(path.file_name().unwrap_or_default());
    let mut builder = tempfile::Builder::new();
    builder.prefix(&name).suffix(".saving");
    #[cfg(unix)]
    builder.permissions(permissions_for(path));
    let mut aside = builder.tempfile_in(folder)?;
    aside.write_all(bytes)?;
    aside.as_file().sync_all()?;
    aside.persist(path).map_err(|error| error.error)?;
    sync_folder(folder)
}

/// Renaming over a device or a pipe would not write to it but take its place, which the system
/// lets an administrator do.
fn only_over_files(path: &Path) -> Result<(), Error> {
    match std::fs::metadata(path) {
        Ok(facts) if facts.is_dir() => Err(ErrorKind::IsADirectory.into()),
        Ok(facts) if !facts.is_file() => {
            Err(Error::new(ErrorKind::InvalidInput, "it is a device or a pipe (a file needed)"))
        }
        _ => Ok(()),
    }
}

/// Those of the file to be replaced; for a new one the usual, less what the user's mask takes.
#[cfg(unix)]
fn permissions_for(path: &Path) -> std::fs::Permissions {
    use std::os::unix::fs::PermissionsExt;
    let usual = || std::fs::Permissions::from_mode(0o666);
    std::fs::metadata(path).map_or_else(|_| usual(), |facts| facts.permissions())
}

/// Makes the rename durable. Some systems cannot open a folder; there is nothing to do there.
fn sync_folder(folder: &Path) -> Result<(), Error> {
    if cfg!(unix) { File::open(folder)?.sync_all() } else { Ok(()) }
}
