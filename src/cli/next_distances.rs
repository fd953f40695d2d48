//! Distances for the next lesson on the sheet of an approach.

use super::Failure;
use crate::marks::MarksFile;
use crate::poles::{
    Asked, Gait, Published, Readiness, Size, Stated, measured_stride, next_distances, plan,
};
use crate::quantity::LengthUnits;
use crate::stride::ApproachMeasurement;

/// Height of the fences where the marks file states none, metres: from here on a line takes its
/// full length (R11). The sheet says that it is assumed.
const ASSUMED_HEIGHT_M: f64 = 1.0;

/// The sentences for one approach; none where its strides carry no plan.
pub(super) fn next_distances_of(
    file: &MarksFile,
    approach: &ApproachMeasurement,
    units: LengthUnits,
) -> Result<Vec<String>, Failure> {
    let Ok(stride) = measured_stride(approach) else { return Ok(Vec::new()) };
    let stated = Stated::of(file, &approach.approach);
    let published = Published::built_in().map_err(Failure::new)?;
    let asked = Asked {
        stride,
        height_m: stated.height_m.unwrap_or(ASSUMED_HEIGHT_M),
        gait: Gait::Canter,
        size: Size::Horse,
        slope_percent: stated.slope_percent.unwrap_or(0.0),
        going: stated.going.unwrap_or_default(),
        readiness: Readiness::Ready,
    };
    // A stride or a fence that no plan is made for is no reason to withhold the sheet.
    let Ok(plan) = plan(&asked, &published) else { return Ok(Vec::new()) };
    let ridden = u32::try_from(approach.strides.len()).unwrap_or(u32::MAX);
    let assumed = stated.height_m.is_none();
    Ok(next_distances(&plan, &published, ridden, assumed, units))
}
