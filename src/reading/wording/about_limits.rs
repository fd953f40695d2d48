//! The settings that decided.

use super::sentence::Sentence;
use super::text_key::TextKey;
use super::values::{Teller, Values};
use crate::quantity::{Unit, written_percent};
use crate::reading::Settings;

/// All limits in one sentence: none of them is a published one.
pub(super) fn about_limits(teller: &Teller, settings: &Settings) -> Option<Sentence> {
    let about = settings.level_about_m.map(|about| teller.setting(about));
    let (take_off, landing) = (settings.take_off_zone, settings.landing_zone);
    let values = Values::default()
        .with("within", teller.setting(settings.level_within_m))
        .with("about", about.clone().unwrap_or_else(|| teller.texts.word("the_mean").to_owned()))
        .with("their", about.unwrap_or_else(|| teller.texts.word("their_mean").to_owned()))
        .with("tolerance", written_percent(settings.pace_tolerance_percent.get()))
        .with("low", teller.setting(take_off.low_m()))
        .with("high", teller.setting(take_off.high_m()))
        .with("landing_low", teller.setting(landing.low_m()))
        .with("landing_high", teller.setting(landing.high_m()))
        .with("added", teller.setting(settings.added_shorter_m))
        .with("straight", teller.setting(settings.straight_within_m))
        .with("sure", written_percent(100.0 * settings.sure));
    teller.say(TextKey::Limits, &values, Vec::new())
}
