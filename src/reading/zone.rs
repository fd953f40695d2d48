//! Take-off and landing against the zone the coach sets.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::answer::Answer;
use super::settings::Zone;
use crate::quantity::Unit;
use crate::stride::EdgeDistance;

/// Where a distance lies against its zone.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ZoneReading {
    /// The distance, with its hoof and edge.
    pub distance: EdgeDistance,
    /// The coach's zone.
    pub zone: Zone,
    /// Whether it lies within.
    pub is_within: Answer,
    /// The likeliest place.
    pub place: ZonePlace,
    /// Probability of that place, 0 to 1.
    pub place_probability: f64,
}

/// A side of a zone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ZonePlace {
    /// Nearer to the fence than the zone: deep.
    Nearer,
    /// Within.
    Within,
    /// Farther from the fence: long.
    Farther,
}

/// A published take-off distance, shown for context; it decides nothing.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PublishedTakeOff {
    /// Of fresh horses, metres.
    pub fresh_m: f64,
    /// Of the same horses tired, metres.
    pub tired_m: f64,
    /// Height of the fence, metres.
    pub height_m: f64,
    /// How many horses.
    pub horses: u32,
    /// What the source is.
    pub source: &'static str,
    /// Its tag in the reference values.
    pub tag: &'static str,
}

/// J12 (read, grade A-): 70 jumps over a vertical, one calibrated 25 Hz camera.
pub const PUBLISHED_TAKE_OFF: PublishedTakeOff = PublishedTakeOff {
    fresh_m: 1.65,
    tired_m: 1.46,
    height_m: 1.10,
    horses: 8,
    source: "a conference abstract",
    tag: "J12",
};

/// Reads a distance and its draws (metres) against a zone; `None` without a draw.
pub(super) fn read_zone(
    distance: &EdgeDistance,
    draws: &[f64],
    zone: Zone,
    sure: f64,
) -> Option<ZoneReading> {
    let (low, high) = (zone.low_m().get(), zone.high_m().get());
    let count = draws.len() as f64;
    let share = |is: &dyn Fn(f64) -> bool| draws.iter().filter(|m| is(**m)).count() as f64 / count;
    let nearer = share(&|m| m < low);
    let farther = share(&|m| m > high);
    let within = Answer::of(draws.iter().map(|m| (low..=high).contains(m)), sure)?;
    let places = [
        (ZonePlace::Within, 1.0 - nearer - farther),
        (ZonePlace::Nearer, nearer),
        (ZonePlace::Farther, farther),
    ];
    let first = places[0];
    let (place, place_probability) =
        places.into_iter().fold(first, |most, one| if one.1 > most.1 { one } else { most });
    Some(ZoneReading {
        distance: distance.clone(),
        zone,
        is_within: within,
        place,
        place_probability,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, SEVEN};
    use crate::reading::sample::drawn;

    #[test]
    fn a_take_off_is_deep_within_or_long() {
        let take_off = sample::approach(SEVEN).take_off.unwrap();
        let place = |metres: f64, sd: f64| {
            let draws = drawn(&[3.5], 0.01, metres, sd).take_off_m;
            let read = read_zone(&take_off, &draws, Zone::usual(), 0.95).unwrap();
            (read.place, read.is_within)
        };
        // The zone is 0.91 to 2.74 m.
        assert!(matches!(place(1.80, 0.1), (ZonePlace::Within, Answer::Yes { .. })));
        assert!(matches!(place(0.70, 0.05), (ZonePlace::Nearer, Answer::No { .. })));
        assert!(matches!(place(3.10, 0.1), (ZonePlace::Farther, Answer::No { .. })));
        assert!(matches!(place(0.85, 0.1), (ZonePlace::Nearer, Answer::CannotTell { .. })));
        assert_eq!(read_zone(&take_off, &[], Zone::usual(), 0.95), None);
    }
}
