//! Which file lies where: all of them beside the marks file.

use std::ffi::OsString;
use std::path::{Component, Path, PathBuf};

use crate::marks::ClipNote;

/// How the name of a marks file ends.
const ENDING: &str = ".marks.json";

/// `lesson.marks.json` for `lesson.mp4`, in the same folder.
pub fn marks_path_for(clip: &Path) -> PathBuf {
    let mut name = clip.file_stem().unwrap_or_default().to_owned();
    name.push(ENDING);
    clip.with_file_name(name)
}

/// Whether a file is called as marks files are.
pub(super) fn is_marks_path(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default().to_string_lossy().to_lowercase();
    name.ends_with(ENDING)
}

/// Where the file before the last save is kept: `lesson.marks.json.backup`.
pub fn backup_path(marks: &Path) -> PathBuf {
    let mut name = marks.file_name().unwrap_or_default().to_owned();
    name.push(".backup");
    marks.with_file_name(name)
}

/// Where the undo list is kept: `lesson.marks.undo.json`.
pub fn undo_path(marks: &Path) -> PathBuf {
    let name = marks.file_name().unwrap_or_default();
    let mut undo = match Path::new(name).extension() {
        Some(extension) if extension == "json" => marks.file_stem().unwrap_or_default().to_owned(),
        _ => OsString::from(name),
    };
    undo.push(".undo.json");
    marks.with_file_name(undo)
}

/// Where the camera's motion is kept: `lesson.motion`.
pub fn motion_path(marks: &Path) -> PathBuf {
    let name = marks.file_name().unwrap_or_default().to_string_lossy();
    let stem = name.strip_suffix(ENDING).unwrap_or(&name);
    marks.with_file_name(format!("{stem}.motion"))
}

/// Where the clip of a marks file should lie.
pub fn clip_path(marks: &Path, clip: &ClipNote) -> PathBuf {
    marks.parent().unwrap_or(Path::new("")).join(&clip.file)
}

/// The folder that a file lies in.
pub(super) fn folder_of(file: &Path) -> &Path {
    match file.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// `target` as seen from the folder of `file`, so that both can be moved together. Both are
/// taken as absolute, without `.` and `..`.
pub fn path_from(file: &Path, target: &Path) -> PathBuf {
    let parts = |path: &Path| -> Vec<OsString> {
        path.components().map(|part| part.as_os_str().to_owned()).collect()
    };
    let (folder, target) = (parts(folder_of(file)), parts(target));
    let shared = folder.iter().zip(&target).take_while(|(a, b)| a == b).count();
    let up = folder[shared..].iter().map(|_| Component::ParentDir.as_os_str().to_owned());
    up.chain(target[shared..].iter().cloned()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_beside_the_marks_file() {
        let marks = marks_path_for(Path::new("spring/lesson 3.final.mp4"));
        assert_eq!(marks, Path::new("spring/lesson 3.final.marks.json"));
        assert_eq!(backup_path(&marks), Path::new("spring/lesson 3.final.marks.json.backup"));
        assert_eq!(undo_path(&marks), Path::new("spring/lesson 3.final.marks.undo.json"));
        assert_eq!(motion_path(&marks), Path::new("spring/lesson 3.final.motion"));
        assert_eq!(undo_path(Path::new("odd")), Path::new("odd.undo.json"));
    }

    #[test]
    fn paths_between_folders() {
        let from = |file: &str, target: &str| path_from(Path::new(file), Path::new(target));
        assert_eq!(from("/a/b/x.marks.json", "/a/b/x.mp4"), Path::new("x.mp4"));
        assert_eq!(from("/a/b/x.marks.json", "/a/clips/x.mp4"), Path::new("../clips/x.mp4"));
    }
}
