//! The marks files of a folder and the folders in it.

use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use super::error::StoreError;
use super::paths::is_marks_path;

/// Every marks file in `folder` and in the folders in it, sorted. Folders whose name begins with a
/// dot are left out, and folders that are links are not entered, since they may lead in a circle.
pub fn marks_files_in(folder: &Path) -> Result<Vec<PathBuf>, StoreError> {
    match std::fs::metadata(folder) {
        Ok(facts) if !facts.is_dir() => {
            return Err(StoreError::NoFolder { path: folder.to_owned() });
        }
        Err(error) if error.kind() == ErrorKind::NotFound => {
            return Err(StoreError::FolderNotThere { path: folder.to_owned() });
        }
        _ => {}
    }
    let mut found = Vec::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(folder) = folders.pop() {
        let unreadable = |source| StoreError::Unreadable { path: folder.clone(), source };
        for entry in std::fs::read_dir(&folder).map_err(unreadable)? {
            let entry = entry.map_err(unreadable)?;
            let path = entry.path();
            let is_folder = entry.file_type().map_err(unreadable)?.is_dir();
            let hidden = entry.file_name().to_string_lossy().starts_with('.');
            if is_folder && !hidden {
                folders.push(path);
            } else if !is_folder && !hidden && is_marks_path(&path) {
                found.push(path);
            }
        }
    }
    found.sort();
    Ok(found)
}
