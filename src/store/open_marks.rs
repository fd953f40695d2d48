//! A marks file that is being worked on: the file, its undo list, and what is on disk.

use std::path::{Path, PathBuf};

use super::error::StoreError;
use super::load::read;
use super::paths::undo_path;
use super::save::{save, text_of};
use super::undo_file::{Remembered, hash, recall, remember};
use crate::marks::{Edit, EditRefused, History, MarksFile};

/// A marks file open for changes. Nothing reaches the disk before [`OpenMarks::save`].
#[derive(Debug)]
pub struct OpenMarks {
    path: PathBuf,
    file: MarksFile,
    history: History,
    /// Why the undo list on disk could not be used.
    foreign_undo: Option<String>,
    /// Hash of what was on disk when it was read or saved last.
    on_disk: Option<String>,
}

impl OpenMarks {
    /// Opens the marks file at `path`.
    pub fn open(path: &Path) -> Result<Self, StoreError> {
        let (file, bytes) = read(path)?;
        let (history, foreign_undo) = match recall(path, &bytes) {
            Remembered::Own(history) => (history, None),
            Remembered::Foreign(why) => (History::default(), Some(why)),
        };
        let on_disk = Some(hash(&bytes));
        Ok(Self { path: path.to_owned(), file, history, foreign_undo, on_disk })
    }

    /// A new marks file, to be saved at `path`, where nothing may be yet.
    pub fn begin(path: &Path, file: MarksFile) -> Result<Self, StoreError> {
        if path.symlink_metadata().is_ok() {
            return Err(StoreError::AlreadyThere { path: path.to_owned() });
        }
        let (history, path) = (History::default(), path.to_owned());
        Ok(Self { path, file, history, foreign_undo: None, on_disk: None })
    }

    /// Where it is on disk.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Hash of the file on disk as it was read or saved last; `None` before the first save.
    pub fn revision(&self) -> Option<&str> {
        self.on_disk.as_deref()
    }

    /// Whether the file on disk is still the one that was read or saved last.
    pub fn is_current(&self) -> bool {
        std::fs::read(&self.path).ok().map(|bytes| hash(&bytes)) == self.on_disk
    }

    /// The file as it is now, saved or not.
    pub fn file(&self) -> &MarksFile {
        &self.file
    }

    /// What can be undone and redone.
    pub fn history(&self) -> &History {
        &self.history
    }

    /// Why what was done in earlier sessions cannot be undone, if so.
    pub fn foreign_undo(&self) -> Option<&str> {
        self.foreign_undo.as_deref()
    }

    /// Makes a change.
    pub fn make(&mut self, edit: Edit) -> Result<(), EditRefused> {
        self.history.make(&mut self.file, edit)
    }

    /// Takes back the last change and gives it; `None` when there is none.
    pub fn undo(&mut self) -> Result<Option<Edit>, StoreError> {
        self.own_undo(!self.history.done.is_empty())?;
        let undone = self.history.undo(&mut self.file);
        undone.map_err(|refused| self.foreign(&refused.to_string()))
    }

    /// Makes the change again that was taken back last; `None` when there is none.
    pub fn redo(&mut self) -> Result<Option<Edit>, StoreError> {
        self.own_undo(!self.history.undone.is_empty())?;
        let redone = self.history.redo(&mut self.file);
        redone.map_err(|refused| self.foreign(&refused.to_string()))
    }

    /// With nothing of this session left to take back, the list on disk must be ours.
    fn own_undo(&self, has_steps: bool) -> Result<(), StoreError> {
        match &self.foreign_undo {
            Some(why) if !has_steps => Err(self.foreign(why)),
            _ => Ok(()),
        }
    }

    fn foreign(&self, why: &str) -> StoreError {
        let undo = undo_path(&self.path);
        StoreError::ForeignUndo { marks: self.path.clone(), undo, why: why.to_owned() }
    }

    /// Writes the file, then its undo list. Refused when somebody else wrote the file since.
    pub fn save(&mut self) -> Result<(), StoreError> {
        let now = std::fs::read(&self.path).ok().map(|bytes| hash(&bytes));
        if now != self.on_disk && now.is_some() {
            return Err(StoreError::ChangedMeanwhile { path: self.path.clone() });
        }
        save(&self.path, &self.file)?;
        let text = text_of(&self.file);
        self.on_disk = Some(hash(&text));
        remember(&self.path, &text, &self.history)
    }
}
