//! The page of strides: a row each.

use super::cell::Page;
use super::columns::Columns;
use super::input::TablesInput;
use crate::stride::{ApproachMeasurement, StrideRow};

pub(super) fn strides_page(input: &TablesInput) -> Page {
    type Row<'a> = (&'a ApproachMeasurement, &'a StrideRow);
    let rows = input.measurement.approaches.iter();
    let rows = rows.flat_map(|approach| approach.strides.iter().map(move |row| (approach, row)));
    Columns::new(input.units)
        .text("approach", |(approach, _): &Row| approach.approach.clone())
        .text("fence", |(approach, _)| approach.fence.name.clone())
        .whole("stride", |(_, row)| Some(row.number.into()))
        .text("from_footfall", |(_, row)| row.from_footfall.clone())
        .text("to_footfall", |(_, row)| row.to_footfall.clone())
        .estimate("length", |(_, row)| row.length_m)
        .estimate("duration", |(_, row)| Some(row.duration_s))
        .estimate("tempo", |(_, row)| Some(row.tempo_strides_per_min))
        .estimate("speed", |(_, row)| row.speed_m_per_s)
        .text("note", |(_, row)| row.note.clone())
        .page("strides", rows)
}
