//! What the fence asks: its build and where it stands, as stated.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::marks::{Fence, FenceKind, Round};

/// What is stated of a fence and the ground before it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FenceAsks {
    /// Its build.
    pub kind: FenceKind,
    /// Height of the highest rail, metres.
    pub height_m: Option<f64>,
    /// Front base to back base, metres.
    pub spread_m: Option<f64>,
    /// What lies behind it; may be empty.
    pub behind: String,
    /// What lies around it; may be empty.
    pub around: String,
    /// Rise towards the fence, per cent; downhill is negative.
    pub slope_percent: Option<f64>,
    /// The going; may be empty.
    pub surface: String,
}

impl FenceAsks {
    /// As stated in the marks.
    pub fn of(fence: &Fence, round: &Round) -> Self {
        Self {
            kind: fence.kind,
            height_m: fence.height_m,
            spread_m: fence.spread_m,
            behind: words(&fence.behind),
            around: words(&fence.around),
            slope_percent: round.slope_percent,
            surface: words(&round.surface),
        }
    }
}

/// What was written, as part of a sentence.
fn words(text: &str) -> String {
    text.trim().trim_end_matches('.').to_owned()
}
