//! Words that can be typed for the things of a marks file.

use clap::builder::{PossibleValuesParser, TypedValueParser};

use crate::marks::{BaseCorner, Event, FenceKind, Lead, Limb, PoleEnd};
use crate::stand::Side;

/// A parser for a fixed list of words; with a second name, also what a word means.
macro_rules! choice {
    ($name:ident, $type:ty, { $($word:literal => $value:expr),+ $(,)? }) => {
        pub(super) fn $name() -> impl TypedValueParser<Value = $type> {
            PossibleValuesParser::new([$($word),+]).map(|word| match word.as_str() {
                $($word => $value,)+
                _ => unreachable!("the list of words is checked before"),
            })
        }
    };
    ($name:ident, $of:ident, $type:ty, { $($word:literal => $value:expr),+ $(,)? }) => {
        choice!($name, $type, { $($word => $value),+ });
        pub(super) fn $of(word: &str) -> Option<$type> {
            match word {
                $($word => Some($value),)+
                _ => None,
            }
        }
    };
}

choice!(pole_end, PoleEnd, { "left" => PoleEnd::Left, "right" => PoleEnd::Right });

choice!(side, Side, { "left" => Side::Left, "right" => Side::Right });

choice!(lead, Lead, { "left" => Lead::Left, "right" => Lead::Right });

choice!(limb, limb_of, Limb, {
    "trailing-hind" => Limb::TrailingHind,
    "leading-hind" => Limb::LeadingHind,
    "trailing-fore" => Limb::TrailingFore,
    "leading-fore" => Limb::LeadingFore,
});

choice!(event, event_of, Event, {
    "stride" => Event::Stride,
    "take-off" => Event::TakeOff,
    "landing" => Event::Landing,
    "away" => Event::Away,
});

choice!(fence_kind, FenceKind, {
    "vertical" => FenceKind::Vertical,
    "oxer" => FenceKind::Oxer,
    "cross-rail" => FenceKind::CrossRail,
    "triple-bar" => FenceKind::TripleBar,
    "ground-pole" => FenceKind::GroundPole,
    "other" => FenceKind::OtherKind,
});

choice!(base_corner, BaseCorner, {
    "take-off-left" => BaseCorner::TakeOffLeft,
    "take-off-right" => BaseCorner::TakeOffRight,
    "landing-left" => BaseCorner::LandingLeft,
    "landing-right" => BaseCorner::LandingRight,
});
