//! Every change of a marks file, as one enum: page and command line send the same thing, and
//! undo is a list. [`MarksFile::apply`](super::MarksFile::apply) is the only way in.

mod apply;
mod frames;
mod lists;
mod places;
mod refused;
mod words;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::address::MarkAddress;
use super::approach::{Approach, Event, Footfall, Lead, Limb, StrideNote};
use super::camera_prior::CameraPrior;
use super::clip::MarkedFrame;
use super::fence::Fence;
use super::mark::Mark;
use super::reference::Reference;
use super::round::Round;
use super::tie::Tie;
use crate::quantity::FrameNumber;

pub use lists::ThingKind;
pub use refused::EditRefused;
pub(super) use words::pace_words;

/// One change. `at` is a place in a list, counted from 0.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "edit", rename_all = "snake_case")]
#[expect(clippy::large_enum_variant, reason = "edits are few; a box would show in every match")]
pub enum Edit {
    /// States the round anew.
    SetRound {
        /// All of it.
        round: Round,
    },
    /// States the beliefs about the camera anew.
    SetCamera {
        /// All of them.
        camera: CameraPrior,
    },
    /// States how much slower than life the clip plays.
    SetCapture {
        /// Captured seconds per second of playing time: 1/8 for 8 times slowed.
        capture_seconds_per_second: f64,
    },
    /// Remembers the time of a frame; replaces what was known of it. Every frame that carries a
    /// mark must be known: see [`Edit::frames_wanted`].
    NoteFrame {
        /// The frame and its time.
        time: MarkedFrame,
        /// Where in the list; by frame number when left out.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        at: Option<usize>,
    },
    /// Forgets the time of a frame that carries no mark.
    ForgetFrame {
        /// The frame.
        frame: FrameNumber,
    },
    /// Notes that parts of a frame's picture are damaged and guessed, or that they are not.
    NoteConcealed {
        /// The frame.
        frame: FrameNumber,
        /// Whether they are.
        concealed: bool,
    },
    /// A reference more, another, or one fewer.
    Reference(ListChange<Reference>),
    /// A tie more, another, or one fewer.
    Tie(ListChange<Tie>),
    /// A fence more, another, or one fewer.
    Fence(ListChange<Fence>),
    /// An approach more, another, or one fewer.
    Approach(ListChange<Approach>),
    /// A footfall more, another, or one fewer.
    Footfall {
        /// The approach's id.
        approach: String,
        /// The change of its list of footfalls.
        #[serde(flatten)]
        change: ListChange<Footfall>,
    },
    /// States one fact of an approach anew.
    SetApproach {
        /// The approach's id.
        approach: String,
        /// The fact.
        fact: ApproachFact,
    },
    /// States one fact of a footfall anew.
    SetFootfall {
        /// The approach's id.
        approach: String,
        /// The footfall's id.
        footfall: String,
        /// The fact.
        fact: FootfallFact,
    },
    /// Places a mark; it replaces the one that the place has on that frame. A footfall has one
    /// mark only, which is replaced whatever its frame.
    PlaceMark {
        /// Of what.
        place: MarkAddress,
        /// The mark.
        mark: Mark,
        /// Where in the place's list, when the frame is new to it.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        at: Option<usize>,
    },
    /// Moves a mark by a few pixels.
    NudgeMark {
        /// Of what.
        place: MarkAddress,
        /// On which frame.
        frame: FrameNumber,
        /// Pixels to the right.
        dx: f64,
        /// Pixels down.
        dy: f64,
    },
    /// Removes a mark. Not for a footfall, which goes with its only mark.
    RemoveMark {
        /// Of what.
        place: MarkAddress,
        /// On which frame.
        frame: FrameNumber,
    },
    /// Several changes that are one step to the person who made them: all are done or none, and
    /// the rules are checked after the last.
    Several {
        /// In order.
        edits: Vec<Edit>,
    },
}

/// One change of a list of things that have ids.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "change", rename_all = "snake_case")]
pub enum ListChange<T> {
    /// One more.
    Add {
        /// All of it.
        thing: T,
        /// Where in the list; at the end when left out.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        at: Option<usize>,
    },
    /// Another in its place.
    Replace {
        /// The id it has before the change.
        id: String,
        /// What replaces it.
        thing: T,
    },
    /// One fewer.
    Remove {
        /// Which.
        id: String,
    },
}

/// A fact of an approach.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ApproachFact {
    /// The limb that delimits the strides; `null` for the take-off hind.
    ReferenceLimb(Option<Limb>),
    /// The lead; `null` when it was not seen.
    Lead(Option<Lead>),
    /// The frame of leaving the turn; `null` when it was not seen.
    LeftTurnFrame(Option<FrameNumber>),
    /// The note on the approach; empty for none.
    Note(String),
    /// All notes on its strides.
    StrideNotes(Vec<StrideNote>),
}

/// A fact of a footfall.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FootfallFact {
    /// What it belongs to.
    Event(Event),
    /// Which limb it was.
    Limb(Limb),
    /// Whether it was out of sight.
    Hidden(bool),
}

impl<T> ListChange<T> {
    /// One more at the end.
    pub fn add(thing: T) -> Self {
        Self::Add { thing, at: None }
    }

    /// Another in the place of `id`.
    pub fn replace(id: impl Into<String>, thing: T) -> Self {
        Self::Replace { id: id.into(), thing }
    }

    /// One fewer.
    pub fn remove(id: impl Into<String>) -> Self {
        Self::Remove { id: id.into() }
    }
}
