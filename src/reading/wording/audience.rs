//! Who is told.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Who reads the sentences.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Audience {
    /// The coach: the numbers in her terms.
    #[default]
    Coach,
    /// The rider, who is spoken to.
    Rider,
}
