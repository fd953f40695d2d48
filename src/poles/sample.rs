//! Invented questions for the tests of this folder.

use super::{Asked, Gait, Going, Readiness, Size, Stride, StrideBasis};
use crate::quantity::sample::estimate;
use crate::quantity::{Given, Metres, Unit};
use crate::stride::ShownStrides;

/// A horse of typed stride before fences of 1.10 m, in canter, on good level ground.
pub fn typed(length_m: f64) -> Asked {
    Asked {
        stride: Stride::Typed { length_m: Given::new(length_m, 0.0) },
        height_m: 1.1,
        gait: Gait::Canter,
        size: Size::Horse,
        slope_percent: 0.0,
        going: Going::Good,
        readiness: Readiness::Ready,
    }
}

/// The same with measured strides, at least one: mean ± 0.05 m, scatter 0.08 m, each ± 0.06 m.
pub fn measured(mean_m: f64, strides_m: &[f64]) -> Asked {
    let strides_m: Vec<_> = strides_m.iter().map(|length| estimate(*length, 0.06)).collect();
    let stride = Stride::Measured {
        mean_m: estimate(mean_m, 0.05),
        scatter_sd_m: Metres::new(0.08),
        shown: ShownStrides::of_round(strides_m.iter().copied()).unwrap(),
        strides_m,
        before_the_turn: 0,
        basis: StrideBasis::AllLevel,
        pace_m_per_s: None,
    };
    Asked { stride, ..typed(mean_m) }
}
