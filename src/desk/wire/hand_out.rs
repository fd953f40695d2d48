//! What the page asks to be made from a round, and how far it is.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::lesson::LessonWish;
use super::limits::Limits;

/// What to make.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum HandOutKind {
    /// The one-page sheet, PDF.
    Sheet,
    /// The stills, a folder of pictures.
    Stills,
    /// The approach picture, JPEG.
    ApproachPicture,
    /// One table, CSV.
    Csv,
    /// A workbook, XLSX.
    Workbook,
    /// The reel, MP4.
    Reel,
    /// The page of the next lesson, PDF.
    Lesson,
}

/// A wish for one.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct HandOutRequest {
    /// What.
    pub kind: HandOutKind,
    /// Leave rider, horse, place and file names off.
    pub no_names: bool,
    /// Feet instead of metres.
    pub feet: bool,
    /// What decides in its reading.
    #[serde(default)]
    pub limits: Limits,
    /// For the next lesson: what it is wanted for.
    #[serde(default)]
    pub lesson: Option<LessonWish>,
}

/// How far it is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct HandOutView {
    /// By which the page asks again.
    pub id: u32,
    /// What.
    pub kind: HandOutKind,
    /// How far.
    pub state: HandOutState,
    /// What is being done, or what came of it, in words.
    pub says: String,
    /// Where it can be fetched from; once it is made and is one file.
    pub file: Option<String>,
}

/// How far it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum HandOutState {
    /// Being made.
    Working,
    /// Made.
    Done,
    /// Could not be made.
    Failed,
    /// Given up on the user's wish.
    Cancelled,
}
