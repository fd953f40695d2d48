//! One breach of a rule: whose it is and what is wrong, as data and as a sentence.

use serde::Serialize;

use crate::marks::address::MarkAddress;
use crate::marks::approach::{Event, Limb};
use crate::quantity::FrameNumber;

/// One rule that the file breaks.
#[derive(Clone, Debug, PartialEq, Serialize, thiserror::Error)]
#[error("{subject}: {rule}")]
pub struct RuleBreach {
    /// Whose breach it is.
    pub subject: Subject,
    /// The rule, with what was found and what is needed.
    pub rule: Rule,
}

/// What a breach is about.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Subject {
    /// The file as a whole.
    File,
    /// What it remembers of the clip.
    Clip,
    /// A frame whose time it remembers.
    KnownFrame(FrameNumber),
    /// The round.
    Round,
    /// The beliefs about the camera.
    Camera,
    /// The reference of that id.
    Reference(String),
    /// The tie of that id.
    Tie(String),
    /// The fence of that id.
    Fence(String),
    /// The approach of that id.
    Approach(String),
    /// A place that can carry marks.
    Place(MarkAddress),
    /// One mark.
    Mark {
        /// Whose mark.
        place: MarkAddress,
        /// On which frame.
        frame: FrameNumber,
    },
}

/// What can be wrong.
#[derive(Clone, Debug, PartialEq, Serialize, thiserror::Error)]
#[serde(tag = "rule", rename_all = "snake_case")]
pub enum Rule {
    /// Not the version this program knows.
    #[error("the version is {found} ({needed} needed)")]
    Version {
        /// What the file says.
        found: u32,
        /// What this program knows.
        needed: u32,
    },
    /// An id that cannot be typed or addressed.
    #[error("its id is not usable (1 to 60 characters needed, none of them `/` or a line break)")]
    UnfitId,
    /// Two things of one kind share an id.
    #[error("its id is used twice (each needs its own)")]
    IdTwice,
    /// The same place is listed twice.
    #[error("it is listed twice (once needed)")]
    ListedTwice,
    /// A text that must not be empty.
    #[error("the {what} is empty")]
    Empty {
        /// Which text.
        what: &'static str,
    },
    /// Something that is not a BLAKE3 hash.
    #[error("the hash of its file is not one (64 hexadecimal digits needed)")]
    NotAHash,
    /// Something that is not a calendar date.
    #[error("the date is `{found}` (a day of the calendar as YYYY-MM-DD needed)")]
    NotADate {
        /// What the file says.
        found: String,
    },
    /// A number outside its bounds, or not a number at all.
    #[error("the {what} is {found}{} ({low} to {high}{} needed)", spaced(unit), spaced(unit))]
    OutOfRange {
        /// Which number.
        what: &'static str,
        /// What the file says.
        found: f64,
        /// Smallest allowed.
        low: f64,
        /// Largest allowed.
        high: f64,
        /// Unit of all three.
        unit: &'static str,
    },
    /// A standard deviation that is negative, not a number, or as large as its value.
    #[error("the sd of the {what} is {sd} (0 or more and less than {below} needed)")]
    SdOutOfRange {
        /// Of which number.
        what: &'static str,
        /// What the file says.
        sd: f64,
        /// What it must stay under.
        below: f64,
    },
    /// Two marks of one place on one frame.
    #[error("it is marked {count} times on this frame (once needed)")]
    TwiceOnFrame {
        /// How many marks.
        count: usize,
    },
    /// A mark that is not on the picture.
    #[error("it lies at ({}, {}), outside the picture of {width} × {height} px", hundredths(*x), hundredths(*y))]
    OutsidePicture {
        /// Pixels to the right.
        x: f64,
        /// Pixels down.
        y: f64,
        /// Of the picture.
        width: u32,
        /// Of the picture.
        height: u32,
    },
    /// A frame that the clip does not have.
    #[error("frame {frame} is not in the clip (frames 0 to {last})")]
    OutsideClip {
        /// The frame.
        frame: u32,
        /// The clip's last.
        last: u32,
    },
    /// A marked frame whose time is not known.
    #[error("the time of this frame is not known (an entry in `clip.frames` needed)")]
    TimeUnknown,
    /// Times that do not grow with the frame numbers.
    #[error("its time is not later than that of frame {earlier}")]
    TimeOrder {
        /// The frame before it in the list.
        earlier: u32,
    },
    /// A fence that is not in the file.
    #[error("it names fence `{fence}`, which is not in the file")]
    NoSuchFence {
        /// The id it names.
        fence: String,
    },
    /// A pole number outside the reference's count.
    #[error("the reference has {}", poles_words(*count))]
    NoSuchPole {
        /// How many there are.
        count: u32,
    },
    /// A take-off by a fore limb or a landing by a hind limb.
    #[error("a {} cannot be by the {} (a {} limb needed)", event.words(), limb.words(), if *event == Event::TakeOff { "hind" } else { "fore" })]
    WrongLimb {
        /// The event.
        event: Event,
        /// The limb it was given.
        limb: Limb,
    },
    /// Two take-offs or landings by one limb.
    #[error("it is a second {} by the {} (one needed)", event.words(), limb.words())]
    EventTwice {
        /// The event.
        event: Event,
        /// The limb.
        limb: Limb,
    },
    /// One limb twice on one frame.
    #[error("the {} meets the ground twice on this frame", limb.words())]
    LimbTwiceOnFrame {
        /// The limb.
        limb: Limb,
    },
    /// Footfalls in an order no horse can do.
    #[error("a {} comes after the {} on frame {later} (it must come before)", event.words(), after.words())]
    EventOrder {
        /// The event that is too late.
        event: Event,
        /// What it must come before.
        after: Event,
        /// The frame of that.
        later: u32,
    },
    /// Leaving the turn after taking off.
    #[error("the turn is left on frame {turn}, after the take-off on frame {take_off}")]
    TurnAfterTakeOff {
        /// Frame of leaving the turn.
        turn: u32,
        /// Frame of the first take-off contact.
        take_off: u32,
    },
    /// A note on a stride that is not counted back from the fence.
    #[error("a note is on stride {stride} (−1 for the last before the fence, −2, … needed)")]
    NoteOnNoStride {
        /// The number it names.
        stride: i32,
    },
    /// Two notes on one stride.
    #[error("stride {stride} has two notes (one needed)")]
    NoteTwice {
        /// The stride.
        stride: i32,
    },
}

/// Rounded to a hundredth of a pixel: files of other programs carry a dozen digits.
fn hundredths(pixels: f64) -> f64 {
    (100.0 * pixels).round() / 100.0
}

fn poles_words(count: u32) -> String {
    match count {
        0 => "no poles".to_owned(),
        1 => "only pole 1".to_owned(),
        count => format!("only poles 1 to {count}"),
    }
}

fn spaced(unit: &str) -> String {
    if unit.is_empty() || unit == "°" { unit.to_owned() } else { format!(" {unit}") }
}

impl std::fmt::Display for Subject {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::File => write!(out, "the file"),
            Self::Clip => write!(out, "the clip"),
            Self::KnownFrame(frame) => write!(out, "frame {} of the clip", frame.0),
            Self::Round => write!(out, "the round"),
            Self::Camera => write!(out, "the camera"),
            Self::Reference(id) => write!(out, "reference `{id}`"),
            Self::Tie(id) => write!(out, "tie `{id}`"),
            Self::Fence(id) => write!(out, "fence `{id}`"),
            Self::Approach(id) => write!(out, "approach `{id}`"),
            Self::Place(place) => write!(out, "{place}"),
            Self::Mark { place, frame } => write!(out, "{place} on frame {}", frame.0),
        }
    }
}
