//! Yes, no, or cannot tell.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// An answer with its probability.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "answer", rename_all = "snake_case")]
pub enum Answer {
    /// At least as probable as the setting `sure` asks for.
    Yes {
        /// Share of the draws, 0 to 1.
        probability: f64,
    },
    /// The contrary is.
    No {
        /// Share of the draws that say yes, 0 to 1.
        probability: f64,
    },
    /// Neither is.
    CannotTell {
        /// Share of the draws that say yes, 0 to 1.
        probability: f64,
    },
    /// It was not measured.
    Lacks {
        /// What is wanting.
        lack: Lack,
    },
}

/// What is wanting for an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Lack {
    /// Enough strides with a length.
    Strides,
    /// The take-off distance.
    TakeOff,
}

impl Answer {
    /// The answer of draws that each say yes or no; `None` without a draw.
    pub(super) fn of(draws: impl Iterator<Item = bool>, sure: f64) -> Option<Self> {
        let (mut yes, mut all) = (0_usize, 0_usize);
        for said in draws {
            yes += usize::from(said);
            all += 1;
        }
        (all > 0).then(|| Self::at(yes as f64 / all as f64, sure))
    }

    /// The answer at a probability.
    pub(super) fn at(probability: f64, sure: f64) -> Self {
        if probability >= sure {
            Self::Yes { probability }
        } else if probability <= 1.0 - sure {
            Self::No { probability }
        } else {
            Self::CannotTell { probability }
        }
    }

    /// Probability of yes, 0 to 1; `None` where it was not measured.
    pub fn probability(&self) -> Option<f64> {
        match self {
            Self::Yes { probability }
            | Self::No { probability }
            | Self::CannotTell { probability } => Some(*probability),
            Self::Lacks { .. } => None,
        }
    }

    /// Whether it is yes.
    pub fn is_yes(&self) -> bool {
        matches!(self, Self::Yes { .. })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_answer_is_as_sure_as_asked() {
        let of = |yes: usize| Answer::of((0..20).map(|draw| draw < yes), 0.95).unwrap();
        assert_eq!(of(19), Answer::Yes { probability: 0.95 });
        assert_eq!(of(18), Answer::CannotTell { probability: 0.9 });
        assert!(matches!(of(2), Answer::CannotTell { .. }));
        assert!(matches!(of(0), Answer::No { .. }));
        assert_eq!(Answer::of(std::iter::empty(), 0.95), None);
    }
}
