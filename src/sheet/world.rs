//! The little world typst compiles in: a few templates and files in memory, the given fonts.

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

use super::data::Files;
use super::fonts::Fonts;

/// Template, data, drawings and pictures, all in memory.
pub(super) struct SheetWorld<'a> {
    library: LazyHash<Library>,
    fonts: &'a Fonts,
    main: Source,
    /// What `sheet.typ` imports.
    parts: Vec<Source>,
    files: Files,
}

const MAIN: (&str, &str) = ("sheet.typ", include_str!("sheet.typ"));
const PARTS: [(&str, &str); 5] = [
    ("look.typ", include_str!("look.typ")),
    ("approach.typ", include_str!("approach.typ")),
    ("cover.typ", include_str!("cover.typ")),
    ("lesson.typ", include_str!("lesson.typ")),
    ("weeks.typ", include_str!("weeks.typ")),
];

fn template((name, text): (&str, &str)) -> Option<Source> {
    let path = VirtualPath::new(format!("/{name}")).ok()?;
    let id = RootedPath::new(VirtualRoot::Project, path).intern();
    Some(Source::new(id, text.to_owned()))
}

impl<'a> SheetWorld<'a> {
    /// A world whose files are found under the names given.
    pub fn new(fonts: &'a Fonts, files: Files) -> Option<Self> {
        let parts = PARTS.into_iter().map(template).collect::<Option<_>>()?;
        let library = LazyHash::new(Library::default());
        Some(Self { library, fonts, main: template(MAIN)?, parts, files })
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
        self.main.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let templates = std::iter::once(&self.main).chain(&self.parts);
        let found = templates.into_iter().find(|template| template.id() == id);
        found.cloned().ok_or(FileError::NotSource)
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
