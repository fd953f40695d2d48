//! The page of footfalls: a row each, in the order of time within their approach.

use super::cell::{Cell, Page};
use super::columns::Columns;
use super::input::TablesInput;
use super::unit_word::in_units;
use crate::quantity::{LengthUnits, Metres, Seconds, Unit, written_decimals};
use crate::stride::{ApproachMeasurement, PlacedFootfall};
use crate::survey::PlaceSpread;

/// Shown of a moment: a frame lasts some milliseconds.
const TIME_DECIMALS: usize = 3;

pub(super) fn footfalls_page(input: &TablesInput) -> Page {
    type Row<'a> = (&'a ApproachMeasurement, &'a PlacedFootfall);
    let units = input.units;
    let rows = input.measurement.approaches.iter();
    let rows =
        rows.flat_map(|approach| approach.footfalls.iter().map(move |hoof| (approach, hoof)));
    let spread = |hoof: &PlacedFootfall| hoof.ellipse.map(|ellipse| ellipse.spread());
    let coordinate = move |hoof: &PlacedFootfall, of: fn(&PlacedFootfall) -> Option<f64>, sd| {
        Cell::number(of(hoof).map(|metres| units.from_metres(metres)), decimals(sd, units))
    };
    let x = move |hoof: &PlacedFootfall| {
        coordinate(hoof, |hoof| hoof.place.map(|place| place.x), spread(hoof).map(|s| s.x_sd_m))
    };
    let y = move |hoof: &PlacedFootfall| {
        coordinate(hoof, |hoof| hoof.place.map(|place| place.y), spread(hoof).map(|s| s.y_sd_m))
    };
    let sd = move |hoof: &PlacedFootfall, of: fn(PlaceSpread) -> f64| {
        let sd = spread(hoof).map(of);
        let shown = sd.map(|sd| in_units(Metres::new(sd), units));
        Cell::number(shown, decimals(sd, units).max(SD_DECIMALS))
    };
    let unit = units.symbol();
    Columns::new(units)
        .text("approach", |(approach, _): &Row| approach.approach.clone())
        .text("footfall", |(_, hoof)| hoof.footfall.clone())
        .text("limb", |(_, hoof)| hoof.limb.words().into())
        .text("event", |(_, hoof)| hoof.event.words().into())
        .whole("frame", |(_, hoof)| Some(hoof.frame.0.into()))
        .number("time", TIME_DECIMALS, |(_, hoof)| Some(Seconds::new(hoof.time_s)))
        .cell(format!("x_{unit}"), move |(_, hoof)| x(hoof))
        .cell(format!("x_{unit}_sd"), move |(_, hoof)| sd(hoof, |spread| spread.x_sd_m))
        .cell(format!("y_{unit}"), move |(_, hoof)| y(hoof))
        .cell(format!("y_{unit}_sd"), move |(_, hoof)| sd(hoof, |spread| spread.y_sd_m))
        .cell("x_y_correlation", move |(_, hoof)| {
            Cell::number(spread(hoof).and_then(|spread| spread.correlation), 2)
        })
        .page("footfalls", rows)
}

/// An sd shows a millimetre or so, finer than the place it is of.
const SD_DECIMALS: usize = 3;

/// Decimals of a coordinate with that sd, metres.
fn decimals(sd_m: Option<f64>, units: LengthUnits) -> usize {
    // A normal distribution has 95 % within 1.96 sd.
    written_decimals::<Metres>(1.96 * units.from_metres(sd_m.unwrap_or_default()))
}
