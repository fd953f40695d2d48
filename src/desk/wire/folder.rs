//! What the page is told of a folder of clips.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A folder with its clips, in the order of names.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct FolderView {
    /// Its name, as a person knows it.
    pub name: String,
    /// Its clips.
    pub clips: Vec<ClipCard>,
    /// Where another desk has the same folder open.
    pub open_elsewhere: Option<String>,
    /// The clip to open first, when the desk was asked for one.
    pub first: Option<String>,
}

/// One clip of a folder.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct ClipCard {
    /// Its file name, by which every route knows it.
    pub clip: String,
    /// Who rode; empty when not stated.
    pub rider: String,
    /// On which horse.
    pub horse: String,
    /// The date of the round, as stated.
    pub date: String,
    /// Names of the fences.
    pub fences: String,
    /// What is done and what is missing, in words: "8 strides measured", "poles marked, no hooves
    /// yet", "not begun".
    pub state: String,
    /// How far it is.
    pub progress: Progress,
    /// Why the clip or its marks cannot be used.
    pub unreadable: Option<String>,
}

/// How far the marking of a clip is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Progress {
    /// No marks file yet.
    NotBegun,
    /// Marks, and no number yet.
    Begun,
    /// Strides are measured.
    Measured,
    /// The clip or its marks cannot be used.
    Unreadable,
}

/// What the page is told of a clip when it is opened.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct ClipView {
    /// Its file name.
    pub clip: String,
    /// Width of its upright picture, pixels.
    pub width: u32,
    /// Height, pixels.
    pub height: u32,
    /// Exact time of every frame since the first one, seconds of playing.
    pub times_s: Vec<f64>,
    /// The same as they are shown: "3.533 s".
    pub times: Vec<String>,
    /// How long the last frame is shown, seconds of playing.
    pub last_s: f64,
    /// Reasons to trust frames or times less, as sentences.
    pub doubts: Vec<String>,
}
