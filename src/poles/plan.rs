//! The plan for the next lesson.

use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, Schema};
use serde::Serialize;

use super::asked::{Asked, Stride, StrideBasis};
use super::asked_error::AskedError;
use super::beside::{Beside, beside, stride_rows};
use super::cautions::CAUTIONS;
use super::distance::Distance;
use super::exercise::Exercise;
use super::line::{line, line_of};
use super::pace_beside::PaceBeside;
use super::pony_note::PonyNote;
use super::provenance::Source;
use super::published::Published;
use super::speed_tables::SpeedTables;
use super::table_distance::table_distance;
use super::warning::{PlanWarning, is_downhill, reasons_to_start_short};
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
    /// What to beware of about stride, ground and horse: what concerns every distance.
    pub warnings: Vec<PlanWarning>,
    /// The horse's pace beside the speeds of courses; `None` for a typed stride.
    pub pace_beside: Option<PaceBeside>,
    /// Published strides of such a horse or pony.
    pub stride_beside: Vec<Beside>,
    /// The distances, from poles to six strides. An exercise for which there is neither rule nor
    /// table is left out, and over poles on the ground what needs a fence.
    pub distances: Vec<Distance>,
    /// What stands on every plan.
    pub cautions: &'static [&'static str],
}

/// The plan for what is asked, beside `published`.
///
/// Errors: a stride, uncertainty, height or slope that no plan is made for.
pub fn plan(asked: &Asked, published: &Published) -> Result<Plan, AskedError> {
    asked.checked()?;
    let distance = |exercise| match exercise {
        Exercise::Line { strides } => Some(line_of(asked, strides, published)),
        other => table_distance(other, asked, published),
    };
    let exercises = Exercise::all(asked.gait).into_iter();
    let sensible = exercises.filter(|exercise| asked.height_m > 0.0 || !exercise.needs_a_fence());
    let distances = sensible.filter_map(distance).collect();
    Ok(with_distances(asked, published, distances))
}

/// A plan of one line of `strides` strides, 1 to [`LONGEST_LINE`](super::LONGEST_LINE).
///
/// Errors: as [`plan`], and a number of strides that no line is planned for.
pub fn plan_line(asked: &Asked, strides: u32, published: &Published) -> Result<Plan, AskedError> {
    let line = line(asked, strides, published)?;
    Ok(with_distances(asked, published, vec![line]))
}

impl Plan {
    /// The sources of the rows beside the distances, in the order of the tables.
    pub fn sources<'a>(&self, published: &'a Published) -> Vec<&'a Source> {
        let used = |tag: &str| {
            let mut rows = self.distances.iter().flat_map(|distance| &distance.beside);
            rows.any(|beside| beside.row.provenance.sources.iter().any(|known| known == tag))
        };
        published.sources.iter().filter(|source| used(&source.tag)).collect()
    }

    /// What to beware of about the stride alone.
    pub fn stride_warnings(&self) -> Vec<&PlanWarning> {
        let about_stride = |warning: &&PlanWarning| {
            matches!(warning, PlanWarning::StridesLeftOut { .. } | PlanWarning::UnevenStrides)
        };
        self.warnings.iter().filter(about_stride).collect()
    }

    /// The same with the horse's pace, where it was measured, beside `tables`.
    pub fn with_speeds(self, tables: &SpeedTables) -> Self {
        let pace = match &self.asked.stride {
            Stride::Measured { pace_m_per_s, .. } => *pace_m_per_s,
            Stride::Typed { .. } => None,
        };
        Self { pace_beside: pace.map(|pace| PaceBeside::of(&pace, tables)), ..self }
    }
}

/// The JSON Schema (draft 2020-12) of what a [`Plan`] is written as.
pub fn plan_schema() -> Schema {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    settings.into_generator().into_root_schema_for::<Plan>()
}

fn with_distances(asked: &Asked, published: &Published, distances: Vec<Distance>) -> Plan {
    let stride_m = Metres::new(asked.stride.length_m());
    Plan {
        asked: asked.clone(),
        stride_m,
        stride_plus_minus_m: Metres::new(asked.stride.plus_minus_m()),
        warnings: warnings_of(asked, &distances, published),
        pace_beside: None,
        stride_beside: beside(&stride_rows(asked.size, published), stride_m),
        distances,
        cautions: &CAUTIONS,
    }
}

fn warnings_of(asked: &Asked, distances: &[Distance], published: &Published) -> Vec<PlanWarning> {
    let basis = match &asked.stride {
        Stride::Measured { basis, .. } => basis,
        Stride::Typed { .. } => &StrideBasis::AllLevel,
    };
    let about_stride = match basis {
        StrideBasis::LevelOnes { left_out } => {
            Some(PlanWarning::StridesLeftOut { numbers: left_out.clone() })
        }
        StrideBasis::Uneven => Some(PlanWarning::UnevenStrides),
        StrideBasis::AllLevel => None,
    };
    let why = reasons_to_start_short(asked);
    let short = (!why.is_empty()).then_some(PlanWarning::ShortEnd { why });
    let downhill = is_downhill(asked).then_some(PlanWarning::Downhill);
    let pony = PonyNote::of(asked, distances, published).map(PlanWarning::Pony);
    [about_stride, short, downhill, pony].into_iter().flatten().collect()
}

#[cfg(test)]
mod tests;
