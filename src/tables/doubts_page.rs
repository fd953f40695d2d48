//! The page of suspects and doubts: a sentence each.

use super::cell::{Cell, Page};
use super::columns::Columns;
use super::input::TablesInput;
use super::said::{Said, said_of_all, said_of_approach};
use crate::quantity::{Pixels, Unit};

pub(super) fn doubts_page(input: &TablesInput) -> Page {
    type Row<'a> = (&'a str, Said<'a>);
    let of_approaches = input.measurement.approaches.iter().flat_map(|approach| {
        said_of_approach(&approach.doubts).map(|said| (approach.approach.as_str(), said))
    });
    let rows = of_approaches.chain(said_of_all(input).map(|said| ("", said)));
    Columns::new(input.units)
        .text("kind", |(_, said): &Row| said.kind.into())
        .text("approach", |(approach, _)| (*approach).into())
        .text("sentence", |(_, said)| said.sentence.clone())
        .whole("frame", |(_, said)| said.suspect.map(|suspect| suspect.frame.0.into()))
        .number("off", 1, |(_, said)| said.suspect.map(|suspect| Pixels::new(suspect.off_px)))
        .cell("off_sds", |(_, said)| Cell::number(said.suspect.map(|suspect| suspect.off_sds), 1))
        .page("doubts", rows)
}
