//! The page of approaches: all that holds for an approach as a whole, a row each.

use super::cell::{Cell, Page};
use super::columns::Columns;
use super::input::TablesInput;
use super::wording::edge_name;
use crate::quantity::{LengthUnits, METRES_PER_FOOT, Metres, Unit};
use crate::scene::GroundPoint;
use crate::stride::{ApproachMeasurement, EdgeDistance};

/// Shown of a bend: 1/bend is some ten metres in a turn.
const BEND_DECIMALS: usize = 4;
/// Shown of the ends of a base: centimetres.
const BASE_DECIMALS: usize = 2;

type Row<'a> = &'a ApproachMeasurement;

pub(super) fn approaches_page(input: &TablesInput) -> Page {
    let mut columns = Columns::new(input.units)
        .text("approach", |row: &Row| row.approach.clone())
        .text("fence", |row| row.fence.name.clone())
        .text("fence_id", |row| row.fence.id.clone())
        .text("reference_limb", |row| row.reference_limb.words().into())
        .whole("strides", |row| i64::try_from(row.strides.len()).ok());
    columns = edge(columns, "take_off", |row| row.take_off.as_ref());
    columns = edge(columns, "landing", |row| row.landing.as_ref());
    columns = track(columns, input.units);
    columns = levelness(columns);
    columns = bases(columns);
    columns
        .text("note", |row| row.note.clone())
        .page("approaches", input.measurement.approaches.iter())
}

type ApproachColumns<'a> = Columns<'a, Row<'a>>;

/// A distance with its hoof and its edge.
fn edge<'a>(
    columns: ApproachColumns<'a>,
    name: &str,
    of: fn(&ApproachMeasurement) -> Option<&EdgeDistance>,
) -> ApproachColumns<'a> {
    let words =
        move |row: &Row, say: fn(&EdgeDistance) -> String| of(row).map(say).unwrap_or_default();
    columns
        .estimate(name, move |row| of(row).map(|edge| edge.distance_m))
        .text(&format!("{name}_hoof"), move |row| words(row, |edge| edge.limb.words().into()))
        .text(&format!("{name}_edge"), move |row| words(row, |edge| edge_name(edge.edge).into()))
        .text(&format!("{name}_footfall"), move |row| words(row, |edge| edge.footfall.clone()))
}

fn track(columns: ApproachColumns, units: LengthUnits) -> ApproachColumns {
    let bend_scale = match units {
        LengthUnits::Metres => 1.0,
        LengthUnits::Feet => METRES_PER_FOOT,
    };
    columns
        .estimate("track_offset", |row| row.track.as_ref().map(|track| track.offset_m))
        .estimate("track_angle", |row| row.track.as_ref().map(|track| track.angle_deg))
        .cell(format!("track_bend_per_{}", units.symbol()), move |row| {
            let bend = row.track.as_ref().map(|track| track.bend_per_m * bend_scale);
            Cell::number(bend, BEND_DECIMALS)
        })
}

fn levelness(columns: ApproachColumns) -> ApproachColumns {
    columns
        .estimate("mean_length", |row| row.levelness.as_ref().map(|level| level.mean_m))
        .estimate("range", |row| row.levelness.as_ref().map(|level| level.range_m))
        .estimate("variation", |row| row.levelness.as_ref().map(|level| level.variation_percent))
        .estimate_per("trend", "_per_stride", |row| {
            row.levelness.as_ref().map(|level| level.trend_m_per_stride)
        })
        .estimate("mean_tempo", |row| {
            row.levelness.as_ref().map(|level| level.mean_tempo_strides_per_min)
        })
        .estimate("mean_speed", |row| row.levelness.as_ref().map(|level| level.mean_speed_m_per_s))
}

/// Left and right end of one of a fence's bases.
type Base = fn(&ApproachMeasurement) -> &[Option<GroundPoint>; 2];

/// Where the survey puts the ends of both bases.
fn bases(mut columns: ApproachColumns) -> ApproachColumns {
    for (side, name) in [(0, "left"), (1, "right")] {
        let of: [(&str, Base); 2] = [
            ("take_off_base", |row| &row.fence.take_off_base),
            ("landing_base", |row| &row.fence.landing_base),
        ];
        for (base, ends) in of {
            let end = move |row: &Row| ends(row)[side];
            columns = columns
                .number(&format!("{base}_{name}_x"), BASE_DECIMALS, move |row| {
                    end(row).map(|end| Metres::new(end.x))
                })
                .number(&format!("{base}_{name}_y"), BASE_DECIMALS, move |row| {
                    end(row).map(|end| Metres::new(end.y))
                });
        }
    }
    columns
}
