//! Invented estimates for the tests of this and other folders.

use super::{Estimate, Unit};

/// `value` with an even 95 % interval of `half` on either side, as of a normal distribution.
pub fn estimate<U: Unit>(value: f64, half: f64) -> Estimate<U> {
    Estimate {
        value: U::new(value),
        sd: U::new(half / 1.96),
        low95: U::new(value - half),
        high95: U::new(value + half),
    }
}
