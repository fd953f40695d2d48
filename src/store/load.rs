//! Reading a marks file: every way in which it can be unfit is told apart.

use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::Path;

use serde::de::DeserializeOwned;
use serde_json::Value;

use super::error::StoreError;
use super::json_words::json_words;
use crate::marks::{
    Approach, CameraPrior, ClipNote, Fence, Footfall, MarksFile, Reference, Round, Tie, VERSION,
};

/// No marks file comes near this size; a clip given by mistake does.
const MOST_BYTES: u64 = 64 * 1024 * 1024;

/// Reads a marks file that keeps every rule.
pub fn load(path: &Path) -> Result<MarksFile, StoreError> {
    read(path).map(|(file, _)| file)
}

/// The file and its bytes.
pub(super) fn read(path: &Path) -> Result<(MarksFile, Vec<u8>), StoreError> {
    let bytes = marks_bytes(path)?;
    Ok((marks_of_bytes(path, &bytes)?, bytes))
}

/// The marks file that these bytes of the file at `path` are, when it keeps every rule.
pub fn marks_of_bytes(path: &Path, bytes: &[u8]) -> Result<MarksFile, StoreError> {
    let file = parse(path, bytes)?;
    let breaches = file.check();
    if !breaches.is_empty() {
        return Err(StoreError::Breaches { path: path.to_owned(), breaches });
    }
    Ok(file)
}

/// The bytes of what may be a marks file: no folder, no clip, nothing far too large.
pub fn marks_bytes(path: &Path) -> Result<Vec<u8>, StoreError> {
    let owned = || path.to_owned();
    let unreadable = |source: std::io::Error| match source.kind() {
        ErrorKind::NotFound => StoreError::NotThere { path: owned() },
        _ => StoreError::Unreadable { path: owned(), source },
    };
    let facts = std::fs::metadata(path).map_err(unreadable)?;
    if facts.is_dir() {
        return Err(StoreError::Folder { path: owned() });
    }
    if is_clip(path) {
        return Err(StoreError::Clip { path: owned() });
    }
    if facts.len() > MOST_BYTES {
        return Err(StoreError::TooLarge { path: owned(), found: facts.len(), most: MOST_BYTES });
    }
    std::fs::read(path).map_err(unreadable)
}

/// Whether it begins as the clips of phones and cameras do: MP4 and MOV, Matroska and WebM, AVI.
/// What cannot be read is told by who reads it whole.
fn is_clip(path: &Path) -> bool {
    let mut start = Vec::new();
    let read = File::open(path).and_then(|file| file.take(12).read_to_end(&mut start));
    let at = |place: usize, tag: &[u8]| start.get(place..).is_some_and(|b| b.starts_with(tag));
    let movie = [b"ftyp", b"moov", b"mdat", b"wide"].iter().any(|tag| at(4, *tag));
    let matroska = at(0, b"\x1a\x45\xdf\xa3");
    let avi = at(0, b"RIFF") && at(8, b"AVI ");
    read.is_ok() && (movie || matroska || avi)
}

fn parse(path: &Path, bytes: &[u8]) -> Result<MarksFile, StoreError> {
    let path = path.to_owned();
    // Some editors put a byte order mark first.
    let text = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    if text.trim_ascii().is_empty() {
        return Err(StoreError::Empty { path });
    }
    let value: Value = match serde_json::from_slice(text) {
        Ok(value) => value,
        Err(error) => {
            let (line, column) = (error.line(), error.column());
            return Err(StoreError::NotJson { path, line, column, why: json_words(&error) });
        }
    };
    let Some(version) = value.get("groundline_marks").and_then(Value::as_u64) else {
        return Err(StoreError::NotMarks { path });
    };
    if version > u64::from(VERSION) {
        return Err(StoreError::Newer { path, found: version });
    }
    let file: MarksFile = match MarksFile::deserialize_from(&value) {
        Ok(file) => file,
        Err(why) => {
            let (at, why) = misfit(&value).unwrap_or_else(|| (".".to_owned(), why));
            return Err(StoreError::Misfit { path, at, why });
        }
    };
    match lost_key(&value, &file) {
        Some(key) => Err(StoreError::UnknownKey { path, key }),
        None => Ok(file),
    }
}

trait FromJson: DeserializeOwned {
    fn deserialize_from(value: &Value) -> Result<Self, String> {
        serde_json::from_value(value.clone()).map_err(|error| json_words(&error))
    }
}

impl<T: DeserializeOwned> FromJson for T {}

/// Finds the innermost thing that does not fit, and why.
fn misfit(value: &Value) -> Option<(String, String)> {
    part::<ClipNote>(value, "clip")
        .or_else(|| part::<CameraPrior>(value, "camera"))
        .or_else(|| value.get("round").and_then(|_| part::<Round>(value, "round")))
        .or_else(|| parts::<Reference>(value, "references", "references"))
        .or_else(|| parts::<Tie>(value, "ties", "ties"))
        .or_else(|| parts::<Fence>(value, "fences", "fences"))
        .or_else(|| {
            let approaches = value.get("approaches")?.as_array()?;
            (0..).zip(approaches).find_map(|(index, approach)| {
                let inside = format!("approaches[{index}].footfalls");
                parts::<Footfall>(approach, "footfalls", &inside)
            })
        })
        .or_else(|| parts::<Approach>(value, "approaches", "approaches"))
}

fn part<T: FromJson>(value: &Value, key: &str) -> Option<(String, String)> {
    let why = match value.get(key) {
        Some(part) => T::deserialize_from(part).err()?,
        None => "it is missing".to_owned(),
    };
    Some((key.to_owned(), why))
}

fn parts<T: FromJson>(value: &Value, key: &str, shown: &str) -> Option<(String, String)> {
    let list = value.get(key)?;
    let Some(list) = list.as_array() else {
        return Some((shown.to_owned(), "a list needed".to_owned()));
    };
    (0..).zip(list).find_map(|(index, part)| {
        T::deserialize_from(part).err().map(|why| (format!("{shown}[{index}]"), why))
    })
}

/// A key that is in the file on disk and would not be in it after saving. `null` and `false`
/// are how an absent thing may be written, so they are no loss.
fn lost_key(value: &Value, file: &MarksFile) -> Option<String> {
    let kept = serde_json::to_value(file).ok()?;
    lost_between(value, &kept, "")
}

fn lost_between(before: &Value, after: &Value, at: &str) -> Option<String> {
    match (before, after) {
        (Value::Object(before), Value::Object(after)) => before.iter().find_map(|(key, inner)| {
            let at = if at.is_empty() { key.clone() } else { format!("{at}.{key}") };
            match after.get(key) {
                Some(kept) => lost_between(inner, kept, &at),
                None => (!matches!(inner, Value::Null | Value::Bool(false))).then_some(at),
            }
        }),
        (Value::Array(before), Value::Array(after)) => {
            (0..).zip(before.iter().zip(after)).find_map(|(index, (inner, kept)): (usize, _)| {
                lost_between(inner, kept, &format!("{at}[{index}]"))
            })
        }
        _ => None,
    }
}
