//! The sentences there are, what each may say, and how much each matters.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A sentence of the table.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
#[expect(missing_docs, reason = "each is its own sentence in the table")]
pub enum TextKey {
    DiedYes,
    DiedCannotTell,
    RanYes,
    RanCannotTell,
    ShorterThenLonger,
    LongerThenShorter,
    SeveralChanges,
    PaceCannotTell,
    PaceLacks,
    OneChangeLonger,
    OneChangeShorter,
    OneChangeAtMost,
    SteadyPace,
    LevelYes,
    LevelNo,
    LevelCannotTell,
    LevelLacks,
    TakeOffNearer,
    TakeOffFarther,
    TakeOffWithin,
    TakeOffCannotTell,
    LandingNearer,
    LandingFarther,
    LandingWithin,
    LandingCannotTell,
    TakeOffPublished,
    LineRidden,
    LineRules,
    LineOtherRule,
    LineBetween,
    LineMean,
    LineShown,
    LineNeverShown,
    LineByTime,
    TrackMet,
    TrackStraight,
    TrackStraightFrom,
    TrackNotStraight,
    TrackBends,
    TurnLeft,
    PaceNumbers,
    LevelNumbers,
    Asks,
}

impl TextKey {
    /// All of them.
    pub const ALL: [Self; 43] = [
        Self::DiedYes,
        Self::DiedCannotTell,
        Self::RanYes,
        Self::RanCannotTell,
        Self::ShorterThenLonger,
        Self::LongerThenShorter,
        Self::SeveralChanges,
        Self::PaceCannotTell,
        Self::PaceLacks,
        Self::OneChangeLonger,
        Self::OneChangeShorter,
        Self::OneChangeAtMost,
        Self::SteadyPace,
        Self::LevelYes,
        Self::LevelNo,
        Self::LevelCannotTell,
        Self::LevelLacks,
        Self::TakeOffNearer,
        Self::TakeOffFarther,
        Self::TakeOffWithin,
        Self::TakeOffCannotTell,
        Self::LandingNearer,
        Self::LandingFarther,
        Self::LandingWithin,
        Self::LandingCannotTell,
        Self::TakeOffPublished,
        Self::LineRidden,
        Self::LineRules,
        Self::LineOtherRule,
        Self::LineBetween,
        Self::LineMean,
        Self::LineShown,
        Self::LineNeverShown,
        Self::LineByTime,
        Self::TrackMet,
        Self::TrackStraight,
        Self::TrackStraightFrom,
        Self::TrackNotStraight,
        Self::TrackBends,
        Self::TurnLeft,
        Self::PaceNumbers,
        Self::LevelNumbers,
        Self::Asks,
    ];

    /// How much it matters; the least first. What spoilt the approach, then what cannot be told, then
    /// what was well, then the numbers.
    pub(super) fn rank(self) -> u8 {
        match self {
            Self::DiedYes | Self::RanYes => 0,
            Self::ShorterThenLonger | Self::LongerThenShorter | Self::SeveralChanges => 1,
            Self::TakeOffNearer | Self::TakeOffFarther => 2,
            Self::LevelNo => 3,
            Self::DiedCannotTell
            | Self::RanCannotTell
            | Self::LevelCannotTell
            | Self::PaceCannotTell
            | Self::TakeOffCannotTell => 4,
            Self::LevelYes => 5,
            Self::OneChangeLonger
            | Self::OneChangeShorter
            | Self::OneChangeAtMost
            | Self::SteadyPace => 6,
            Self::TakeOffWithin => 7,
            Self::TakeOffPublished => 8,
            Self::LevelLacks | Self::PaceLacks => 9,
            Self::LineRidden => 10,
            Self::LineRules
            | Self::LineOtherRule
            | Self::LineBetween
            | Self::LineMean
            | Self::LineShown
            | Self::LineNeverShown
            | Self::LineByTime => 11,
            Self::LandingNearer
            | Self::LandingFarther
            | Self::LandingWithin
            | Self::LandingCannotTell => 12,
            Self::TrackMet => 13,
            Self::TrackStraight
            | Self::TrackStraightFrom
            | Self::TrackNotStraight
            | Self::TrackBends
            | Self::TurnLeft => 14,
            Self::PaceNumbers => 15,
            Self::LevelNumbers => 16,
            Self::Asks => 17,
        }
    }

    /// Whether it says no more than the numbers that stand beside every approach anyway.
    pub fn is_plain_number(self) -> bool {
        matches!(
            self,
            Self::PaceNumbers | Self::LevelNumbers | Self::TrackMet | Self::LandingWithin
        )
    }

    /// The places its text may name, in braces.
    pub(super) fn places(self) -> &'static [&'static str] {
        match self {
            Self::DiedYes => &["by", "from", "to", "take_off", "probability"],
            Self::DiedCannotTell | Self::RanCannotTell => &["probability"],
            Self::RanYes => &["by", "from", "to", "shorter", "probability"],
            Self::ShorterThenLonger | Self::LongerThenShorter => {
                &["by_first", "from", "turn", "by_second", "to", "probability"]
            }
            Self::SeveralChanges => &["count", "from", "to", "probability"],
            Self::PaceCannotTell => &["pattern", "likely", "probability", "tolerance"],
            Self::PaceLacks | Self::LevelLacks => &[],
            Self::OneChangeLonger | Self::OneChangeShorter => &["by", "from", "to", "probability"],
            Self::OneChangeAtMost => &["probability", "tolerance"],
            Self::SteadyPace => &["tolerance", "probability"],
            Self::LevelYes | Self::LevelCannotTell => {
                &["within", "about", "probability", "range", "their"]
            }
            Self::LevelNo => &["within", "about", "probability", "range", "farthest", "their"],
            Self::TakeOffNearer | Self::LandingNearer => &["distance", "low", "probability"],
            Self::TakeOffFarther | Self::LandingFarther => &["distance", "high", "probability"],
            Self::TakeOffWithin
            | Self::TakeOffCannotTell
            | Self::LandingWithin
            | Self::LandingCannotTell => &["distance", "low", "high", "probability"],
            Self::TakeOffPublished => &["horses", "height", "fresh", "tired", "source"],
            Self::LineRidden => {
                &["taken", "built", "distance", "first", "second", "landing", "take_off"]
            }
            Self::LineRules => &["count", "twelve_foot", "metric"],
            Self::LineOtherRule | Self::LineBetween => &["count"],
            Self::LineMean => &["mean"],
            Self::LineShown | Self::LineNeverShown => &["count", "stride", "where"],
            Self::LineByTime => &["marked"],
            Self::TrackMet => &["where", "way"],
            Self::TrackStraight => &["within", "probability"],
            Self::TrackStraightFrom => &["within", "from", "probability"],
            Self::TrackNotStraight => &["within"],
            Self::TrackBends => &["side", "radius", "drift", "strides"],
            Self::TurnLeft => &["from"],
            Self::PaceNumbers => &["mean", "tempo", "pace"],
            Self::LevelNumbers => &["variation", "change", "trend"],
            Self::Asks => &["parts"],
        }
    }
}
