//! The approaches of many weeks as one table (CSV, RFC 4180): a row an approach.

use csv::{Terminator, WriterBuilder};

use super::cell::Cell;
use super::columns::Columns;
use super::error::TablesError;
use super::formula::guarded;
use crate::quantity::{Estimate, LengthUnits, Metres, MetresPerSecond, Percent, StridesPerMinute};
use crate::stride::Levelness;
use crate::weeks::{DatedApproach, FenceWeeks};

/// Decimals: a tenth of a millimetre, far finer than any ±.
const DECIMALS: usize = 4;

/// All approaches as the bytes of a CSV table in UTF-8, fence by fence in the order of dates; lines
/// end in CR LF. Units are in the heads. Words that a spreadsheet would take for a formula have an
/// apostrophe before them.
pub fn weeks_csv(weeks: &[FenceWeeks], units: LengthUnits) -> Result<Vec<u8>, TablesError> {
    let rows = weeks.iter().flat_map(|fence| &fence.approaches);
    let page = columns(units).page("weeks", rows);
    let mut table = WriterBuilder::new().terminator(Terminator::CRLF).from_writer(Vec::new());
    table.write_record(&page.heads)?;
    for row in &page.rows {
        table.write_record(row.iter().map(written))?;
    }
    Ok(table.into_inner().map_err(|error| csv::Error::from(error.into_error()))?)
}

fn columns<'a>(units: LengthUnits) -> Columns<'a, &'a DatedApproach> {
    let level = |one: &&DatedApproach| one.levelness.clone();
    let of = move |number: fn(Levelness) -> Estimate<Metres>| {
        move |one: &&DatedApproach| level(one).map(number)
    };
    let changes = |one: &&DatedApproach| one.pace_changes.clone();
    Columns::new(units)
        .text("fence", |one: &&DatedApproach| one.fence.clone())
        .text("date", |one| one.date.clone().unwrap_or_default())
        .text("horse", |one| one.horse.clone())
        .text("rider", |one| one.rider.clone())
        .text("file", |one| one.file.clone())
        .text("approach", |one| one.approach.clone())
        .whole("strides", |one| i64::try_from(one.strides.len()).ok())
        .estimate::<Metres>("mean", of(|level| level.mean_m))
        .estimate::<Percent>("variation", move |one| level(one).map(|l| l.variation_percent))
        .estimate::<Metres>("range", of(|level| level.range_m))
        .estimate_per::<Metres>("trend", "_per_stride", of(|level| level.trend_m_per_stride))
        .estimate::<MetresPerSecond>("speed", move |one| level(one).map(|l| l.mean_speed_m_per_s))
        .estimate::<StridesPerMinute>("tempo", move |one| {
            level(one).map(|l| l.mean_tempo_strides_per_min)
        })
        .whole("pace_changes", move |one| i64::try_from(changes(one)?.count).ok())
        .cell("pace_changes_probability", move |one| {
            Cell::number(changes(one).map(|changes| changes.probability), DECIMALS)
        })
        .estimate::<Metres>("take_off", |one| Some(one.take_off.as_ref()?.distance_m))
        .estimate::<Metres>("landing", |one| Some(one.landing.as_ref()?.distance_m))
        .text("notes", |one| one.notes.join("; "))
        .text("doubts", |one| one.doubts.join("; "))
}

fn written(cell: &Cell) -> String {
    match cell {
        Cell::Empty => String::new(),
        Cell::Text(words) => guarded(words),
        Cell::Whole(count) => count.to_string(),
        Cell::Number { value, .. } => format!("{value:.DECIMALS$}"),
    }
}
