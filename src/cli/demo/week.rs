//! One week of the demo's story: a clip of a scene, and the marks on it.

use std::io::Write;
use std::path::{Path, PathBuf};

use super::filming::film;
use crate::arena::{Clicking, Scene, Truth, marks};
use crate::cli::Failure;
use crate::cli::measured_args::MeasuredArgs;
use crate::cli::track::followed;
use crate::marks::{MarksFile, Motion, StrideNote};
use crate::quantity::LengthUnits;
use crate::store::{StoreError, hash_of_file, keep_motion, motion_path, open_marked, save};

/// Who rides in every demo, and nowhere else.
pub(super) const RIDER: &str = "Demo rider";
/// What she rides at.
pub(super) const FENCE: &str = "Vertical at the long side";

/// What one week of the story is called, when it was and what the coach wrote.
pub(super) struct Week {
    /// Name of its files, without ending.
    pub stem: &'static str,
    pub date: &'static str,
    pub note: &'static str,
    /// What she wrote to one stride, counted from the fence.
    pub stride_note: Option<(i32, &'static str)>,
    /// Feeds the clicking errors.
    pub click_seed: u64,
}

/// Three weeks of one horse at one fence: uneven, better, level. The scenes are
/// [`Scene::three_weeks`].
pub(super) const WEEKS: [Week; 3] = [
    Week {
        stem: "schooling",
        date: "2026-09-04",
        note: "Keep the canter from the corner; wait for the fence.",
        stride_note: Some((-1, "added")),
        click_seed: 12,
    },
    Week {
        stem: "second-week",
        date: "2026-09-11",
        note: "Quieter. Eased on the way, and found the canter again before the fence.",
        stride_note: None,
        click_seed: 13,
    },
    Week {
        stem: "third-week",
        date: "2026-09-18",
        note: "The same canter from the corner to the fence.",
        stride_note: None,
        click_seed: 14,
    },
];

impl Week {
    pub fn clip(&self, folder: &Path) -> PathBuf {
        folder.join(format!("{}.mp4", self.stem))
    }

    pub fn marks(&self, folder: &Path) -> PathBuf {
        folder.join(format!("{}.marks.json", self.stem))
    }

    /// What a command needs to measure it.
    pub fn measured(&self, folder: &Path) -> MeasuredArgs {
        MeasuredArgs { marks: self.marks(folder), units: LengthUnits::Metres, capture_rate: None }
    }

    /// The week in front of the camera, which films `scene`.
    pub fn staged<'a>(&'a self, scene: &'a Scene, folder: &'a Path) -> Result<Staged<'a>, Failure> {
        let truth = Truth::of(scene).map_err(Failure::new)?;
        Ok(Staged { week: self, scene, truth, folder })
    }

    /// The demo's own round, with the clip's name, size and hash.
    fn describe(&self, file: &mut MarksFile, clip: &Path) -> Result<(), Failure> {
        let unreadable = |source| StoreError::Unwritable { path: clip.to_owned(), source };
        file.clip.file =
            clip.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
        file.clip.size_bytes = std::fs::metadata(clip).map_err(unreadable)?.len();
        file.clip.blake3 = hash_of_file(clip).map_err(unreadable)?;
        file.round.rider = RIDER.into();
        file.round.horse = "Copper".into();
        file.round.place = "evening school".into();
        file.round.date = Some(self.date.into());
        if let Some(fence) = file.fences.first_mut() {
            fence.name = FENCE.into();
        }
        if let Some(approach) = file.approaches.first_mut() {
            approach.note = self.note.into();
            approach.stride_notes.extend(self.stride_note.map(|(stride, text)| StrideNote {
                stride,
                text: text.into(),
                other: serde_json::Map::new(),
            }));
        }
        Ok(())
    }
}

/// A week with its scene, of which everything is known, and the folder its files go to.
pub(super) struct Staged<'a> {
    week: &'a Week,
    scene: &'a Scene,
    pub truth: Truth,
    folder: &'a Path,
}

impl Staged<'_> {
    /// Renders the clip.
    pub fn film(&self, out: &mut dyn Write) -> Result<(), Failure> {
        let clip = self.week.clip(self.folder);
        writeln!(out, "a schooling clip of known truth: `{}`", clip.display())?;
        film(self.scene, &self.truth, &clip)
    }

    /// Writes the marks that a coach would place on the clip.
    pub fn mark(&self, out: &mut dyn Write) -> Result<(), Failure> {
        let (clip, path) = (self.week.clip(self.folder), self.week.marks(self.folder));
        writeln!(out, "marks with realistic clicking errors: `{}`", path.display())?;
        // A camera that turned is followed: no fixed point is placed by hand.
        let clicking = Clicking { hand_ties: false, ..Clicking::usual(self.week.click_seed) };
        let mut file = marks(self.scene, &self.truth, &clicking);
        self.week.describe(&mut file, &clip)?;
        save(&path, &file)?;
        if file.camera.motion != Motion::Fixed {
            let motion = followed(&open_marked(&clip, &file.clip)?)?;
            keep_motion(&path, &file.clip, &motion).map_err(Failure::new)?;
            writeln!(
                out,
                "the camera followed by its background: `{}`",
                motion_path(&path).display()
            )?;
        }
        Ok(())
    }
}
