//! Plans that cannot be made.

/// Why no place can be judged.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum StandError {
    /// A number is out of what makes sense.
    #[error("cannot plan where to stand: {what} is {found} ({least} to {most} needed)")]
    OutOfRange {
        /// What it is.
        what: &'static str,
        /// What was given, with its unit.
        found: String,
        /// The least.
        least: f64,
        /// The most.
        most: f64,
    },
    /// A range whose ends are exchanged.
    #[error("cannot plan where to stand: {what} runs from {low} to {high} (the smaller first)")]
    Reversed {
        /// Which.
        what: &'static str,
        /// Lower end as given.
        low: f64,
        /// Upper end as given.
        high: f64,
    },
    /// The marks file lacks something that a plan rests on.
    #[error("cannot plan from these marks: {what}")]
    Lacking {
        /// What is missing.
        what: String,
        /// What to do about it.
        hint: &'static str,
    },
}

impl StandError {
    /// What to do about it.
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::OutOfRange { what: "the phone's distance from the track", .. } => {
                Some("a phone is not put nearer to a cantering horse (common practice)".into())
            }
            Self::OutOfRange { .. } => None,
            Self::Reversed { .. } => Some("for example 6,25".into()),
            Self::Lacking { hint, .. } => Some((*hint).into()),
        }
    }
}
