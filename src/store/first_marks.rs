//! The marks file that a clip begins with.

use std::path::{Path, PathBuf};

use super::error::{StoreError, quoted};
use super::paths::path_from;
use crate::footage::{Clip, ClipFacts, FootageDoubt, FootageError};
use crate::marks::{CameraPrior, ClipNote, MarksFile, Motion, STEADY_HANDS_M};
use crate::quantity::Given;
use crate::scene::PictureSize;

/// Diagonal of the 36 × 24 mm picture that equivalent focal lengths refer to, millimetres.
const FULL_FRAME_DIAGONAL_MM: f64 = 43.27;
/// The part of the file's focal length by which it may be off: most phones film with less of the
/// picture than they photograph with, and more so when they steady it.
const FOCAL_SD_PART: f64 = 0.15;

/// What is said when marks are begun.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Beginning {
    /// The camera was turned by hand to follow the horse.
    pub turning: bool,
    /// Which video stream was asked for.
    pub stream: Option<usize>,
    /// How many times slower than life the clip plays, when it does not say so itself.
    pub slowed: Option<f64>,
}

/// Why marks cannot be begun on a clip.
#[derive(Debug, thiserror::Error)]
pub enum NotBegun {
    /// The marks file cannot lie where it should.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The clip cannot be read.
    #[error(transparent)]
    Footage(#[from] FootageError),
    /// The clip's name cannot be written down.
    #[error("cannot note {}: its name is not Unicode text", quoted(clip))]
    Name {
        /// The clip.
        clip: PathBuf,
    },
}

impl NotBegun {
    /// What can be done about it.
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::Store(error) => error.hint(),
            Self::Footage(error) => error.hint(),
            Self::Name { .. } => Some("give the clip another name".into()),
        }
    }
}

/// A marks file without marks for `clip`, to be saved at `marks`: what the clip is, and what it
/// says of its camera.
pub fn first_marks(clip: &Clip, marks: &Path, said: Beginning) -> Result<MarksFile, NotBegun> {
    Ok(MarksFile::new(clip_note(said, marks, clip)?, camera(said.turning, clip.facts())))
}

/// What is believed of a camera, turned by hand or not, that the clip says nothing of.
pub fn usual_motion(turning: bool) -> Motion {
    match turning {
        true => Motion::Turning { sway_sd_m: STEADY_HANDS_M },
        false => Motion::Fixed,
    }
}

fn clip_note(said: Beginning, marks: &Path, clip: &Clip) -> Result<ClipNote, NotBegun> {
    let facts = clip.facts();
    let file = path_from(&absolute(marks)?, &absolute(clip.path())?);
    let Some(file) = file.to_str() else {
        return Err(NotBegun::Name { clip: clip.path().to_owned() });
    };
    Ok(ClipNote {
        file: file.replace(std::path::MAIN_SEPARATOR, "/"),
        size_bytes: facts.size_bytes,
        blake3: clip.content_hash()?.to_owned(),
        picture: PictureSize { width: facts.upright_width_px, height: facts.upright_height_px },
        frame_count: clip.frame_count(),
        stream: stream(said, clip),
        capture_seconds_per_second: match said.slowed {
            Some(times) => 1.0 / times,
            None => facts.capture.time_scale,
        },
        frames: Vec::new(),
        other: serde_json::Map::new(),
    })
}

/// Noted when it was asked for or chosen among several, so that it is the same next time.
fn stream(said: Beginning, clip: &Clip) -> Option<usize> {
    let several = |doubt: &FootageDoubt| matches!(doubt, FootageDoubt::SeveralVideoStreams { .. });
    said.stream.or(clip.doubts().iter().any(several).then_some(clip.facts().stream))
}

/// Absolute and without links in its folder; the file itself need not be there.
fn absolute(path: &Path) -> Result<PathBuf, StoreError> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let folder = std::fs::canonicalize(folder)
        .map_err(|source| StoreError::Unwritable { path: path.to_owned(), source })?;
    Ok(folder.join(path.file_name().unwrap_or_default()))
}

fn camera(turning: bool, facts: &ClipFacts) -> CameraPrior {
    let mut camera = CameraPrior::usual(usual_motion(turning));
    camera.focal_px = facts.lens.focal_length_35mm_mm.map(|focal_mm| {
        let (width, height) = (facts.upright_width_px, facts.upright_height_px);
        let diagonal_px = f64::from(width).hypot(f64::from(height));
        let focal_px = (focal_mm * diagonal_px / FULL_FRAME_DIAGONAL_MM).round();
        Given::new(focal_px, (focal_px * FOCAL_SD_PART).round())
    });
    camera
}
