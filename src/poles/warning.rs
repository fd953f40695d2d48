//! What to beware of about a distance, as data with a sentence.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::asked::{Asked, Going, Readiness};
use super::level_strides::LEVEL_PERCENT;
use super::pony_note::PonyNote;
use super::wording::{laid_words, shown_words, span_words};
use crate::quantity::{LengthUnits, Metres, Unit, written_percent};
use crate::stride::ShownStrides;

/// Slope from which the ground counts as uphill or downhill, per cent: arenas are built to fall by 1
/// to 1.5 % for drainage. Common practice, no source.
pub const SLOPING_PERCENT: f64 = 2.0;

/// Why a distance is shorter than the full one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ShortenedBy {
    /// A trot approach: fences 1–2 by up to 3 ft (R21).
    TrotApproach,
    /// A fence too low to need half a stride on either side (R11, R3).
    LowFence,
    /// Poles on the ground: a walked pace on either side (R11).
    PolesOnGround,
    /// Uphill.
    Uphill,
    /// Deep going.
    DeepGoing,
    /// Slippery going.
    SlipperyGoing,
    /// A tired horse.
    TiredHorse,
    /// A green horse.
    GreenHorse,
}

/// What a reason takes off a full distance, or several that act once together.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Shortening {
    /// Why.
    pub why: Vec<ShortenedBy>,
    /// By how much.
    pub by_m: Metres,
}

/// Something to beware of.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "warning", rename_all = "snake_case")]
pub enum PlanWarning {
    /// The aim lies outside every published row that applies.
    OutsidePublished {
        /// Lowest of those rows.
        low_m: Metres,
        /// Highest of them.
        high_m: Metres,
        /// How far outside; above 0 longer.
        by_m: Metres,
    },
    /// The horse has never shown the stride it would need.
    NeverShown {
        /// The stride it would need.
        needed_m: Metres,
        /// What it has shown.
        shown: ShownStrides,
    },
    /// The aim is shorter than a full distance: (n+1) × stride for a line, the middle of the tables
    /// for anything else.
    Shortened {
        /// What each reason takes; those of ground and horse stand together.
        parts: Vec<Shortening>,
    },
    /// Of the whole plan: ground or horse ask for less, and every aim is at the short end.
    ShortEnd {
        /// Why.
        why: Vec<ShortenedBy>,
    },
    /// Of the whole plan: it is for a pony.
    Pony(PonyNote),
    /// Of the whole plan: the ground falls: strides grow, and no source says by how much.
    Downhill,
    /// Rows from memory only.
    MemoryOnly,
    /// No published row applies.
    NonePublished,
    /// Of the measured strides some are not level with the others, and the plan rests on the others.
    StridesLeftOut {
        /// Their numbers, counted back from the fence.
        numbers: Vec<i32>,
    },
    /// The measured strides are level in no majority: the plan rests on the mean of all.
    UnevenStrides,
}

/// Reasons that lie in ground and horse. No source gives an amount (section 9 of the design page
/// and section 6 of the reference values say only "shorten"), so none is invented: the aim moves
/// to where the tables begin, once.
pub(super) fn reasons_to_start_short(asked: &Asked) -> Vec<ShortenedBy> {
    let mut why = Vec::new();
    if asked.slope_percent >= SLOPING_PERCENT {
        why.push(ShortenedBy::Uphill);
    }
    match asked.going {
        Going::Good => {}
        Going::Deep => why.push(ShortenedBy::DeepGoing),
        Going::Slippery => why.push(ShortenedBy::SlipperyGoing),
    }
    match asked.readiness {
        Readiness::Ready => {}
        Readiness::Tired => why.push(ShortenedBy::TiredHorse),
        Readiness::Green => why.push(ShortenedBy::GreenHorse),
    }
    why
}

impl Shortening {
    /// That ground and horse move the aim by `by_m`, metres, if they do.
    pub(super) fn to_the_short_end(asked: &Asked, by_m: f64) -> Option<Self> {
        let why = reasons_to_start_short(asked);
        (!why.is_empty()).then(|| Self { why, by_m: Metres::new(by_m) })
    }

    /// "uphill, deep going".
    pub(super) fn words(&self) -> String {
        why_words(&self.why)
    }
}

/// That ground and horse move every distance, in words.
pub(super) fn short_end_words(why: &[ShortenedBy]) -> String {
    let once = if why.len() > 1 { ", once for all of these" } else { "" };
    let steep = if why.contains(&ShortenedBy::Uphill) { ", however steep" } else { "" };
    format!(
        "{}: no source gives an amount, so each distance starts at its short end{once}{steep}",
        why_words(why)
    )
}

fn why_words(why: &[ShortenedBy]) -> String {
    why.iter().map(|why| why.words()).collect::<Vec<_>>().join(", ")
}

pub(super) fn is_downhill(asked: &Asked) -> bool {
    asked.slope_percent <= -SLOPING_PERCENT
}

/// "−4, −1", the numbers of strides.
pub(super) fn numbers_words(numbers: &[i32]) -> String {
    let words = numbers.iter().map(|number| format!("\u{2212}{}", number.unsigned_abs()));
    words.collect::<Vec<_>>().join(", ")
}

impl ShortenedBy {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::TrotApproach => "trot approach",
            Self::LowFence => "low fence",
            Self::PolesOnGround => "poles on the ground",
            Self::Uphill => "uphill",
            Self::DeepGoing => "deep going",
            Self::SlipperyGoing => "slippery going",
            Self::TiredHorse => "tired horse",
            Self::GreenHorse => "green horse",
        }
    }
}

impl PlanWarning {
    /// In few words, for warnings of a distance or of a version that a list has room for.
    pub fn brief(&self) -> Option<&'static str> {
        match self {
            Self::OutsidePublished { .. } => Some("outside the published tables"),
            Self::NeverShown { .. } => Some("not among the strides measured"),
            _ => None,
        }
    }

    /// The warning in a sentence for the coach.
    pub fn sentence(&self, units: LengthUnits) -> String {
        let length = |metres: &Metres| laid_words(*metres, units);
        match self {
            Self::OutsidePublished { low_m, high_m, by_m } => format!(
                "{} {} than any published table for it ({})",
                laid_words(Metres::new(by_m.get().abs()), units),
                if by_m.get() > 0.0 { "longer" } else { "shorter" },
                span_words(*low_m, *high_m, units)
            ),
            Self::NeverShown { needed_m, shown } => format!(
                "needs a stride of {}, which is not among those measured of this horse ({})",
                length(needed_m),
                shown_words(shown, units)
            ),
            Self::Shortened { parts } => {
                let part =
                    |part: &Shortening| format!("by {}: {}", length(&part.by_m), part.words());
                format!("shortened {}", parts.iter().map(part).collect::<Vec<_>>().join("; "))
            }
            Self::ShortEnd { why } => format!(
                "{}, and no version of a line is offered that goes below that or undoes it",
                short_end_words(why)
            ),
            Self::Pony(note) => note.sentence(units),
            Self::Downhill => "downhill strides grow; no source says by how much, so nothing is \
                               added, however steep"
                .into(),
            Self::MemoryOnly => "only figures from memory stand beside it: check them first".into(),
            Self::NonePublished => "no published table for it was read".into(),
            Self::StridesLeftOut { numbers } => {
                let (noun, verb) =
                    if numbers.len() == 1 { ("stride", "is") } else { ("strides", "are") };
                format!(
                    "{noun} {} of this approach {verb} more than {} off the middle of all and left \
                     out; better plan from a level approach, or type a stride",
                    numbers_words(numbers),
                    written_percent(LEVEL_PERCENT)
                )
            }
            Self::UnevenStrides => {
                "the strides of this approach are uneven, and their mean is a weak \
                                    basis; better plan from a level approach, or type a stride"
                    .into()
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stride::StrideSpan;

    #[test]
    fn every_warning_is_a_sentence() {
        let metres = Metres::new;
        let never = PlanWarning::NeverShown {
            needed_m: metres(3.9),
            shown: ShownStrides {
                spans: vec![StrideSpan {
                    low_m: metres(3.3),
                    shortest_m: metres(3.4),
                    longest_m: metres(3.6),
                    high_m: metres(3.7),
                }],
                rounds: 2,
                left_out: 0,
            },
        };
        assert_eq!(
            never.sentence(LengthUnits::Metres),
            "needs a stride of 3.90 m, which is not among those measured of this horse (3.40 to 3.60 m, in 2 rounds)"
        );
        let shorter = PlanWarning::OutsidePublished {
            low_m: metres(7.3152),
            high_m: metres(8.0772),
            by_m: metres(-0.3048),
        };
        assert_eq!(
            shorter.sentence(LengthUnits::Feet),
            "1 ft shorter than any published table for it (24 ft to 26 ft 6 in)"
        );
        let plain = [PlanWarning::Downhill, PlanWarning::MemoryOnly, PlanWarning::NonePublished];
        let said = plain.map(|warning| warning.sentence(LengthUnits::Metres));
        assert!(said[0].starts_with("downhill") && said[1].contains("memory"));
        assert_eq!(said[2], "no published table for it was read");
        let left_out = PlanWarning::StridesLeftOut { numbers: vec![-4, -1] };
        let said = left_out.sentence(LengthUnits::Metres);
        assert!(
            said.starts_with("strides −4, −1 of this approach are more than 5 % off"),
            "{said}"
        );
        assert!(PlanWarning::UnevenStrides.sentence(LengthUnits::Feet).contains("uneven"));
    }
}
