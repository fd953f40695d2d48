//! What the page asks to be changed. Each act becomes one edit of the marks file, one step of undo.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::round::{RoundAbout, Spot};

/// A change, and the file it was made on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct ActRequest {
    /// The revision that the page showed.
    pub revision: String,
    /// A name the page gives the act, so that one sent twice is done once.
    pub key: String,
    /// The change.
    pub act: Act,
}

/// One change.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "act", rename_all = "snake_case")]
pub enum Act {
    /// States the poles; marks on ends that are still there stay.
    SetPoles {
        /// How many.
        count: u32,
        /// From one to the next, metres.
        spacing_m: f64,
        /// Length of each, metres.
        length_m: f64,
        /// Whether the spacing was taped (± 0.01 m), or else paced (± 0.10 m).
        taped: bool,
    },
    /// States a fence; a new one where `fence` is left out.
    SetFence {
        /// Its id.
        fence: Option<String>,
        /// What it is called.
        name: String,
        /// Its kind.
        kind: FenceKindName,
        /// Height, metres.
        height_m: Option<f64>,
        /// From take-off base to landing base, metres.
        spread_m: Option<f64>,
        /// What lies behind it; may be empty.
        #[serde(default)]
        behind: String,
        /// What lies around it; may be empty.
        #[serde(default)]
        around: String,
    },
    /// States something of known length besides the poles; a new one where `reference` is left out.
    SetLength {
        /// Its id.
        reference: Option<String>,
        /// What it is; of one that is known already this stays as it was.
        kind: LengthKind,
        /// The fence whose width it is; the only one where it is left out, made where there is none.
        fence: Option<String>,
        /// Metres.
        length_m: f64,
        /// How it is known.
        known_by: KnownBy,
    },
    /// Takes it away with its marks.
    RemoveLength {
        /// Its id.
        reference: String,
    },
    /// Places an end of it.
    PlaceLengthEnd {
        /// Its id.
        reference: String,
        /// Which end.
        end: LengthEnd,
        /// Where.
        at: Click,
    },
    /// Places the end of a pole.
    PlacePoleEnd {
        /// Which pole.
        pole: u32,
        /// Which end.
        end: Side,
        /// Where.
        at: Click,
        /// Draw it to the pole's own edges where they can be found.
        snap: bool,
    },
    /// Places an end of a fence's base.
    PlaceBase {
        /// The fence's id; the only one where it is left out, made where there is none.
        fence: Option<String>,
        /// Which end.
        end: BaseEnd,
        /// Where.
        at: Click,
    },
    /// Places a hoof's contact; begins the approach where there is none.
    PlaceFootfall {
        /// The approach's id; the last one where it is left out.
        approach: Option<String>,
        /// Which limb.
        limb: LimbName,
        /// What it belongs to.
        event: EventName,
        /// Where.
        at: Click,
        /// The hoof was out of sight.
        hidden: bool,
    },
    /// Places a fixed point; a new one where `tie` is left out.
    PlaceTie {
        /// Its id.
        tie: Option<String>,
        /// Where.
        at: Click,
    },
    /// Moves a mark of a frame to another place of that frame.
    Move {
        /// Of what.
        spot: Spot,
        /// To where.
        at: Click,
    },
    /// Moves a mark by parts of a pixel.
    Nudge {
        /// Of what.
        spot: Spot,
        /// On which frame.
        frame: u32,
        /// Pixels to the right.
        dx: f64,
        /// Pixels down.
        dy: f64,
    },
    /// Removes a mark; a footfall goes with it.
    Remove {
        /// Of what.
        spot: Spot,
        /// On which frame.
        frame: u32,
    },
    /// Says of a footfall which limb it was.
    SetLimb {
        /// The footfall.
        spot: Spot,
        /// Which limb.
        limb: LimbName,
    },
    /// Says of a footfall what it belongs to.
    SetEvent {
        /// The footfall.
        spot: Spot,
        /// What.
        event: EventName,
    },
    /// Says of a footfall whether the hoof was out of sight.
    SetHidden {
        /// The footfall.
        spot: Spot,
        /// Whether.
        hidden: bool,
    },
    /// Moves a footfall to another frame, its place kept.
    SetFrame {
        /// The footfall.
        spot: Spot,
        /// Which frame.
        frame: u32,
    },
    /// States who, where and when.
    SetRound {
        /// All of it.
        about: RoundAbout,
    },
    /// States whether the phone turned with the horse.
    SetTurning {
        /// Whether.
        turning: bool,
    },
    /// States facts of an approach.
    SetApproach {
        /// Its id.
        approach: String,
        /// The lead, when it was seen.
        lead: Option<Side>,
        /// The frame of leaving the turn.
        left_turn_frame: Option<u32>,
        /// The note.
        note: String,
    },
    /// States the note on a stride; an empty text takes it away.
    SetStrideNote {
        /// The approach's id.
        approach: String,
        /// Its number: −1 is the last.
        stride: i32,
        /// The note.
        text: String,
    },
    /// Begins another approach to a fence.
    NewApproach {
        /// The fence's id.
        fence: String,
    },
    /// Takes the last change back.
    Undo,
    /// Makes it again.
    Redo,
}

/// A place on a frame.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct Click {
    /// The frame.
    pub frame: u32,
    /// Pixels from the picture's left edge.
    pub x: f64,
    /// Pixels from its top edge.
    pub y: f64,
}

/// Left or right, as the horse goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// Left.
    Left,
    /// Right.
    Right,
}

/// An end of a fence's base.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum BaseEnd {
    /// Left end on the take-off side.
    TakeOffLeft,
    /// Right end on the take-off side.
    TakeOffRight,
    /// Left end on the landing side.
    LandingLeft,
    /// Right end on the landing side.
    LandingRight,
}

/// Things of known length besides poles.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum LengthKind {
    /// Something upright on the ground, from foot to top.
    Upright,
    /// From one point on the ground to another.
    Distance,
    /// Between the ends of a fence's base.
    FenceWidth,
}

/// How a length is known, and so how far it may be off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum KnownBy {
    /// By tape: ± 0.01 m.
    Tape,
    /// By paces or by the rule book: ± 0.10 m.
    Paces,
    /// By eye: ± 0.20 m.
    Eye,
}

/// An end of something of known length.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum LengthEnd {
    /// Foot of an upright.
    Foot,
    /// Its top.
    Top,
    /// First point of a distance.
    From,
    /// Its second point.
    To,
}

/// A limb.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum LimbName {
    /// The hind that lands first.
    TrailingHind,
    /// The hind that lands with the trailing fore.
    LeadingHind,
    /// The fore that lands with the leading hind.
    TrailingFore,
    /// The fore that lands last.
    LeadingFore,
}

/// What a footfall belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum EventName {
    /// A stride towards the fence.
    Stride,
    /// The take-off.
    TakeOff,
    /// The landing.
    Landing,
    /// The first stride away.
    Away,
}

/// A kind of fence.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum FenceKindName {
    /// Rails one above the other.
    Vertical,
    /// Two rows of rails.
    Oxer,
    /// Two rails that cross.
    CrossRail,
    /// Three rising rows.
    TripleBar,
    /// A pole on the ground.
    GroundPole,
    /// Another kind.
    OtherKind,
}

/// The answer to a change that was made and saved.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct ActDone {
    /// The round as it is now on disk.
    pub round: super::round::RoundView,
    /// What was done, in words: "placed the left end of pole 2, drawn 1.3 px to its edges".
    pub said: String,
    /// The mark that was placed or moved, to be selected.
    pub selected: Option<Placed>,
}

/// A mark that was placed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct Placed {
    /// Of what.
    pub spot: Spot,
    /// On which frame.
    pub frame: u32,
}

/// A change that was not made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct Refused {
    /// What could not be done, what was found, what is needed.
    pub error: String,
    /// What to try.
    pub hint: Option<String>,
    /// The round as it is on disk, where somebody else changed it (status 409).
    pub round: Option<super::round::RoundView>,
}
