//! Reasons to trust a comparison less, as data with a sentence.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A reason to trust a comparison less.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "doubt", rename_all = "snake_case")]
pub enum WeeksDoubt {
    /// Rounds without a date stand last, in the order of their files' names.
    Undated {
        /// How many approaches.
        approaches: usize,
        /// Of how many.
        of: usize,
    },
    /// The fence has no name in some files; its id was taken for one.
    UnnamedFence {
        /// The id.
        id: String,
        /// In how many approaches.
        approaches: usize,
    },
    /// Approaches of several horses stand in one group.
    SeveralHorses {
        /// Their names; `""` for rounds that name none.
        horses: Vec<String>,
    },
    /// Approaches of several riders stand in one group.
    SeveralRiders {
        /// Their names; `""` for rounds that name none.
        riders: Vec<String>,
    },
    /// Approaches to several fences stand in one group.
    SeveralFences {
        /// What they are called.
        fences: Vec<String>,
    },
    /// Fences of one name that do not ask the same.
    AsksDiffer {
        /// What differs: its name, then what was stated.
        what: Vec<(String, Vec<String>)>,
    },
    /// First and last have another number of strides.
    StrideCountsDiffer {
        /// Strides with a length in the first.
        first: usize,
        /// And in the last.
        last: usize,
    },
}

impl WeeksDoubt {
    /// The doubt in a sentence for the coach. `names` says whether horses and riders may be named.
    pub fn sentence(&self, names: bool) -> String {
        match self {
            Self::Undated { approaches, of } => format!(
                "{approaches} of {of} approaches {} no date: they stand last, in the order of \
                 their files' names, which may not be the order ridden",
                if *approaches == 1 { "has" } else { "have" }
            ),
            Self::UnnamedFence { id, approaches } => format!(
                "the fence has no name in the marks of {approaches} approach{}, only the id \
                 `{id}`: it may not be the same fence each time",
                if *approaches == 1 { "" } else { "es" }
            ),
            Self::SeveralHorses { horses } => {
                format!("different horses stand in one comparison{}", listed(horses, names))
            }
            Self::SeveralRiders { riders } => {
                format!("different riders stand in one comparison{}", listed(riders, names))
            }
            Self::SeveralFences { fences } => {
                format!("different fences stand in one comparison{}", listed(fences, true))
            }
            Self::AsksDiffer { what } => {
                let what =
                    what.iter().map(|(name, stated)| format!("{name}{}", listed(stated, true)));
                let what: Vec<String> = what.collect();
                format!("what the fence asks is not the same each time: {}", what.join(", "))
            }
            Self::StrideCountsDiffer { first, last } => format!(
                "the first approach has {first} measured strides and the last {last}: mean and \
                 levelness are not of the same strides"
            ),
        }
    }
}

/// The most names a sentence lists.
const LISTED: usize = 6;

fn listed(all: &[String], names: bool) -> String {
    if !names {
        return format!(" ({})", all.len());
    }
    let shown = all.iter().take(LISTED);
    let mut shown: Vec<&str> =
        shown.map(|name| if name.is_empty() { "not named" } else { name }).collect();
    let more = format!("{} more", all.len().saturating_sub(LISTED));
    if all.len() > LISTED {
        shown.push(&more);
    }
    format!(" ({})", shown.join(", "))
}
