//! The folder that the desk works in: its clips, and how far each is. Nothing outside it is read.

use std::io::ErrorKind;
use std::path::{Component, Path, PathBuf};

use super::wire::{ClipCard, Progress};
use crate::marks::{Limb, MarksFile};
use crate::pan::CameraMotion;
use crate::store::{StoreError, kept_motion, load, marks_path_for, missing_beside_motion};

/// Endings by which clips are known.
const CLIPS: [&str; 10] = ["mp4", "mov", "m4v", "webm", "mkv", "avi", "3gp", "mts", "m2ts", "mpg"];

/// Whether a file is called as clips are.
pub(super) fn is_clip_name(name: &str) -> bool {
    let ending = Path::new(name).extension().and_then(|ending| ending.to_str());
    let hidden = name.starts_with('.');
    !hidden && ending.is_some_and(|ending| CLIPS.contains(&ending.to_lowercase().as_str()))
}

/// The file of that name in the folder; `None` where the name is no plain file name.
pub(super) fn inside(folder: &Path, name: &str) -> Option<PathBuf> {
    let mut parts = Path::new(name).components();
    let plain = matches!((parts.next(), parts.next()), (Some(Component::Normal(_)), None));
    let whole = !name.contains(['/', '\\', '\0']);
    (plain && whole && is_clip_name(name)).then(|| folder.join(name))
}

/// The clips of a folder, in the order of names.
pub(super) fn clips(folder: &Path) -> std::io::Result<Vec<ClipCard>> {
    let mut names: Vec<String> = std::fs::read_dir(folder)?
        .filter_map(Result::ok)
        .filter(|entry| entry.path().is_file())
        .filter_map(|entry| entry.file_name().into_string().ok())
        .filter(|name| is_clip_name(name))
        .collect();
    names.sort_by_key(|name| name.to_lowercase());
    Ok(names.into_iter().map(|name| card(folder, name)).collect())
}

fn card(folder: &Path, clip: String) -> ClipCard {
    let mut card = ClipCard {
        rider: String::new(),
        horse: String::new(),
        date: String::new(),
        fences: String::new(),
        state: "not begun".to_owned(),
        progress: Progress::NotBegun,
        unreadable: None,
        clip,
    };
    let marks = marks_path_for(&folder.join(&card.clip));
    match load(&marks) {
        Ok(file) => {
            let motion = kept_motion(&marks, &file.clip);
            describe(&mut card, &file, motion.as_ref());
        }
        Err(StoreError::NotThere { .. }) => {}
        Err(StoreError::Unreadable { source, .. }) if source.kind() == ErrorKind::NotFound => {}
        Err(error) => {
            card.state = "its marks cannot be read".to_owned();
            card.progress = Progress::Unreadable;
            card.unreadable = Some(error.to_string());
        }
    }
    card
}

fn describe(card: &mut ClipCard, file: &MarksFile, motion: Option<&CameraMotion>) {
    card.rider.clone_from(&file.round.rider);
    card.horse.clone_from(&file.round.horse);
    card.date = file.round.date.clone().unwrap_or_default();
    let names: Vec<&str> = file
        .fences
        .iter()
        .map(|fence| if fence.name.is_empty() { fence.kind.words() } else { &fence.name })
        .collect();
    card.fences = names.join(", ");
    let strides: usize = file.approaches.iter().map(strides_of).sum();
    let missing = missing_beside_motion(file, motion);
    (card.progress, card.state) = match (strides, file.references.is_empty()) {
        (0, true) => (Progress::NotBegun, "begun, no poles yet".to_owned()),
        (0, false) => (Progress::Begun, "poles stated, no stride yet".to_owned()),
        (strides, true) => (Progress::Begun, format!("{} marked, no poles yet", counted(strides))),
        (strides, false) if missing.is_empty() => (Progress::Measured, counted(strides)),
        (strides, false) => {
            let wanting = if missing.len() == 1 {
                "one thing".to_owned()
            } else {
                format!("{} things", missing.len())
            };
            (Progress::Measured, format!("{}, {wanting} missing", counted(strides)))
        }
    };
}

fn counted(strides: usize) -> String {
    if strides == 1 { "1 stride".to_owned() } else { format!("{strides} strides") }
}

fn strides_of(approach: &crate::marks::Approach) -> usize {
    let hinds = Limb::ALL.into_iter().filter(|limb| limb.is_hind());
    hinds.map(|limb| approach.contacts(limb)).max().unwrap_or(0).saturating_sub(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_clips_of_the_folder_itself_are_inside() {
        let folder = Path::new("/lessons");
        assert_eq!(inside(folder, "ride 3.MP4"), Some(PathBuf::from("/lessons/ride 3.MP4")));
        for name in [
            "../x.mp4",
            "a/b.mp4",
            "/etc/x.mp4",
            "..",
            "",
            "x.txt",
            ".x.mp4",
            "a\\b.mp4",
            "a\0.mp4",
        ] {
            assert_eq!(inside(folder, name), None, "{name}");
        }
    }
}
