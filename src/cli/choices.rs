//! Words that can be typed for things of the core folders: a list beside each thing's own type, where
//! an enum for clap would be that type once more.

use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};

use crate::marks::{BaseCorner, Event, FenceKind, Lead, Limb, PoleEnd};
use crate::quantity::LengthUnits;
use crate::stand::Side;

/// A word and what it stands for.
type Word<T> = (&'static str, T);
/// A word, what it means where the help tells, and what it stands for.
pub(super) type ToldWord<T> = (&'static str, &'static str, T);

/// A parser for a fixed list of words that say themselves what they mean.
pub(super) fn choice<T: Copy + Send + Sync + 'static>(
    words: &'static [Word<T>],
) -> impl TypedValueParser<Value = T> {
    PossibleValuesParser::new(words.iter().map(|(word, _)| *word))
        .try_map(|word| meant(words, &word).ok_or("no such word"))
}

/// A parser for a fixed list of words that the help explains.
pub(super) fn told_choice<T: Copy + Send + Sync + 'static>(
    words: &'static [ToldWord<T>],
) -> impl TypedValueParser<Value = T> {
    let known = words.iter().map(|(word, meaning, _)| PossibleValue::new(*word).help(*meaning));
    PossibleValuesParser::new(known).try_map(|word| {
        let found = words.iter().find(|(known, ..)| *known == word);
        found.map(|(.., thing)| *thing).ok_or("no such word")
    })
}

/// What a word stands for.
pub(super) fn meant<T: Copy>(words: &[Word<T>], word: &str) -> Option<T> {
    words.iter().find(|(known, _)| *known == word).map(|(_, thing)| *thing)
}

pub(super) const UNITS: [ToldWord<LengthUnits>; 2] =
    [("m", "Metres", LengthUnits::Metres), ("ft", "Feet and inches", LengthUnits::Feet)];

pub(super) const POLE_ENDS: [Word<PoleEnd>; 2] =
    [("left", PoleEnd::Left), ("right", PoleEnd::Right)];

pub(super) const SIDES: [Word<Side>; 2] = [("left", Side::Left), ("right", Side::Right)];

pub(super) const LEADS: [Word<Lead>; 2] = [("left", Lead::Left), ("right", Lead::Right)];

pub(super) const LIMBS: [Word<Limb>; 4] = [
    ("trailing-hind", Limb::TrailingHind),
    ("leading-hind", Limb::LeadingHind),
    ("trailing-fore", Limb::TrailingFore),
    ("leading-fore", Limb::LeadingFore),
];

pub(super) const EVENTS: [Word<Event>; 4] = [
    ("stride", Event::Stride),
    ("take-off", Event::TakeOff),
    ("landing", Event::Landing),
    ("away", Event::Away),
];

pub(super) const FENCE_KINDS: [Word<FenceKind>; 6] = [
    ("vertical", FenceKind::Vertical),
    ("oxer", FenceKind::Oxer),
    ("cross-rail", FenceKind::CrossRail),
    ("triple-bar", FenceKind::TripleBar),
    ("ground-pole", FenceKind::GroundPole),
    ("other", FenceKind::OtherKind),
];

pub(super) const BASE_CORNERS: [Word<BaseCorner>; 4] = [
    ("take-off-left", BaseCorner::TakeOffLeft),
    ("take-off-right", BaseCorner::TakeOffRight),
    ("landing-left", BaseCorner::LandingLeft),
    ("landing-right", BaseCorner::LandingRight),
];
