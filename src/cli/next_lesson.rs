//! What the sheet of an approach says of the next lesson: distances, the pace beside course speeds,
//! where to stand.

use super::Failure;
use super::measured_round::MeasuredRound;
use crate::marks::{MarksFile, Motion};
use crate::poles::{
    ASSUMED_HEIGHT_M, Asked, Gait, PaceBeside, Published, Readiness, Size, SpeedTables, Stated,
    measured_stride, next_distances, plan,
};
use crate::quantity::LengthUnits;
use crate::stand::{Bounds, Start, stand, stood};
use crate::stride::{ApproachMeasurement, Draws, ShownStrides};

/// The sentences for one approach; none where its strides carry no plan.
pub(super) fn next_distances_of(
    file: &MarksFile,
    approach: &ApproachMeasurement,
    shown: Option<ShownStrides>,
    units: LengthUnits,
) -> Result<Vec<String>, Failure> {
    let Ok(stride) = measured_stride(file, approach, shown) else { return Ok(Vec::new()) };
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
    Ok(next_distances(&plan, &published, stated.height_m.is_none(), units))
}

/// The pace of an approach beside course speeds; none where its strides are too few for one, or like no course speed.
pub(super) fn pace_beside(
    approach: &ApproachMeasurement,
    units: LengthUnits,
) -> Result<Option<String>, Failure> {
    let Some(levelness) = &approach.levelness else { return Ok(None) };
    let tables = SpeedTables::built_in().map_err(Failure::new)?;
    let beside = PaceBeside::of(&levelness.mean_speed_m_per_s, &tables);
    Ok(beside.short_sentence(units).map(|sentence| format!("Pace {sentence}.")))
}

/// Where to stand the next time, if somewhere else is better. Only for a phone that stood still: what
/// following the background will bring a turning one is not known beforehand.
pub(super) fn where_to_stand(
    round: &MeasuredRound,
    approach: &ApproachMeasurement,
    units: LengthUnits,
) -> Option<String> {
    if round.file.camera.motion != Motion::Fixed {
        return None;
    }
    // A layout that no place can be reckoned from is no reason to withhold the sheet.
    let stood = stood(&round.file, &round.survey, approach).ok()?;
    let bounds = Bounds::usual(stood.phone.handling);
    let start = Start::Here(stood.phone);
    let plan = stand(&stood.lesson, &start, &bounds, Draws::default()).ok()?;
    plan.brief(units).map(|brief| format!("To film it better, {brief}."))
}
