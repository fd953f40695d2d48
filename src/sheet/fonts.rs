//! The fonts of a sheet: the embedded sans, and any others the caller brings.
//!
//! The core scans no folder. For names in scripts the embedded font lacks, the caller hands in
//! font bytes, or entries of a scan (`typst_kit::fonts::system()`), which load when needed.

use typst::foundations::Bytes;
use typst::text::{Font, FontBook, FontInfo};
use typst::utils::LazyHash;
use typst_kit::fonts::{FontSource, FontStore};

/// Fonts in the order they are tried.
pub struct Fonts {
    store: FontStore,
    families: Vec<String>,
}

impl Fonts {
    /// Noto Sans, regular and bold: Latin, Greek and Cyrillic.
    pub fn embedded() -> Self {
        let mut fonts = Self { store: FontStore::new(), families: Vec::new() };
        for bytes in [notosans::REGULAR_TTF, notosans::BOLD_TTF, notosans::ITALIC_TTF] {
            for font in Font::iter(Bytes::new(bytes)) {
                let info = font.info().clone();
                fonts.push(font, info);
            }
        }
        fonts
    }

    /// The same with the fonts of one more file's bytes; bytes that are no font add nothing.
    pub fn with_bytes(mut self, bytes: Vec<u8>) -> Self {
        for font in Font::iter(Bytes::new(bytes)) {
            let info = font.info().clone();
            self.push(font, info);
        }
        self
    }

    /// The same with the fonts a scan found.
    pub fn with_scanned<S: FontSource>(
        mut self,
        entries: impl IntoIterator<Item = (S, FontInfo)>,
    ) -> Self {
        for (source, info) in entries {
            self.push(source, info);
        }
        self
    }

    fn push(&mut self, source: impl FontSource, info: FontInfo) {
        let family = info.family.as_str().to_owned();
        if !self.families.contains(&family) {
            self.families.push(family);
        }
        self.store.push((source, info));
    }

    pub(super) fn book(&self) -> &LazyHash<FontBook> {
        self.store.book()
    }

    pub(super) fn font(&self, index: usize) -> Option<Font> {
        self.store.font(index)
    }
}

impl std::fmt::Debug for Fonts {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.debug_struct("Fonts").field("families", &self.families).finish_non_exhaustive()
    }
}
