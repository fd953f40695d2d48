//! A number somebody stated, with the standard deviation they grant it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A stated value and its standard deviation, in the unit that the field's name carries
/// (`spacing_m`, `height_m`, …). A taped length has an sd near 0.01 m, a paced one near 0.10 m.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Given {
    /// The stated value.
    pub value: f64,
    /// Its standard deviation; 0 means "exactly".
    pub sd: f64,
}

impl Given {
    /// `value` give or take `sd`.
    pub const fn new(value: f64, sd: f64) -> Self {
        Self { value, sd }
    }
}
