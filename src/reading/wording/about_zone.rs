//! Take-off and landing.

use super::audience::Audience;
use super::sentence::Sentence;
use super::text_key::TextKey;
use super::values::{Teller, Values};
use crate::quantity::{Metres, Unit};
use crate::reading::{Answer, PUBLISHED_TAKE_OFF, ZonePlace, ZoneReading};

pub(super) fn about_take_off(teller: &Teller, zone: &ZoneReading, sure: f64) -> Vec<Sentence> {
    use TextKey::{TakeOffCannotTell, TakeOffFarther, TakeOffNearer, TakeOffWithin};
    let keys = [TakeOffWithin, TakeOffNearer, TakeOffFarther, TakeOffCannotTell];
    let said = about(teller, zone, sure, keys);
    said.into_iter().chain(published(teller, zone)).collect()
}

pub(super) fn about_landing(teller: &Teller, zone: &ZoneReading, sure: f64) -> Option<Sentence> {
    use TextKey::{LandingCannotTell, LandingFarther, LandingNearer, LandingWithin};
    let keys = [LandingWithin, LandingNearer, LandingFarther, LandingCannotTell];
    about(teller, zone, sure, keys)
}

fn about(teller: &Teller, zone: &ZoneReading, sure: f64, keys: [TextKey; 4]) -> Option<Sentence> {
    let [within, nearer, farther, cannot_tell] = keys;
    // Outside for sure may yet be on either side of it.
    let side = teller.probability(zone.place_probability);
    let (key, probability) = match (&zone.is_within, zone.place) {
        (Answer::Yes { probability }, _) => (within, teller.probability(*probability)),
        (Answer::No { .. }, ZonePlace::Nearer) if zone.place_probability >= sure => (nearer, side),
        (Answer::No { .. }, ZonePlace::Farther) if zone.place_probability >= sure => {
            (farther, side)
        }
        (answer, _) => (cannot_tell, teller.undecided(answer.probability()?, sure)),
    };
    let values = Values::default()
        .with("distance", teller.number(&zone.distance.distance_m))
        .with("low", teller.setting(zone.zone.low_m()))
        .with("high", teller.setting(zone.zone.high_m()))
        .with("probability", probability);
    let mut said = teller.say(key, &values, Vec::new())?;
    said.footfalls.push(zone.distance.footfall.clone());
    Some(said)
}

/// What was published, for the coach.
fn published(teller: &Teller, zone: &ZoneReading) -> Option<Sentence> {
    if teller.audience == Audience::Rider {
        return None;
    }
    let of = PUBLISHED_TAKE_OFF;
    let length = |metres: f64| teller.setting(Metres::new(metres));
    let values = Values::default()
        .with("fresh", length(of.fresh_m))
        .with("tired", length(of.tired_m))
        .with("height", length(of.height_m))
        .with("horses", of.horses.to_string())
        .with("source", of.source);
    let mut said = teller.say(TextKey::TakeOffPublished, &values, Vec::new())?;
    said.footfalls.push(zone.distance.footfall.clone());
    Some(said)
}
