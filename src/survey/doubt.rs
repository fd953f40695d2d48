//! Reasons to trust a survey less, as data with a sentence.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::unknowns::Meaning;
use crate::quantity::{FrameNumber, Given};

/// A reason to trust a survey less.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "doubt", rename_all = "snake_case")]
pub enum SurveyDoubt {
    /// All marked points of the reference lie on one line.
    ReferencesOnOneLine {
        /// The reference.
        reference: String,
    },
    /// A frame shares too few fixed points with the others.
    FrameNotJoined {
        /// The frame; its marks are not used.
        frame: FrameNumber,
    },
    /// Left and right ends were marked for each other; they were read exchanged.
    EndsExchanged {
        /// The reference.
        reference: String,
        /// Which pole; `None` for all of them.
        pole: Option<u32>,
    },
    /// A pole does not lie where its spacing says.
    PoleOutOfPlace {
        /// The reference.
        reference: String,
        /// Which pole; 1 is the first.
        pole: u32,
        /// How far it lies along the way the horse goes from where it should, metres.
        shift_m: f64,
    },
    /// The stated spacing does not agree with the poles' length and the rest.
    SpacingDoubtful {
        /// The reference.
        reference: String,
        /// The marks make the spacing this many per cent larger than stated.
        percent: f64,
    },
    /// A stated length does not agree with the rest.
    LengthDoubtful {
        /// The reference.
        reference: String,
    },
    /// The camera is not where it was said to be.
    CameraHeightDoubtful {
        /// Height stated, metres.
        stated_m: f64,
        /// Height found, metres.
        found_m: f64,
    },
    /// The lens is not what it was said to be.
    FocalLengthDoubtful {
        /// Found over stated.
        ratio: f64,
    },
    /// The track bends.
    TrackBends {
        /// The approach.
        approach: String,
    },
    /// The camera was said to be fixed and its picture wandered.
    CameraMoved {
        /// How far, pixels.
        moved_px: f64,
    },
    /// The background by which the camera was followed does not hold together.
    BackgroundRough {
        /// Median misfit of its points, pixels.
        median_px: f64,
    },
    /// The marks as a whole fit worse than their stated errors allow.
    MarksFitBadly {
        /// Misfit over stated error.
        ratio: f64,
    },
}

impl SurveyDoubt {
    /// The doubt about a prior that does not fit.
    pub(super) fn of_prior(meaning: Meaning, belief: Given, found: f64) -> Option<Self> {
        match meaning {
            Meaning::Plain => None,
            Meaning::Focal => {
                Some(Self::FocalLengthDoubtful { ratio: (found - belief.value).exp() })
            }
            Meaning::CameraHeight => {
                Some(Self::CameraHeightDoubtful { stated_m: belief.value, found_m: found })
            }
            Meaning::Spacing { reference } => {
                Some(Self::SpacingDoubtful { reference, percent: 100.0 * found })
            }
            Meaning::PoleShift { reference, pole } => {
                Some(Self::PoleOutOfPlace { reference, pole, shift_m: found })
            }
            Meaning::StatedLength { reference } => Some(Self::LengthDoubtful { reference }),
        }
    }

    /// The doubt in a sentence for the coach.
    pub fn sentence(&self) -> String {
        match self {
            Self::ReferencesOnOneLine { reference } => format!(
                "all marked points of `{reference}` lie on one line: lengths across it rest on the \
                 camera's height alone; mark the other ends too"
            ),
            Self::FrameNotJoined { frame } => format!(
                "frame {} shares too few fixed points with the others: its marks are not used; \
                 add ties there",
                frame.0
            ),
            Self::EndsExchanged { reference, pole: Some(pole) } => format!(
                "left and right end of pole {pole} of `{reference}` were marked for each other: \
                 they were read exchanged, and fit so"
            ),
            Self::EndsExchanged { reference, pole: None } => format!(
                "left and right ends of all poles of `{reference}` were marked for each other, or \
                 its poles were numbered from the fence: they were read exchanged, and fit so; left \
                 and right are those of the way the horse goes"
            ),
            Self::PoleOutOfPlace { reference, pole, shift_m } => format!(
                "pole {pole} of `{reference}` lies {:.2} m {} where its spacing says: it was \
                 measured without its spacing",
                shift_m.abs(),
                if *shift_m > 0.0 { "beyond" } else { "short of" }
            ),
            Self::SpacingDoubtful { reference, percent } => format!(
                "the spacing of `{reference}` looks {:.0} % {} than stated, judged by the other \
                 known lengths: check both; the spacing was not believed",
                percent.abs(),
                if *percent > 0.0 { "larger" } else { "smaller" }
            ),
            Self::LengthDoubtful { reference } => format!(
                "a stated length of `{reference}` does not agree with the rest: check it; it was \
                 not believed"
            ),
            Self::CameraHeightDoubtful { stated_m, found_m } => format!(
                "the camera seems to have been {found_m:.1} m above the ground, not {stated_m:.1} m: \
                 the marks were believed"
            ),
            Self::FocalLengthDoubtful { ratio } => format!(
                "the lens seems {ratio:.2} times as long as stated: the marks were believed"
            ),
            Self::TrackBends { approach } => {
                format!(
                    "the track of approach `{approach}` bends: it was not taken as straight; where \
                     the horse went straight, the camera was moved or the ground is not flat"
                )
            }
            Self::CameraMoved { moved_px } => format!(
                "the camera was said to stand still, and the picture of the background wandered by \
                 {moved_px:.0} px: state that it turned, or every length is wrong"
            ),
            Self::BackgroundRough { median_px } => format!(
                "the background by which the camera was followed fits only to {median_px:.1} px: \
                 much of it moves, or the phone's own stabilisation bends the picture"
            ),
            Self::MarksFitBadly { ratio } => format!(
                "the marks fit {ratio:.1} times worse than their stated errors allow: the camera \
                 may have moved, the ground may not be flat, or the marks are rougher than said; \
                 the ± are too small"
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_belief_that_does_not_fit_is_told_as_what_it_is() {
        let of = |meaning, value, found| {
            let doubt = SurveyDoubt::of_prior(meaning, Given::new(value, 0.1), found)?;
            Some(doubt.sentence())
        };
        let poles = || "poles".to_owned();
        assert_eq!(of(Meaning::Plain, 0.0, 1.0), None);
        // A logarithm 0.0953 larger is a lens 1.10 times as long.
        let focal = of(Meaning::Focal, 7.0, 7.095_31).unwrap();
        assert!(focal.contains("1.10 times as long"), "{focal}");
        let height = of(Meaning::CameraHeight, 1.6, 2.3).unwrap();
        assert!(height.contains("2.3 m above the ground, not 1.6 m"), "{height}");
        let spacing = |found| of(Meaning::Spacing { reference: poles() }, 0.0, found).unwrap();
        assert!(spacing(0.08).contains("`poles` looks 8 % larger"), "{}", spacing(0.08));
        assert!(spacing(-0.08).contains("`poles` looks 8 % smaller"));
        let pole =
            |found| of(Meaning::PoleShift { reference: poles(), pole: 3 }, 0.0, found).unwrap();
        assert!(pole(0.4).contains("pole 3 of `poles` lies 0.40 m beyond"), "{}", pole(0.4));
        assert!(pole(-0.4).contains("pole 3 of `poles` lies 0.40 m short of"));
        let length = of(Meaning::StatedLength { reference: poles() }, 3.5, 3.9).unwrap();
        assert!(length.contains("a stated length of `poles`"), "{length}");
    }
}
