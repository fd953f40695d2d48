//! Poles, placing poles and bounces: no formula for them was read, so the tables themselves are the
//! rule, in proportion to this horse's stride where it is cantered.
//!
//! The aim is the median of the middles of the rows that apply, low and high are the medians of
//! their ends: one odd table among several then moves little. Trotted distances are not scaled, for
//! no trot was measured. That cantered ones grow with the stride is common practice, no source.

use super::asked::{Asked, Gait, Size};
use super::beside::{Fitting, beside, fitting, stride_rows};
use super::distance::{Distance, DistanceRange};
use super::exercise::Exercise;
use super::line::{stride_warning, table_warnings};
use super::published::Published;
use super::rule::Rule;
use super::warning::{PlanWarning, Shortening};
use crate::quantity::{Unit, median};

/// The distance for an exercise that is no line; `None` when there is nothing to take it from.
pub(super) fn table_distance(
    exercise: Exercise,
    asked: &Asked,
    published: &Published,
) -> Option<Distance> {
    let rows = fitting(exercise, asked, published);
    let is_trotted = matches!(exercise, Exercise::TrotPoles)
        || matches!(exercise, Exercise::PlacingPole { gait: Gait::Trot, .. });
    let (middle, size, rule) = match middle(&rows) {
        Some(middle) if is_trotted => (middle, None, Rule::MiddleOfTables),
        Some(middle) => (middle, Some(asked.size), Rule::TablesTimesStride),
        None => {
            let for_horse = Asked { size: Size::Horse, ..asked.clone() };
            let middle = middle_of(&for_horse, exercise, published)?;
            (middle, Some(Size::Horse), Rule::HorseTablesTimesStride)
        }
    };
    let stride_m = asked.stride.length_m();
    let factor = match size {
        Some(size) => stride_m / usual_stride_m(size, published)?,
        None => 1.0,
    };
    let [low, aim, high] = middle.map(|length| length * factor);
    let plus_minus = match size {
        Some(_) => aim / stride_m * asked.stride.plus_minus_m(),
        None => 0.0,
    };
    let full = DistanceRange::around(aim, [aim - low, high - aim], plus_minus);
    let start_short = Shortening::to_the_short_end(asked, aim - low);
    let length =
        if start_short.is_some() { full.started_short(aim - low, plus_minus) } else { full };
    let mut warnings = Vec::new();
    if exercise == Exercise::CanterPoles {
        // One stride to each pole: the spacing is the stride.
        warnings.extend(stride_warning(length.aim_m.get(), asked.stride.shown()));
    }
    warnings.extend(table_warnings(&rows, length.aim_m));
    warnings.extend(start_short.map(|part| PlanWarning::Shortened { parts: vec![part] }));
    let beside = beside(&rows, length.aim_m);
    Some(Distance { beside, warnings, ..Distance::single(exercise, length, rule) })
}

fn middle_of(asked: &Asked, exercise: Exercise, published: &Published) -> Option<[f64; 3]> {
    middle(&fitting(exercise, asked, published))
}

/// The middle of the published strides of such a horse or pony, metres.
pub(super) fn usual_stride_m(size: Size, published: &Published) -> Option<f64> {
    middle(&stride_rows(size, published)).map(|[_, usual, _]| usual)
}

/// Medians of the low ends, middles and high ends of the rows that apply, metres. Rows that are open
/// at one end have no middle.
fn middle(rows: &[Fitting<'_>]) -> Option<[f64; 3]> {
    let ends: Vec<(f64, f64)> = rows
        .iter()
        .filter(|(_, aside)| aside.is_none())
        .filter_map(|(row, _)| Some((row.low_m?.get(), row.high_m?.get())))
        .collect();
    let of = |pick: fn((f64, f64)) -> f64| {
        let mut picked: Vec<f64> = ends.iter().copied().map(pick).collect();
        median(&mut picked)
    };
    Some([of(|(low, _)| low)?, of(|(low, high)| f64::midpoint(low, high))?, of(|(_, high)| high)?])
}
