//! The little world typst compiles in: one template, a few files in memory, the given fonts.

use std::collections::BTreeMap;

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

use super::fonts::Fonts;

/// Template, data, drawings and pictures, all in memory.
pub(super) struct SheetWorld<'a> {
    library: LazyHash<Library>,
    fonts: &'a Fonts,
    template: Source,
    files: BTreeMap<String, Bytes>,
}

const TEMPLATE: &str = include_str!("sheet.typ");

impl<'a> SheetWorld<'a> {
    /// A world whose files are found under the names given.
    pub fn new(fonts: &'a Fonts, files: BTreeMap<String, Bytes>) -> Option<Self> {
        let path = VirtualPath::new("/sheet.typ").ok()?;
        let main = RootedPath::new(VirtualRoot::Project, path).intern();
        Some(Self {
            library: LazyHash::new(Library::default()),
            fonts,
            template: Source::new(main, TEMPLATE.to_owned()),
            files,
        })
    }
}

impl World for SheetWorld<'_> {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        self.fonts.book()
    }

    fn main(&self) -> FileId {
        self.template.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.template.id() {
            return Ok(self.template.clone());
        }
        Err(FileError::NotSource)
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let name = id.get().vpath().get_without_slash();
        self.files.get(name).cloned().ok_or_else(|| FileError::NotFound(name.into()))
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.fonts.font(index)
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}
