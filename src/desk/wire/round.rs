//! What the page is told of a round: its marks, its steps, what is wanted next.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::act::{
    BaseEnd, EventName, FenceKindName, KnownBy, LengthEnd, LengthKind, LimbName, Side,
};

/// A round as it is saved.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct RoundView {
    /// The clip's file name.
    pub clip: String,
    /// Stands for the marks file as it is on disk; every change says which one it was made on.
    pub revision: String,
    /// Its name on the page: "Copper · Ada · 2026-09-04", or the clip's name.
    pub title: String,
    /// What was stated of the round.
    pub about: RoundAbout,
    /// Whether the phone turned with the horse.
    pub turning: bool,
    /// What was stated of the poles.
    pub poles: Option<PolesView>,
    /// What was stated of other known lengths.
    pub lengths: Vec<LengthView>,
    /// What was stated of the fences.
    pub fences: Vec<FenceView>,
    /// The approaches.
    pub approaches: Vec<ApproachView>,
    /// Every mark on every frame.
    pub marks: Vec<MarkView>,
    /// The steps of the work, in order.
    pub steps: Vec<StepView>,
    /// What `undo` would take back, in words.
    pub undo: Option<String>,
    /// What `redo` would make again.
    pub redo: Option<String>,
}

/// Who, where and when.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, TS)]
pub struct RoundAbout {
    /// Who rode.
    pub rider: String,
    /// On which horse.
    pub horse: String,
    /// Where.
    pub place: String,
    /// ISO 8601 date, or empty.
    pub date: String,
    /// What the horse went on.
    pub surface: String,
    /// Rise towards the fence, per cent; downhill is negative.
    #[serde(default)]
    pub slope_percent: Option<f64>,
    /// The coach's note on the round.
    pub note: String,
}

/// The poles as they were stated.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct PolesView {
    /// How many.
    pub count: u32,
    /// From one to the next, metres.
    pub spacing_m: f64,
    /// Length of each, metres.
    pub length_m: f64,
    /// Whether the spacing was taped, or else paced.
    pub taped: bool,
}

/// Something of known length besides the poles, as it was stated.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct LengthView {
    /// Its id.
    pub id: String,
    /// What it is.
    pub kind: LengthKind,
    /// The same in words, with the fence it belongs to: "width of Blue oxer".
    pub label: String,
    /// Metres.
    pub length_m: f64,
    /// How it is known.
    pub known_by: KnownBy,
}

/// A fence as it was stated.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct FenceView {
    /// Its id.
    pub id: String,
    /// What the coach calls it; may be empty.
    pub name: String,
    /// Kind of fence.
    pub kind: FenceKindName,
    /// Height, metres.
    pub height_m: Option<f64>,
    /// From take-off base to landing base, metres.
    pub spread_m: Option<f64>,
    /// What lies behind it; may be empty.
    pub behind: String,
    /// What lies around it; may be empty.
    pub around: String,
}

/// An approach as it was stated.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct ApproachView {
    /// Its id.
    pub id: String,
    /// The fence's id.
    pub fence: String,
    /// The lead, when it was seen.
    pub lead: Option<Side>,
    /// The frame of leaving the turn, when it was marked.
    pub left_turn_frame: Option<u32>,
    /// The coach's note.
    pub note: String,
    /// Her notes on strides: number (negative, −1 the last) and text.
    pub stride_notes: Vec<StrideNoteView>,
}

/// A note on one stride.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct StrideNoteView {
    /// Its number: −1 is the last before take-off.
    pub stride: i32,
    /// The note.
    pub text: String,
}

/// One mark on one frame.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct MarkView {
    /// What it is a mark of, as acts name it.
    pub spot: Spot,
    /// The same in words: "pole 2, left end", "leading hind, take-off".
    pub label: String,
    /// The frame.
    pub frame: u32,
    /// Pixels from the picture's left edge.
    pub x: f64,
    /// Pixels from its top edge.
    pub y: f64,
    /// The hoof was out of sight: the frame counts and the place does not.
    pub hidden: bool,
}

/// What a mark is a mark of.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(tag = "of", rename_all = "snake_case")]
pub enum Spot {
    /// The end of a pole; poles count from 1 in the order the horse meets them.
    PoleEnd {
        /// Which pole.
        pole: u32,
        /// Which end, as the horse goes.
        end: Side,
    },
    /// An end of a fence's base.
    Base {
        /// The fence's id.
        fence: String,
        /// Which end.
        end: BaseEnd,
    },
    /// An end of something of known length.
    LengthEnd {
        /// Its id.
        reference: String,
        /// Which end.
        end: LengthEnd,
    },
    /// A fixed point seen in several frames.
    Tie {
        /// Its id.
        tie: String,
    },
    /// A hoof's contact.
    Footfall {
        /// The approach's id.
        approach: String,
        /// The footfall's id.
        footfall: String,
        /// Which limb.
        limb: LimbName,
        /// What it belongs to.
        event: EventName,
    },
    /// A point of a reference that this page shows and cannot place (a rail, an end of second
    /// poles): it is moved and removed like the others.
    Other {
        /// The address as the marks file names it.
        address: String,
    },
}

/// A step of the work.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct StepView {
    /// Which.
    pub step: StepName,
    /// Done.
    pub done: bool,
    /// How far it is: "5 of 8 ends".
    pub count: String,
    /// What is missing, in words; empty when nothing is.
    pub says: String,
    /// What can be placed in this step and is not, in the order proposed.
    pub wanted: Vec<Target>,
}

/// The steps.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum StepName {
    /// Poles: stated and their ends marked.
    Poles,
    /// The fence and its base.
    Fence,
    /// Other things of known length: none is needed where poles are.
    Lengths,
    /// Footfalls, take-off, landing.
    Hooves,
    /// Fixed points, when the phone turned.
    Ties,
}

/// A place that can be marked next.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "target", rename_all = "snake_case")]
pub enum Target {
    /// A pole's end.
    PoleEnd {
        /// Which pole.
        pole: u32,
        /// Which end.
        end: Side,
        /// In words: "pole 2, left end".
        label: String,
    },
    /// An end of the fence's base.
    Base {
        /// The fence's id.
        fence: String,
        /// Which end.
        end: BaseEnd,
        /// In words.
        label: String,
    },
    /// An end of something of known length.
    LengthEnd {
        /// Its id.
        reference: String,
        /// Which end.
        end: LengthEnd,
        /// In words.
        label: String,
    },
    /// A hoof's contact.
    Footfall {
        /// Which limb.
        limb: LimbName,
        /// What it belongs to.
        event: EventName,
        /// In words.
        label: String,
    },
    /// A fixed point; a new one where `tie` is left out.
    Tie {
        /// The tie's id.
        tie: Option<String>,
        /// In words.
        label: String,
    },
}
