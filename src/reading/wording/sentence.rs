//! All sentences of a reading, what matters first.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::about_limits::about_limits;
use super::about_line::{about_asks, about_line};
use super::about_pace::{about_faults, about_level, about_pace, about_pace_numbers};
use super::about_track::{about_track, about_turn};
use super::about_zone::{about_landing, about_take_off};
use super::audience::Audience;
use super::text_key::TextKey;
use super::texts::Texts;
use super::values::Teller;
use crate::quantity::LengthUnits;
use crate::reading::{LineReading, Reading};

/// A sentence with its evidence.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Sentence {
    /// Which one of the table.
    pub key: TextKey,
    /// The sentence.
    pub text: String,
    /// The strides that show it.
    pub strides: Vec<i32>,
    /// The footfalls that show it.
    pub footfalls: Vec<String>,
}

/// The reading of an approach, and of the lines that end in it, in sentences.
pub fn sentences(
    reading: &Reading,
    lines: &[LineReading],
    texts: &Texts,
    audience: Audience,
    units: LengthUnits,
) -> Vec<Sentence> {
    let teller = Teller { texts, audience, units };
    let mut all: Vec<Sentence> = Vec::new();
    all.extend(about_faults(&teller, reading));
    all.extend(about_pace(&teller, reading));
    let sure = reading.settings.sure;
    all.extend(about_level(&teller, reading));
    all.extend(reading.take_off.iter().flat_map(|zone| about_take_off(&teller, zone, sure)));
    all.extend(reading.landing.iter().flat_map(|zone| about_landing(&teller, zone, sure)));
    let ending_here = || lines.iter().filter(|l| l.measured.second_approach == reading.approach);
    all.extend(ending_here().flat_map(|line| about_line(&teller, line)));
    all.extend(reading.track.iter().flat_map(|track| about_track(&teller, track)));
    all.extend(about_turn(&teller, reading.left_turn_at));
    all.extend(about_pace_numbers(&teller, reading));
    all.extend(reading.asks.iter().filter_map(|asks| about_asks(&teller, asks)));
    all.extend(about_limits(&teller, &reading.settings));
    // Stable: of one line the strides needed stay in their order.
    let is_off = ending_here().any(LineReading::is_another_number);
    all.sort_by_key(|sentence| match sentence.key {
        // "Six in the five" is a finding; as many as it was built for is none.
        TextKey::LineRidden if is_off => TextKey::LevelNo.rank(),
        key => key.rank(),
    });
    all
}
