//! The rules of thumb that stand beside every line. They are exact by their own wording; how well
//! one fits a horse is what the plan beside them shows.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::asked::{PonyClass, Size};
use super::rule::Rule;
use crate::quantity::{METRES_PER_FOOT, Metres, Unit};

/// A course-design stride, 12 ft (R1, R2, R3).
pub(super) const TWELVE_FOOT_STRIDE_M: f64 = 12.0 * METRES_PER_FOOT;
/// The stride of the metric conventions: (n+1) × 3.50 m (R23), the height formula (R9).
pub const METRIC_STRIDE_M: f64 = 3.5;
/// Landing, and again take-off, in the simplified height formula (R9).
const SIMPLIFIED_SIDE_M: f64 = 1.5;

/// A line by a rule of thumb.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Convention {
    /// The rule.
    pub rule: Rule,
    /// What it gives; exact by the rule.
    pub length_m: Metres,
}

/// (n+1) × 12 ft, for cantered lines of horses (R1, R4); n = 0 is a bounce.
pub fn twelve_foot_line(strides: u32) -> Metres {
    metric_line(Metres::new(TWELVE_FOOT_STRIDE_M), strides)
}

/// (n+1) × `stride`: half a stride to land and half to take off (R23 with 3.50 m for horses; R10).
pub fn metric_line(stride: Metres, strides: u32) -> Metres {
    Metres::new(f64::from(strides + 1) * stride.get())
}

/// Height in + height out + 3.5 m × n (R9): the higher the fences, the more room.
///
/// The simplified form, 1.5 + 1.5 + 3.5 n, gives 6.5 m for one stride where the German chart (R24)
/// has 7.5 m: both are shown, neither decides.
pub(super) fn height_formula(height_in: Metres, height_out: Metres, strides: u32) -> Metres {
    Metres::new(height_in.get() + height_out.get() + METRIC_STRIDE_M * f64::from(strides))
}

/// The stride of a pony's class, metres (R23).
fn pony_stride_m(class: PonyClass) -> f64 {
    match class {
        PonyClass::Small => 2.90,
        PonyClass::Medium => 3.10,
        PonyClass::Large => 3.30,
    }
}

/// What the rules of thumb give for a line of `strides` between fences of `height_m`. None for a
/// pony without a class: no rule was read for it.
pub(super) fn conventions(size: Size, height_m: f64, strides: u32) -> Vec<Convention> {
    let of = |rule, length_m| Convention { rule, length_m };
    match size {
        Size::Horse => {
            let (height, side) = (Metres::new(height_m), Metres::new(SIMPLIFIED_SIDE_M));
            let metric = metric_line(Metres::new(METRIC_STRIDE_M), strides);
            let mut all = vec![
                of(Rule::TwelveFoot, twelve_foot_line(strides)),
                of(Rule::MetricStride, metric),
                of(Rule::SimplifiedHeightFormula, height_formula(side, side, strides)),
            ];
            if height_m > 0.0 {
                all.push(of(Rule::HeightFormula, height_formula(height, height, strides)));
            }
            all
        }
        Size::Pony(Some(class)) => {
            let stride = Metres::new(pony_stride_m(class));
            vec![of(Rule::MetricPonyStride, metric_line(stride, strides))]
        }
        Size::Pony(None) => Vec::new(),
    }
}
