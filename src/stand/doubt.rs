//! Reasons to trust an expectation less, as data with a sentence.

use schemars::JsonSchema;
use serde::Serialize;

use super::phone::Phone;
use crate::quantity::{LengthUnits, Metres, Unit, written_held, written_place};
use crate::survey::SurveyDoubt;

/// A reason to trust an expectation less.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "doubt", rename_all = "snake_case")]
pub enum StandDoubt {
    /// A turning phone was reckoned without the background being followed.
    NotFollowed,
    /// Nothing can be measured from there.
    NotMeasurable {
        /// Why.
        reason: String,
        /// What to do about it.
        hint: String,
    },
    /// What the survey says of such marks.
    Survey {
        /// The doubt.
        of_survey: SurveyDoubt,
    },
    /// The clip was filmed from nearer than is safe.
    TooNear {
        /// How far away, metres.
        distance_m: f64,
        /// The least, metres.
        least_m: f64,
    },
    /// Only the first poles of a marks file were taken.
    OtherLengths {
        /// Known lengths that were left aside.
        references: usize,
    },
    /// The fence of the marks file does not stand square to the track.
    FenceAskew {
        /// By how much, degrees.
        degrees: f64,
    },
}

impl StandDoubt {
    /// That of the phone itself.
    pub(super) fn of_phone(phone: &Phone) -> Option<Self> {
        phone.turns().then_some(Self::NotFollowed)
    }

    /// The doubt in a sentence for the coach.
    pub fn sentence(&self, units: LengthUnits) -> String {
        match self {
            Self::NotFollowed => {
                "for a phone that turns with the horse this is reckoned from poles \
                                  and fence alone, every one in view marked at every contact; with \
                                  the background followed the ± is often smaller, with fewer marks \
                                  larger"
                    .into()
            }
            Self::NotMeasurable { reason, hint } => {
                let reason = reason.strip_prefix("cannot measure: ").unwrap_or(reason);
                format!("from there nothing could be measured: {reason}; {hint}")
            }
            Self::Survey { of_survey } => of_survey.sentence(),
            Self::TooNear { distance_m, least_m } => format!(
                "that clip was filmed {} from the track: stand {} away at least",
                written_held(Metres::new(*distance_m), units),
                written_place(Metres::new(*least_m), units)
            ),
            Self::OtherLengths { references } => format!(
                "{references} more known lengths of the marks file are not counted here; they make \
                 the ± smaller"
            ),
            Self::FenceAskew { degrees } => format!(
                "the fence stood {degrees:.0}° off square to the track; here it is taken as square"
            ),
        }
    }
}
