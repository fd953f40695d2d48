//! placeholder until the footage helper's file is merged
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
/// zero-based
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(transparent)]
pub struct FrameNumber(pub u32);
/// ticks
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct FrameTime {
    pub ticks: i64,
    pub num: u32,
    pub den: u32,
}
impl FrameTime {
    pub fn seconds(self) -> f64 {
        self.ticks as f64 * f64::from(self.num) / f64::from(self.den)
    }
}
