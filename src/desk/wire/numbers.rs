//! The measured numbers as the page shows them: every number already written.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::round::Spot;

/// The numbers of a revision.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct NumbersView {
    /// Of which revision.
    pub revision: String,
    /// One line that says it all, or what is missing for the first number.
    pub headline: String,
    /// Why there are no numbers yet, and what to do; `None` when there are.
    pub cannot: Option<String>,
    /// One entry an approach.
    pub approaches: Vec<ApproachNumbers>,
    /// Reasons to trust the numbers less.
    pub doubts: Vec<DoubtView>,
    /// Marks that do not fit the others and were left out.
    pub suspects: Vec<SuspectView>,
    /// How long measuring took, milliseconds.
    pub took_ms: f64,
}

/// The numbers of one approach.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct ApproachNumbers {
    /// Its id.
    pub approach: String,
    /// "7 strides, 2.47 to 3.84 m".
    pub headline: String,
    /// Take-off, landing, levelness, changes of pace, track: a name and a value each.
    pub facts: Vec<FactView>,
    /// What the numbers support, what matters first.
    pub reading: Vec<SentenceView>,
    /// The strides, the farthest from the fence first.
    pub strides: Vec<StrideView>,
    /// Bars, tempo and footfalls on the stride axis, as an SVG document.
    pub lane: String,
}

/// A sentence of the reading with its evidence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct SentenceView {
    /// The sentence.
    pub text: String,
    /// Numbers of the strides that show it; may be empty.
    pub strides: Vec<i32>,
    /// The frame where that begins; none where a sentence is of what was stated.
    pub go_to: Option<u32>,
}

/// A number with its name.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct FactView {
    /// "take-off".
    pub name: String,
    /// "1.27".
    pub value: String,
    /// "± 0.19 m"; may be empty.
    pub plus_minus: String,
    /// What it means: "leading hind to the ground line, square to it".
    pub explained: String,
}

/// A stride.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct StrideView {
    /// Its number: −1 is the last before take-off.
    pub number: i32,
    /// "−1".
    pub name: String,
    /// "2.47"; empty where it was not seen.
    pub length: String,
    /// "± 0.13 m".
    pub plus_minus: String,
    /// "0.60 ± 0.01 s".
    pub duration: String,
    /// "100.0 ± 2.1".
    pub tempo: String,
    /// "353 ± 26 m/min"; empty where no length.
    pub pace: String,
    /// The frame of its first contact.
    pub from_frame: u32,
    /// The frame of its last.
    pub to_frame: u32,
    /// The coach's note; may be empty.
    pub note: String,
}

/// A reason to trust the numbers less.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct DoubtView {
    /// The sentence.
    pub text: String,
    /// Only something that is not marked yet.
    pub unfinished: bool,
}

/// A mark that does not fit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct SuspectView {
    /// Of what.
    pub spot: Spot,
    /// On which frame.
    pub frame: u32,
    /// Why: "6.2 px off where the other marks put it (4.1 of its own uncertainty)".
    pub text: String,
}

/// What is laid over a frame.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct OverlayView {
    /// Of which revision.
    pub revision: String,
    /// Of which frame.
    pub frame: u32,
    /// Hoof prints, lengths and the fence's line on the ground, as an SVG document of the picture's
    /// size; empty where the survey has no camera for the frame.
    pub svg: String,
    /// Where ends of poles that are not marked are expected on this frame.
    pub expected: Vec<ExpectedView>,
    /// Where things that stand still and are marked on other frames are on this one, as far as the
    /// camera was followed.
    pub carried: Vec<ExpectedView>,
}

/// Where a mark is expected.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct ExpectedView {
    /// Of what.
    pub spot: Spot,
    /// In words.
    pub label: String,
    /// Pixels from the picture's left edge.
    pub x: f64,
    /// Pixels from its top edge.
    pub y: f64,
}

/// How far the camera was followed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct MotionView {
    /// How far it is.
    pub state: MotionState,
    /// The same in words; empty where nobody need know.
    pub words: String,
}

/// How far following the camera is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum MotionState {
    /// It is under way.
    Following,
    /// It is done.
    Followed,
    /// The background tells nothing.
    NotFollowed,
}

/// Maps that lay frames over one of them, so that the background stands still.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct SteadyView {
    /// The frame that the others are laid over.
    pub onto: u32,
    /// Nine numbers a frame, row by row, for homogeneous pixels; `None` where it was not followed.
    pub maps: Vec<Option<[f64; 9]>>,
}
