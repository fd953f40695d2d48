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
    DiedDepthUnknown,
    RanYes,
    RanCannotTell,
    ShorterThenLonger,
    LongerThenShorter,
    SeveralChanges,
    MoreThanOneChange,
    PaceCannotTell,
    PaceLacks,
    OneChangeLonger,
    OneChangeShorter,
    OneChangeAtMost,
    OneChangeNotSettled,
    SteadyPace,
    LevelYes,
    LevelNo,
    LevelNoAbout,
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
    LineRiddenEither,
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
    TrackStraightOnlyFrom,
    TrackNotStraight,
    TrackCrooked,
    TrackBends,
    TurnLeft,
    PaceNumbers,
    LevelNumbers,
    Limits,
    Asks,
}

impl TextKey {
    /// All of them.
    pub const ALL: [Self; 51] = [
        Self::DiedYes,
        Self::DiedCannotTell,
        Self::DiedDepthUnknown,
        Self::RanYes,
        Self::RanCannotTell,
        Self::ShorterThenLonger,
        Self::LongerThenShorter,
        Self::SeveralChanges,
        Self::MoreThanOneChange,
        Self::PaceCannotTell,
        Self::PaceLacks,
        Self::OneChangeLonger,
        Self::OneChangeShorter,
        Self::OneChangeAtMost,
        Self::OneChangeNotSettled,
        Self::SteadyPace,
        Self::LevelYes,
        Self::LevelNo,
        Self::LevelNoAbout,
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
        Self::LineRiddenEither,
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
        Self::TrackStraightOnlyFrom,
        Self::TrackNotStraight,
        Self::TrackCrooked,
        Self::TrackBends,
        Self::TurnLeft,
        Self::PaceNumbers,
        Self::LevelNumbers,
        Self::Limits,
        Self::Asks,
    ];

    /// How much it matters; the least first. What spoilt the approach, then what cannot be told, then
    /// what was well, then the numbers.
    pub(super) fn rank(self) -> u8 {
        match self {
            Self::DiedYes | Self::RanYes => 0,
            Self::ShorterThenLonger
            | Self::LongerThenShorter
            | Self::SeveralChanges
            | Self::MoreThanOneChange
            | Self::DiedDepthUnknown => 1,
            Self::TakeOffNearer
            | Self::TakeOffFarther
            | Self::LandingNearer
            | Self::LandingFarther => 2,
            Self::LevelNo | Self::LevelNoAbout => 3,
            Self::DiedCannotTell
            | Self::RanCannotTell
            | Self::LevelCannotTell
            | Self::PaceCannotTell
            | Self::TakeOffCannotTell => 4,
            Self::LevelYes => 5,
            Self::OneChangeLonger
            | Self::OneChangeShorter
            | Self::OneChangeAtMost
            | Self::OneChangeNotSettled
            | Self::SteadyPace => 6,
            Self::TakeOffWithin => 7,
            Self::TakeOffPublished => 8,
            Self::LevelLacks | Self::PaceLacks => 9,
            Self::LineRidden | Self::LineRiddenEither => 10,
            Self::LineRules
            | Self::LineOtherRule
            | Self::LineBetween
            | Self::LineMean
            | Self::LineShown
            | Self::LineNeverShown
            | Self::LineByTime => 11,
            Self::LandingWithin | Self::LandingCannotTell => 12,
            Self::TrackMet => 13,
            Self::TrackStraight
            | Self::TrackStraightFrom
            | Self::TrackStraightOnlyFrom
            | Self::TrackNotStraight
            | Self::TrackCrooked
            | Self::TrackBends
            | Self::TurnLeft => 14,
            Self::PaceNumbers => 15,
            Self::LevelNumbers => 16,
            Self::Asks => 17,
            Self::Limits => 18,
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
            Self::DiedYes => &["by", "roughly", "from", "to", "take_off", "probability"],
            Self::DiedDepthUnknown => &["by", "roughly", "from", "to", "probability"],
            Self::DiedCannotTell | Self::RanCannotTell => &["probability"],
            Self::RanYes => &["by", "roughly", "from", "to", "shorter", "probability"],
            Self::ShorterThenLonger | Self::LongerThenShorter => {
                &["by_first", "roughly", "from", "turn", "by_second", "to", "probability"]
            }
            Self::SeveralChanges => &["count", "roughly", "from", "to", "probability"],
            Self::MoreThanOneChange => &["pattern", "likely", "probability"],
            Self::PaceCannotTell => &["pattern", "likely", "probability", "tolerance"],
            Self::PaceLacks | Self::LevelLacks => &["measured"],
            Self::OneChangeLonger | Self::OneChangeShorter => {
                &["by", "roughly", "from", "to", "probability"]
            }
            Self::OneChangeAtMost | Self::OneChangeNotSettled => &["probability", "tolerance"],
            Self::SteadyPace => &["tolerance", "probability"],
            Self::LevelYes | Self::LevelCannotTell => {
                &["within", "about", "probability", "range", "their"]
            }
            Self::LevelNo | Self::LevelNoAbout => {
                &["within", "about", "probability", "range", "farthest", "their"]
            }
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
            Self::LineRiddenEither => {
                &["taken", "built", "other", "distance", "first", "second", "landing", "take_off"]
            }
            Self::LineRules => &["count", "twelve_foot", "metric"],
            Self::LineOtherRule | Self::LineBetween => &["count"],
            Self::LineMean => &["mean"],
            Self::LineShown | Self::LineNeverShown => &["count", "stride", "where"],
            Self::LineByTime => &["marked"],
            Self::TrackMet => &["where", "way"],
            Self::TrackStraight | Self::TrackCrooked => &["within", "probability"],
            Self::TrackStraightFrom | Self::TrackStraightOnlyFrom => {
                &["within", "from", "probability"]
            }
            Self::TrackNotStraight => &["within"],
            Self::TrackBends => &["side", "radius", "drift", "strides"],
            Self::TurnLeft => &["from"],
            Self::PaceNumbers => &["mean", "tempo", "pace"],
            Self::LevelNumbers => &["variation", "change", "trend"],
            Self::Asks => &["parts"],
            Self::Limits => &[
                "within",
                "about",
                "their",
                "tolerance",
                "low",
                "high",
                "landing_low",
                "landing_high",
                "added",
                "straight",
                "sure",
            ],
        }
    }
}
