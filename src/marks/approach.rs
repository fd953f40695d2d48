//! The approach to one fence: footfalls, take-off, landing, notes.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::mark::Mark;
use crate::quantity::FrameNumber;

/// One approach to one fence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Approach {
    /// A name of its own within the file.
    pub id: String,
    /// The fence's id.
    pub fence: String,
    /// The canter lead, if seen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lead: Option<Lead>,
    /// The limb whose contacts delimit the strides; without it, the take-off hind is taken.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reference_limb: Option<Limb>,
    /// The frame in which the horse left the turn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left_turn_frame: Option<FrameNumber>,
    /// Contacts in any order; they are ordered by time.
    #[serde(default)]
    pub footfalls: Vec<Footfall>,
    /// Notes on single strides.
    #[serde(default)]
    pub stride_notes: Vec<StrideNote>,
    /// A note on the whole approach.
    #[serde(default)]
    pub note: String,
    /// Keys of other versions, kept as they are.
    #[serde(flatten)]
    pub other: Map<String, Value>,
}

/// One limb's first contact with the ground.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Footfall {
    /// A name of its own within the approach.
    pub id: String,
    /// Which limb.
    pub limb: Limb,
    /// What it belongs to.
    #[serde(default)]
    pub event: Event,
    /// The frame of first contact and the place where the hoof meets the ground.
    pub mark: Mark,
    /// The place was not seen (behind a wing, say): x and y are not used, the footfall keeps its
    /// turn in the count of strides, and the strides on either side carry no length.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub hidden: bool,
    /// Keys of other versions, kept as they are.
    #[serde(flatten)]
    pub other: Map<String, Value>,
}

/// What a footfall belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Event {
    /// A stride of the approach.
    #[default]
    Stride,
    /// The last hind contact before the fence; at most one a hind limb.
    TakeOff,
    /// The first fore contact after it; at most one a fore limb.
    Landing,
    /// A stride after landing.
    Away,
}

/// The four limbs as the canter names them.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Limb {
    /// First beat of the canter.
    TrailingHind,
    /// Second beat, with the trailing fore.
    LeadingHind,
    /// Second beat, with the leading hind.
    TrailingFore,
    /// Third beat.
    LeadingFore,
}

/// Which pair of limbs leads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Lead {
    /// Left lead.
    Left,
    /// Right lead.
    Right,
}

/// A note on one stride.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct StrideNote {
    /// Counted back from the fence: −1 is the last.
    pub stride: i32,
    /// The note.
    pub text: String,
    /// Keys of other versions, kept as they are.
    #[serde(flatten)]
    pub other: Map<String, Value>,
}

impl StrideNote {
    /// A note on stride `stride`.
    pub fn new(stride: i32, text: impl Into<String>) -> Self {
        Self { stride, text: text.into(), other: Map::new() }
    }
}

impl Approach {
    /// An approach to `fence`, not marked yet.
    pub fn new(id: impl Into<String>, fence: impl Into<String>) -> Self {
        Self {
            id: id.into(),
            fence: fence.into(),
            lead: None,
            reference_limb: None,
            left_turn_frame: None,
            footfalls: Vec::new(),
            stride_notes: Vec::new(),
            note: String::new(),
            other: Map::new(),
        }
    }
}

impl Approach {
    /// How often `limb` meets the ground up to the take-off, as far as marked.
    pub fn contacts(&self, limb: Limb) -> usize {
        let counts = |event| matches!(event, Event::Stride | Event::TakeOff);
        self.footfalls.iter().filter(|f| f.limb == limb && counts(f.event)).count()
    }

    /// The most strides that can be counted from what is marked, whichever limb delimits them.
    pub(super) fn most_strides(&self) -> usize {
        let taken_off = |limb: Limb| {
            let mut footfalls = self.footfalls.iter();
            footfalls.any(|f| f.event == Event::TakeOff && f.limb == limb)
        };
        let any_take_off = Limb::ALL.into_iter().any(taken_off);
        let strides = Limb::ALL.into_iter().map(|limb| {
            // A stride up to a take-off by the other hind has a number, and no length.
            let open = any_take_off && !taken_off(limb);
            (self.contacts(limb) + usize::from(open)).saturating_sub(1)
        });
        strides.max().unwrap_or(0)
    }
}

impl Footfall {
    /// A seen contact of `limb`.
    pub fn new(id: impl Into<String>, limb: Limb, event: Event, mark: Mark) -> Self {
        Self { id: id.into(), limb, event, mark, hidden: false, other: Map::new() }
    }
}

impl Event {
    /// Its name in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Stride => "stride",
            Self::TakeOff => "take-off",
            Self::Landing => "landing",
            Self::Away => "stride away",
        }
    }
}

impl Lead {
    /// Its name in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }
}

impl Limb {
    /// In the order of the canter's beats.
    pub const ALL: [Self; 4] =
        [Self::TrailingHind, Self::LeadingHind, Self::TrailingFore, Self::LeadingFore];

    /// Whether it is a hind limb.
    pub fn is_hind(self) -> bool {
        matches!(self, Self::TrailingHind | Self::LeadingHind)
    }

    /// Whether it leads.
    pub fn is_leading(self) -> bool {
        matches!(self, Self::LeadingHind | Self::LeadingFore)
    }

    /// Its name in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::TrailingHind => "trailing hind",
            Self::LeadingHind => "leading hind",
            Self::TrailingFore => "trailing fore",
            Self::LeadingFore => "leading fore",
        }
    }
}
