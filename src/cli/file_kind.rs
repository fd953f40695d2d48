//! What a file is to be, by the ending of its name.

use std::io::ErrorKind;
use std::path::Path;

use super::Failure;
use crate::store::StoreError;

/// Kinds of file that are written by the name they are given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum FileKind {
    Png,
    Jpeg,
    Pdf,
    Svg,
    Xlsx,
    Mp4,
}

impl FileKind {
    /// The kind that the name of `path` asks for; refused when it is none of `possible`.
    pub(super) fn of(path: &Path, possible: &[Self]) -> Result<Self, Failure> {
        if path.is_dir() {
            let source = ErrorKind::IsADirectory.into();
            return Err(StoreError::Unwritable { path: path.to_owned(), source }.into());
        }
        let ending = path.extension().unwrap_or_default().to_string_lossy().to_lowercase();
        let asked = match ending.as_str() {
            "png" => Some(Self::Png),
            "jpg" | "jpeg" => Some(Self::Jpeg),
            "pdf" => Some(Self::Pdf),
            "svg" => Some(Self::Svg),
            "xlsx" => Some(Self::Xlsx),
            "mp4" => Some(Self::Mp4),
            _ => None,
        };
        asked.filter(|kind| possible.contains(kind)).ok_or_else(|| {
            let endings: Vec<&str> = possible.iter().map(|kind| kind.ending()).collect();
            let (shown, endings) = (path.display(), endings.join(" or "));
            let found = if ending.is_empty() { "no ending".into() } else { format!("`.{ending}`") };
            Failure::usage(format!(
                "cannot write `{shown}`: its name has {found} ({endings} needed)"
            ))
            .hint("the ending of the name decides what is written")
        })
    }

    fn ending(self) -> &'static str {
        match self {
            Self::Png => ".png",
            Self::Jpeg => ".jpg",
            Self::Pdf => ".pdf",
            Self::Svg => ".svg",
            Self::Xlsx => ".xlsx",
            Self::Mp4 => ".mp4",
        }
    }
}
