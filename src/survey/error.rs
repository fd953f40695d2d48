//! Why a survey is refused: in words that say what was found and what is needed.

use super::least_squares::SolveError;

/// Why marks could not be turned into metres.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SurveyError {
    /// Nothing of known size.
    #[error(
        "cannot measure: the marks file names no reference, so there is nothing to tell a metre by"
    )]
    NoReference,
    /// References without enough marks.
    #[error(
        "cannot measure: too few points of `{reference}` are marked ({found} found, {needed} needed)"
    )]
    TooFewReferenceMarks {
        /// The reference with the most marks.
        reference: String,
        /// How many of its points are marked.
        found: usize,
        /// How many are needed.
        needed: usize,
    },
    /// No camera fits the reference marks even roughly.
    #[error(
        "cannot measure: no camera fits the marks of `{reference}` (best fit is off by {off_px:.0} px)"
    )]
    NoCamera {
        /// The reference the camera was sought with.
        reference: String,
        /// Root mean square misfit of the best camera.
        off_px: f64,
    },
    /// The marks fit only a camera under the ground: a mirrored scene.
    #[error(
        "cannot measure: the marks of `{reference}` fit only a camera {depth_m:.1} m under the ground"
    )]
    UnderGround {
        /// The reference the camera was sought with.
        reference: String,
        /// How far under the ground, metres.
        depth_m: f64,
    },
    /// The geometry leaves something open.
    #[error("cannot measure: the marks leave {what} open")]
    Open {
        /// What is not determined.
        what: String,
    },
    /// Lengths would be too uncertain to mean anything.
    #[error(
        "cannot measure: lengths would be uncertain by {percent:.0} % (at most {most:.0} % makes sense); {reason}"
    )]
    TooUncertain {
        /// Half-width of the 95 % interval in per cent of the length.
        percent: f64,
        /// The most that is accepted.
        most: f64,
        /// Why, as far as it can be told.
        reason: String,
    },
    /// The adjustment did not settle.
    #[error("cannot measure: the adjustment did not settle in {iterations} steps")]
    NotSettled {
        /// Steps taken.
        iterations: usize,
    },
}

impl SurveyError {
    /// What to do about it.
    pub fn hint(&self) -> Option<String> {
        Some(match self {
            Self::NoReference => {
                "mark the ends of poles whose spacing and length you know, or a fence of known width"
                    .into()
            }
            Self::TooFewReferenceMarks { .. } => {
                "mark more ends; both ends of two poles are the least that measures well".into()
            }
            Self::NoCamera { .. } | Self::UnderGround { .. } => {
                "look whether left and right, or the order of the poles, were exchanged".into()
            }
            Self::Open { .. } => {
                "mark more fixed points: both ends of each pole, a tie on the ground".into()
            }
            Self::TooUncertain { .. } => {
                "mark references that lie nearer to the strides, farther apart, and not all on one line"
                    .into()
            }
            Self::NotSettled { .. } => "look for a mark on the wrong pole or frame".into(),
        })
    }

    pub(super) fn from_solver(error: SolveError, meaning: impl Fn(usize) -> String) -> Self {
        match error {
            SolveError::NoStart => Self::Open { what: "the camera's place".into() },
            SolveError::Undetermined { column } => Self::Open { what: meaning(column) },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_refusal_says_what_to_mark_or_look_at() {
        let reference = || "poles".to_owned();
        for (refused, hint) in [
            (SurveyError::NoReference, "mark the ends of poles"),
            (
                SurveyError::TooFewReferenceMarks { reference: reference(), found: 1, needed: 2 },
                "mark more ends",
            ),
            (SurveyError::NoCamera { reference: reference(), off_px: 9.0 }, "look whether left"),
            (
                SurveyError::UnderGround { reference: reference(), depth_m: 1.0 },
                "look whether left",
            ),
            (SurveyError::Open { what: "it".into() }, "mark more fixed points"),
            (
                SurveyError::TooUncertain { percent: 50.0, most: 40.0, reason: String::new() },
                "mark references that lie nearer",
            ),
            (SurveyError::NotSettled { iterations: 9 }, "look for a mark on the wrong"),
        ] {
            assert!(refused.hint().unwrap().starts_with(hint), "{refused}");
        }
    }

    #[test]
    fn what_the_solver_leaves_open_is_named() {
        let named = |error| SurveyError::from_solver(error, |column| format!("number {column}"));
        let open = named(SolveError::Undetermined { column: 7 });
        assert_eq!(open.to_string(), "cannot measure: the marks leave number 7 open");
        let start = named(SolveError::NoStart);
        assert_eq!(start.to_string(), "cannot measure: the marks leave the camera's place open");
    }
}
