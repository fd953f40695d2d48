//! Faults, changes of pace, levelness.

use super::sentence::Sentence;
use super::text_key::TextKey;
use super::values::{Teller, Values};
use crate::quantity::{Unit, written_pace, written_percent};
use crate::reading::{Answer, Fault, FaultReading, LevelReading, PaceReading, Reading};
use crate::stride::Way;

pub(super) fn about_faults(teller: &Teller, reading: &Reading) -> Vec<Sentence> {
    reading.faults.iter().filter_map(|fault| about_fault(teller, reading, fault)).collect()
}

fn about_fault(teller: &Teller, reading: &Reading, fault: &FaultReading) -> Option<Sentence> {
    let probability = fault.happened.probability()?;
    let key = match (&fault.happened, fault.fault) {
        (Answer::Yes { .. }, Fault::DiedAndDeep) => TextKey::DiedYes,
        (Answer::Yes { .. }, Fault::RanAndAdded) => TextKey::RanYes,
        (Answer::CannotTell { .. }, Fault::DiedAndDeep) => TextKey::DiedCannotTell,
        (Answer::CannotTell { .. }, Fault::RanAndAdded) => TextKey::RanCannotTell,
        _ => return None,
    };
    let (from, to) = (fault.from?, fault.to?);
    let mut values = Values::default()
        .with("by", teller.size(&fault.by_m?))
        .with("from", teller.stride(from))
        .with("to", teller.stride(to))
        .with("probability", teller.probability(probability));
    if let Some(shorter) = &fault.last_shorter_m {
        values = values.with("shorter", teller.number(shorter));
    }
    let take_off = reading.take_off.as_ref();
    if let Some(take_off) = take_off {
        values = values.with("take_off", teller.number(&take_off.distance.distance_m));
    }
    let last = if fault.fault == Fault::RanAndAdded { -1 } else { to };
    let mut said = teller.say(key, &values, (from..=last).collect())?;
    if fault.fault == Fault::DiedAndDeep {
        said.footfalls.extend(take_off.map(|zone| zone.distance.footfall.clone()));
    }
    Some(said)
}

/// What is said of the pace; that one change is fine is left out where it made a fault.
pub(super) fn about_pace(teller: &Teller, reading: &Reading) -> Option<Sentence> {
    let pace = &reading.pace;
    let is_fault = reading.faults.iter().any(|fault| fault.happened.is_yes());
    if is_fault && pace.is_one_at_most.is_yes() {
        return None;
    }
    said_of_pace(teller, pace, reading.settings.sure)
}

fn said_of_pace(teller: &Teller, pace: &PaceReading, sure: f64) -> Option<Sentence> {
    let moves = &pace.likeliest.moves;
    let values = Values::default().with("tolerance", written_percent(pace.tolerance_percent.get()));
    let strides = match (moves.first(), moves.last()) {
        (Some(first), Some(last)) => (first.from..=last.to).collect(),
        _ => Vec::new(),
    };
    let with_probability = |values: Values, probability: f64| {
        values.with("probability", teller.probability(probability))
    };
    match pace.is_one_at_most {
        Answer::Lacks { .. } => teller.say(TextKey::PaceLacks, &values, strides),
        Answer::CannotTell { probability } => {
            let values = with_probability(values, 1.0 - probability)
                .with("pattern", teller.texts.word(pattern_word(&pace.likeliest.ways())))
                .with("likely", teller.probability(pace.probability));
            teller.say(TextKey::PaceCannotTell, &values, strides)
        }
        Answer::Yes { probability } => {
            // Whether there was one or none may be less sure than that there was one at most.
            let is_known = pace.probability >= sure;
            let key = match &moves[..] {
                [] if is_known => TextKey::SteadyPace,
                [only] if is_known && only.way == Way::Longer => TextKey::OneChangeLonger,
                [_] if is_known => TextKey::OneChangeShorter,
                _ => TextKey::OneChangeAtMost,
            };
            let probability = if is_known { pace.probability } else { probability };
            let mut values = with_probability(values, probability);
            if let [only] = &moves[..] {
                values = values
                    .with("by", teller.size(&only.by_m))
                    .with("from", teller.stride(only.from))
                    .with("to", teller.stride(only.to));
            }
            teller.say(key, &values, strides)
        }
        Answer::No { probability } => {
            let values = with_probability(values, 1.0 - probability);
            let (first, last) = (moves.first()?, moves.last()?);
            let mut values = values
                .with("from", teller.stride(first.from))
                .with("to", teller.stride(last.to))
                .with("count", teller.texts.number(moves.len() as u32));
            let key = match &moves[..] {
                [before, after] => {
                    values = values
                        .with("turn", teller.stride(before.to))
                        .with("by_first", teller.signed(&before.by_m))
                        .with("by_second", teller.signed(&after.by_m));
                    match before.way {
                        Way::Shorter => TextKey::ShorterThenLonger,
                        Way::Longer => TextKey::LongerThenShorter,
                    }
                }
                _ => TextKey::SeveralChanges,
            };
            teller.say(key, &values, strides)
        }
    }
}

/// The word for a way that the pace went.
fn pattern_word(ways: &[Way]) -> &'static str {
    match ways {
        [] => "pattern_none",
        [Way::Longer] => "pattern_longer",
        [Way::Shorter] => "pattern_shorter",
        [Way::Shorter, Way::Longer] => "pattern_shorter_longer",
        [Way::Longer, Way::Shorter] => "pattern_longer_shorter",
        _ => "pattern_several",
    }
}

pub(super) fn about_level(teller: &Teller, level: &LevelReading) -> Vec<Sentence> {
    let about = level.about_m.map(|about| teller.setting(about));
    let mut values = Values::default()
        .with("within", teller.setting(level.within_m))
        .with("about", about.clone().unwrap_or_else(|| teller.texts.word("the_mean").to_owned()))
        .with("their", about.unwrap_or_else(|| teller.texts.word("their_mean").to_owned()));
    if let Some(levelness) = &level.levelness {
        values = values
            .with("range", teller.number(&levelness.range_m))
            .with("variation", teller.number(&levelness.variation_percent))
            .with("change", teller.number(&levelness.change_m))
            .with("trend", teller.signed(&levelness.trend_m_per_stride));
    }
    if let Some(farthest) = level.farthest {
        values = values.with("farthest", teller.stride(farthest));
    }
    let (key, probability) = match level.is_level {
        Answer::Yes { probability } => (TextKey::LevelYes, probability),
        Answer::No { probability } => (TextKey::LevelNo, 1.0 - probability),
        Answer::CannotTell { probability } => (TextKey::LevelCannotTell, probability),
        Answer::Lacks { .. } => (TextKey::LevelLacks, 0.0),
    };
    let values = values.with("probability", teller.probability(probability));
    let strides = match (key, level.farthest) {
        (TextKey::LevelNo, Some(farthest)) => vec![farthest],
        _ => level.strides.clone(),
    };
    let numbers = level
        .levelness
        .as_ref()
        .and_then(|_| teller.say(TextKey::LevelNumbers, &values, level.strides.clone()));
    teller.say(key, &values, strides).into_iter().chain(numbers).collect()
}

pub(super) fn about_pace_numbers(teller: &Teller, reading: &Reading) -> Option<Sentence> {
    let levelness = reading.level.levelness.as_ref()?;
    let values = Values::default()
        .with("mean", teller.number(&levelness.mean_m))
        .with("tempo", teller.number(&levelness.mean_tempo_strides_per_min))
        .with("pace", written_pace(&levelness.mean_speed_m_per_s).to_string());
    teller.say(TextKey::PaceNumbers, &values, reading.level.strides.clone())
}
