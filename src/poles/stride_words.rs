//! The stride a plan rests on, in words.

use super::asked::{Stride, StrideBasis};
use super::plan::Plan;
use super::wording::{laid_words, shown_words};
use crate::quantity::{LengthUnits, written};

/// "3.22 ± 0.16 m, the mean of 5 of 7 measured strides", with what other rounds have shown where they
/// are known; or "3.60 m ± 0.10 m, as typed".
pub fn stride_words(plan: &Plan, units: LengthUnits) -> String {
    match &plan.asked.stride {
        Stride::Measured { mean_m, strides_m, before_the_turn, shown, basis, .. } => {
            let all = strides_m.len();
            let count = match basis {
                StrideBasis::LevelOnes { left_out } => {
                    format!("{} of {all}", all.saturating_sub(left_out.len()))
                }
                StrideBasis::AllLevel | StrideBasis::Uneven => all.to_string(),
            };
            let elsewhere = match (shown.rounds, shown.left_out) {
                (0 | 1, 0) => String::new(),
                _ => format!("; this horse has shown {}", shown_words(shown, units)),
            };
            let before = match before_the_turn {
                0 => String::new(),
                count => format!(" from the turn on ({count} before it not counted)"),
            };
            let mean = written(mean_m, units);
            format!("{mean}, the mean of {count} measured strides{before}{elsewhere}")
        }
        Stride::Typed { .. } => {
            let laid = |length| laid_words(length, units);
            format!("{} ± {}, as typed", laid(plan.stride_m), laid(plan.stride_plus_minus_m))
        }
    }
}
