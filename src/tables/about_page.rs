//! The page that says what the others are: when, who, where, units, and what the numbers mean.

use super::cell::{Cell, Page};
use super::input::TablesInput;
use super::wording::ground_frame;
use crate::quantity::LengthUnits;

/// What each head stands for.
const MEANINGS: [(&str, &str); 9] = [
    (
        "low95, high95",
        "ends of the 95 % interval: in about nineteen of twenty cases the true value lies between \
         them; half of their distance is the number after ± in the other outputs",
    ),
    (
        "sd, correlation",
        "standard deviations of a place along x and along y, and how the two errors go together \
         (−1 to 1)",
    ),
    (
        "stride",
        "from contact to contact of the approach's reference limb, counted back from the fence: \
         −1 is the last",
    ),
    ("take_off", "from the hoof named to the ground line on the take-off side, square to it"),
    ("landing", "from the far base to the hoof named, square to it"),
    (
        "track",
        "offset: how far from the middle of the ground line the track meets it; angle: off square \
         to it; bend: 1 over the radius; all positive to the left of the way the horse goes",
    ),
    (
        "range, variation, trend",
        "longest stride minus shortest; standard deviation over mean; slope over the strides, \
         positive when they grow towards the fence",
    ),
    ("time", "capture time of the frame of first contact, never slowed time"),
    (
        "caution",
        "figures from video are estimates, not a permit to jump: the person on the ground decides",
    ),
];

pub(super) fn about_page(input: &TablesInput) -> Page {
    let round = input.round;
    let units = match input.units {
        LengthUnits::Metres => "metres (m)",
        LengthUnits::Feet => "feet (ft), each 0.3048 m exactly, in decimals",
    };
    let stated = [
        ("date", Cell::text(round.date.as_deref().unwrap_or_default())),
        ("rider", Cell::text(&round.rider)),
        ("horse", Cell::text(&round.horse)),
        ("place", Cell::text(&round.place)),
        ("surface", Cell::text(&round.surface)),
        ("slope_percent", Cell::number(round.slope_percent, 1)),
        ("note", Cell::text(&round.note)),
        ("clip", Cell::text(input.clip)),
    ];
    let made = [
        ("lengths", Cell::text(units)),
        ("x, y", Cell::text(ground_frame(input.units))),
        ("program", Cell::text(concat!("groundline ", env!("CARGO_PKG_VERSION")))),
    ];
    let meanings = MEANINGS.map(|(head, meaning)| (head, Cell::text(meaning)));
    let rows = stated.into_iter().filter(|(_, said)| *said != Cell::Empty);
    let rows = rows.chain(made).chain(meanings).map(|(what, said)| vec![Cell::text(what), said]);
    Page { name: "about", heads: vec!["what".into(), "said".into()], rows: rows.collect() }
}
