//! The plan for the next lesson.

use schemars::JsonSchema;
use serde::Serialize;

use super::asked::{Asked, AskedError};
use super::beside::{Beside, beside, stride_rows};
use super::cautions::CAUTIONS;
use super::distance::Distance;
use super::exercise::Exercise;
use super::line::line_of;
use super::published::Published;
use super::table_distance::table_distance;
use crate::quantity::{Metres, Unit};

/// Distances for one horse, with everything that belongs beside them.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Plan {
    /// What was asked.
    pub asked: Asked,
    /// The stride the plan reckons with.
    pub stride_m: Metres,
    /// Half its 95 % interval; 0 for a stride typed as exact.
    pub stride_plus_minus_m: Metres,
    /// Published strides of such a horse or pony.
    pub stride_beside: Vec<Beside>,
    /// The distances, from poles to six strides. An exercise for which there is neither rule nor
    /// table is left out.
    pub distances: Vec<Distance>,
    /// What stands on every plan.
    pub cautions: &'static [&'static str],
}

/// The plan for what is asked, beside `published`.
///
/// Errors: a stride, uncertainty, height or slope that no plan is made for.
pub fn plan(asked: &Asked, published: &Published) -> Result<Plan, AskedError> {
    asked.checked()?;
    let stride_m = Metres::new(asked.stride.length_m());
    let distance = |exercise| match exercise {
        Exercise::Line { strides } => Some(line_of(asked, strides, published)),
        other => table_distance(other, asked, published),
    };
    Ok(Plan {
        asked: asked.clone(),
        stride_m,
        stride_plus_minus_m: Metres::new(asked.stride.plus_minus_m()),
        stride_beside: beside(&stride_rows(asked.size, published), stride_m),
        distances: Exercise::all(asked.gait).into_iter().filter_map(distance).collect(),
        cautions: &CAUTIONS,
    })
}

#[cfg(test)]
mod tests;
