//! Reasons to trust one approach's numbers less, as data with a sentence.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::marks::Limb;

/// A reason to trust an approach's numbers less.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "doubt", rename_all = "snake_case")]
pub enum StrideDoubt {
    /// No take-off hind was marked, so strides count back from the last contact marked.
    NoTakeOff,
    /// The take-off was marked for the other hind only, so stride −1 has no end.
    LastStrideOpen {
        /// The limb that delimits the strides.
        reference_limb: Limb,
    },
    /// No fore was marked at landing.
    NoLanding,
    /// The fore that landed first was not seen, so landing is that of the other.
    FirstForeUnseen {
        /// The limb that landing is measured from.
        measured: Limb,
    },
    /// One hind of the take-off was not seen, so take-off is that of the other.
    TakeOffHindUnseen {
        /// The limb that take-off is measured from.
        measured: Limb,
    },
    /// The base of the fence was not marked on one side.
    NoBase {
        /// Whether it is the take-off side that lacks.
        take_off_side: bool,
    },
    /// Left and right end of a base were marked for each other; they were read exchanged.
    BaseEndsExchanged {
        /// Whether on the take-off side.
        take_off_side: bool,
    },
    /// Only one end of a base was marked: it was taken as square to the track.
    OneBaseEnd {
        /// Whether on the take-off side.
        take_off_side: bool,
    },
    /// The far base was not marked: it was put the stated spread behind the ground line.
    SpreadTaken {
        /// The stated spread, metres.
        spread_m: f64,
    },
    /// A footfall was not seen.
    Hidden {
        /// Its id.
        footfall: String,
    },
    /// A stride lasted more than half as long again as the median: a footfall may be missing.
    MaybeMissed {
        /// The stride.
        stride: i32,
    },
    /// A stride lasted far less than the median: a wrong limb or frame.
    TooBrief {
        /// The stride.
        stride: i32,
        /// Its duration, seconds.
        duration_s: f64,
        /// The median, seconds.
        median_s: f64,
    },
    /// The speed jumps from one stride to the next as no horse's does: a hoof out of place.
    SpeedJumps {
        /// The first of the two strides.
        stride: i32,
        /// Its speed, m/s.
        from_m_per_s: f64,
        /// Speed of the next, m/s.
        to_m_per_s: f64,
    },
    /// The tempo is none of a canter: the capture rate may be stated wrongly.
    TempoDoubtful {
        /// Strides a minute.
        strides_per_min: f64,
    },
}

impl StrideDoubt {
    /// Whether it is only that something is not marked yet: a mark more and it is gone.
    pub fn is_unfinished(&self) -> bool {
        matches!(
            self,
            Self::NoTakeOff
                | Self::LastStrideOpen { .. }
                | Self::NoLanding
                | Self::NoBase { .. }
                | Self::OneBaseEnd { .. }
        )
    }

    /// The doubt in a sentence for the coach.
    pub fn sentence(&self) -> String {
        match self {
            Self::NoTakeOff => "no take-off hind is marked: there is no take-off distance, and \
                                strides count back from the last contact marked"
                .into(),
            Self::LastStrideOpen { reference_limb } => format!(
                "the take-off is not marked for the {}, which delimits the strides: stride −1 \
                 has no length",
                reference_limb.words()
            ),
            Self::NoLanding => {
                "no fore hoof is marked at landing: there is no landing distance".into()
            }
            Self::FirstForeUnseen { measured } => format!(
                "the fore that landed first was not seen: landing is measured from the {}, which \
                 came down after it and farther on",
                measured.words()
            ),
            Self::TakeOffHindUnseen { measured } => format!(
                "one hind of the take-off was not seen: take-off is measured from the {}; the \
                 other may have stood nearer to the fence",
                measured.words()
            ),
            Self::NoBase { take_off_side: true } => {
                "the ground line is not marked: there is no take-off distance".into()
            }
            Self::NoBase { take_off_side: false } => {
                "the far base is not marked and no spread is stated: there is no landing distance"
                    .into()
            }
            Self::BaseEndsExchanged { take_off_side } => format!(
                "left and right end of the {} were marked for each other: they were read exchanged",
                if *take_off_side { "ground line" } else { "far base" }
            ),
            Self::OneBaseEnd { take_off_side } => format!(
                "only one end of the {} is marked: it was taken as square to the track",
                if *take_off_side { "ground line" } else { "far base" }
            ),
            Self::SpreadTaken { spread_m } => format!(
                "the far base is not marked: it was put the stated spread of {spread_m:.2} m \
                 behind the ground line"
            ),
            Self::Hidden { footfall } => format!(
                "footfall `{footfall}` was not seen, or its mark was left out: strides that begin \
                 or end with it have no length"
            ),
            Self::TooBrief { stride, duration_s, median_s } => format!(
                "stride {} lasted {duration_s:.2} s, the others about {median_s:.2} s: one of its \
                 footfalls may be marked on the wrong frame or as the wrong limb",
                signed(*stride)
            ),
            Self::SpeedJumps { stride, from_m_per_s, to_m_per_s } => format!(
                "the speed jumps from {from_m_per_s:.1} to {to_m_per_s:.1} m/s between strides {} \
                 and {}: the hoof between them may be marked in the wrong place",
                signed(*stride),
                signed(*stride + 1)
            ),
            Self::TempoDoubtful { strides_per_min } => format!(
                "{strides_per_min:.0} strides a minute is none of a canter: check the capture rate \
                 of a slow-motion clip, and the limbs marked"
            ),
            Self::MaybeMissed { stride } => format!(
                "stride {} lasted half as long again as the others: a footfall between may be \
                 unmarked",
                signed(*stride)
            ),
        }
    }
}

/// A stride's number with a true minus.
fn signed(stride: i32) -> String {
    stride.to_string().replace('-', "\u{2212}")
}
