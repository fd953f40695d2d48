//! The stride a plan rests on, in words.

use super::asked::{Stride, StrideBasis};
use super::plan::Plan;
use super::wording::laid_words;
use crate::quantity::{LengthUnits, written};

/// "3.22 ± 0.16 m, the mean of 5 of 7 measured strides", or "3.60 m ± 0.10 m, as typed".
pub fn stride_words(plan: &Plan, units: LengthUnits) -> String {
    match &plan.asked.stride {
        Stride::Measured { mean_m, shown_m, basis, .. } => {
            let all = shown_m.len();
            let count = match basis {
                StrideBasis::LevelOnes { left_out } => {
                    format!("{} of {all}", all.saturating_sub(left_out.len()))
                }
                StrideBasis::AllLevel | StrideBasis::Uneven => all.to_string(),
            };
            format!("{}, the mean of {count} measured strides", written(mean_m, units))
        }
        Stride::Typed { .. } => {
            let laid = |length| laid_words(length, units);
            format!("{} ± {}, as typed", laid(plan.stride_m), laid(plan.stride_plus_minus_m))
        }
    }
}
