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
    /// A stride is more than half as long again as the median: a footfall may be missing.
    MaybeMissed {
        /// The stride.
        stride: i32,
    },
}

impl StrideDoubt {
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
            Self::OneBaseEnd { take_off_side } => format!(
                "only one end of the {} is marked: it was taken as square to the track",
                if *take_off_side { "ground line" } else { "far base" }
            ),
            Self::SpreadTaken { spread_m } => format!(
                "the far base is not marked: it was put the stated spread of {spread_m:.2} m \
                 behind the ground line"
            ),
            Self::Hidden { footfall } => format!(
                "footfall `{footfall}` was not seen, or its mark was left out: the strides on \
                 either side have no length"
            ),
            Self::MaybeMissed { stride } => format!(
                "stride {stride} is half as long again as the others: a footfall between may be \
                 unmarked"
            )
            .replace("stride -", "stride \u{2212}"),
        }
    }
}
