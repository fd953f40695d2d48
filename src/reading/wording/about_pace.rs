//! Faults, changes of pace, levelness.

use super::sentence::Sentence;
use super::text_key::TextKey;
use super::values::{Teller, Values};
use crate::quantity::{Unit, written_pace, written_percent};
use crate::reading::{Answer, Fault, FaultReading, Lack, PaceReading, Reading};
use crate::stride::Way;

pub(super) fn about_faults(teller: &Teller, reading: &Reading) -> Vec<Sentence> {
    reading.faults.iter().filter_map(|fault| about_fault(teller, reading, fault)).collect()
}

fn about_fault(teller: &Teller, reading: &Reading, fault: &FaultReading) -> Option<Sentence> {
    let sure = reading.settings.sure;
    let (key, probability) = match (&fault.happened, fault.fault) {
        (Answer::Yes { probability }, Fault::DiedAndDeep) => {
            (TextKey::DiedYes, teller.probability(*probability))
        }
        (Answer::Yes { probability }, Fault::RanAndAdded) => {
            (TextKey::RanYes, teller.probability(*probability))
        }
        // Unlikely as it is, it is not said of a rider that she may have.
        (Answer::CannotTell { probability }, _) if *probability < WORTH_SAYING => return None,
        (Answer::CannotTell { probability }, Fault::DiedAndDeep) => {
            (TextKey::DiedCannotTell, teller.undecided(*probability, sure))
        }
        (Answer::CannotTell { probability }, Fault::RanAndAdded) => {
            (TextKey::RanCannotTell, teller.undecided(*probability, sure))
        }
        (Answer::Lacks { lack: Lack::TakeOff }, Fault::DiedAndDeep) => {
            match fault.strides_show_it {
                Answer::Yes { probability } => {
                    (TextKey::DiedDepthUnknown, teller.probability(probability))
                }
                _ => return None,
            }
        }
        _ => return None,
    };
    let (from, to) = (fault.from?, fault.to?);
    let mut values = Values::default()
        .with("by", teller.size(&fault.by_m?))
        .with("roughly", teller.roughly(fault.place_probability))
        .with("from", teller.stride(from))
        .with("to", teller.stride(to))
        .with("probability", probability);
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

/// A fault that is less probable than this and not ruled out is not mentioned, only nothing is called fine.
const WORTH_SAYING: f64 = 0.25;

/// Whether the one change that there was may have made a fault.
enum OneChange {
    /// It did.
    Spoilt,
    /// It may have.
    Unsettled,
    /// It did not.
    Fine,
}

impl OneChange {
    fn of(faults: &[FaultReading]) -> Self {
        if faults.iter().any(|fault| fault.happened.is_yes()) {
            return Self::Spoilt;
        }
        let is_no = |answer: &Answer| matches!(answer, Answer::No { .. });
        let ruled_out = |fault: &FaultReading| match fault.happened {
            Answer::Lacks { lack: Lack::TakeOff } => is_no(&fault.strides_show_it),
            // Too few strides for either fault.
            Answer::Lacks { lack: Lack::Strides } => true,
            _ => is_no(&fault.happened),
        };
        if faults.iter().all(ruled_out) { Self::Fine } else { Self::Unsettled }
    }
}

/// What is said of the pace; one change is called fine only where it made no fault.
pub(super) fn about_pace(teller: &Teller, reading: &Reading) -> Option<Sentence> {
    let pace = &reading.pace;
    let Answer::Yes { probability } = pace.is_one_at_most else {
        return said_of_pace(teller, reading);
    };
    match OneChange::of(&reading.faults) {
        OneChange::Spoilt => None,
        OneChange::Fine => said_of_pace(teller, reading),
        OneChange::Unsettled => {
            let values = Values::default()
                .with("tolerance", written_percent(pace.tolerance_percent.get()))
                .with("probability", teller.probability(probability));
            teller.say(TextKey::OneChangeNotSettled, &values, places(pace))
        }
    }
}

/// The strides of the likeliest moves.
fn places(pace: &PaceReading) -> Vec<i32> {
    match &pace.likeliest.moves[..] {
        [] => Vec::new(),
        [first, ..] => {
            let last = pace.likeliest.moves.last().map_or(first.to, |last| last.to);
            (first.from..=last).collect()
        }
    }
}

fn said_of_pace(teller: &Teller, reading: &Reading) -> Option<Sentence> {
    let (pace, sure) = (&reading.pace, reading.settings.sure);
    let moves = &pace.likeliest.moves;
    let values = Values::default()
        .with("tolerance", written_percent(pace.tolerance_percent.get()))
        .with("roughly", teller.roughly(pace.likeliest.place_probability))
        .with("measured", measured_word(teller, reading));
    let strides = places(pace);
    // The way it went may be less sure than how often at most or at least it changed.
    let is_known = pace.probability >= sure;
    match pace.is_one_at_most {
        Answer::Lacks { .. } => teller.say(TextKey::PaceLacks, &values, strides),
        Answer::CannotTell { probability } => {
            let values = values
                .with("probability", teller.undecided(1.0 - probability, sure))
                .with("pattern", teller.texts.word(pattern_word(&pace.likeliest.ways())))
                .with("likely", teller.probability(pace.probability));
            teller.say(TextKey::PaceCannotTell, &values, strides)
        }
        Answer::Yes { probability } => {
            let key = match &moves[..] {
                [] if is_known => TextKey::SteadyPace,
                [only] if is_known && only.way == Way::Longer => TextKey::OneChangeLonger,
                [_] if is_known => TextKey::OneChangeShorter,
                _ => TextKey::OneChangeAtMost,
            };
            let probability = if is_known { pace.probability } else { probability };
            let mut values = values.with("probability", teller.probability(probability));
            if let [only] = &moves[..] {
                values = values
                    .with("by", teller.size(&only.by_m))
                    .with("from", teller.stride(only.from))
                    .with("to", teller.stride(only.to));
            }
            teller.say(key, &values, strides)
        }
        Answer::No { probability } if !is_known => {
            let values = values
                .with("probability", teller.probability(1.0 - probability))
                .with("pattern", teller.texts.word(pattern_word(&pace.likeliest.ways())))
                .with("likely", teller.probability(pace.probability));
            teller.say(TextKey::MoreThanOneChange, &values, strides)
        }
        Answer::No { .. } => {
            let (first, last) = (moves.first()?, moves.last()?);
            let mut values = values
                .with("probability", teller.probability(pace.probability))
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

/// "measured", or "measured after the turn" where the coach said when that was left.
fn measured_word<'a>(teller: &Teller<'a>, reading: &Reading) -> &'a str {
    let texts = teller.texts;
    texts.word(if reading.left_turn_at.is_some() { "measured_after_turn" } else { "measured" })
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

pub(super) fn about_level(teller: &Teller, reading: &Reading) -> Vec<Sentence> {
    let (level, sure) = (&reading.level, reading.settings.sure);
    let about = level.about_m.map(|about| teller.setting(about));
    let mut values = Values::default()
        .with("measured", measured_word(teller, reading))
        .with("within", teller.setting(level.within_m))
        .with("about", about.clone().unwrap_or_else(|| teller.texts.word("the_mean").to_owned()))
        .with("their", about.unwrap_or_else(|| teller.texts.word("their_mean").to_owned()));
    if let Some(levelness) = &level.levelness {
        values = values
            .with("range", teller.spread(&levelness.range_m))
            .with("variation", teller.spread(&levelness.variation_percent))
            .with("change", teller.spread(&levelness.change_m))
            .with("trend", teller.signed(&levelness.trend_m_per_stride));
    }
    if let Some(farthest) = level.farthest {
        let is_sure = level.farthest_probability >= sure;
        let word = if is_sure { "farthest_is" } else { "farthest_likely" };
        values = values.with("farthest", teller.texts.word_with(word, &teller.stride(farthest)));
    }
    let level_no = if level.about_m.is_some() { TextKey::LevelNoAbout } else { TextKey::LevelNo };
    let (key, probability) = match level.is_level {
        Answer::Yes { probability } => (TextKey::LevelYes, teller.probability(probability)),
        Answer::No { probability } => (level_no, teller.probability(1.0 - probability)),
        Answer::CannotTell { probability } => {
            (TextKey::LevelCannotTell, teller.undecided(probability, sure))
        }
        Answer::Lacks { .. } => (TextKey::LevelLacks, String::new()),
    };
    let values = values.with("probability", probability);
    let strides = match (key, level.farthest) {
        (TextKey::LevelNo | TextKey::LevelNoAbout, Some(farthest)) => vec![farthest],
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
