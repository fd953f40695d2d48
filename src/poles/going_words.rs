//! What a coach's words on the ground say about the going.

use super::asked::{Asked, Going};
use super::warning::SLOPING_PERCENT;
use crate::quantity::written_percent;

/// Words for ground that a horse must pull its feet out of.
const DEEP: [&str; 4] = ["deep", "heavy", "muddy", "boggy"];
/// Words for ground on which it slips or is jarred.
const SLIPPERY: [&str; 5] = ["slippery", "hard", "greasy", "icy", "frozen"];
/// A word that turns the next one round.
const NOT: [&str; 2] = ["not", "never"];

impl Going {
    /// The going that `words` tell; `None` where they tell none ("sand", "not deep"). English words
    /// only; which they are is common practice, no source.
    pub fn told_by(words: &str) -> Option<Self> {
        let words = words.to_lowercase();
        let words: Vec<&str> = words.split(|letter: char| !letter.is_alphabetic()).collect();
        let told = |known: &[&str]| {
            words
                .iter()
                .enumerate()
                .any(|(at, word)| known.contains(word) && !(at > 0 && NOT.contains(&words[at - 1])))
        };
        match (told(&DEEP), told(&SLIPPERY)) {
            (true, _) => Some(Self::Deep),
            (_, true) => Some(Self::Slippery),
            _ => None,
        }
    }

    /// In a word.
    pub fn words(self) -> &'static str {
        match self {
            Self::Good => "good",
            Self::Deep => "deep",
            Self::Slippery => "slippery",
        }
    }
}

impl Asked {
    /// What the ground asks for, a few words each: "deep going", "3 % uphill"; a slope that does not
    /// count is said to.
    pub fn ground_words(&self) -> Vec<String> {
        let mut ground = Vec::new();
        if self.going != Going::Good {
            ground.push(format!("{} going", self.going.words()));
        }
        ground.extend(slope_words(self.slope_percent));
        ground
    }
}

/// "3 % uphill"; nothing for level ground.
pub fn slope_words(slope_percent: f64) -> Option<String> {
    let percent = written_percent(slope_percent.abs());
    if slope_percent.abs() < 0.05 {
        None
    } else if slope_percent.abs() < SLOPING_PERCENT {
        Some(format!("{percent} slope, taken as level"))
    } else if slope_percent > 0.0 {
        Some(format!("{percent} uphill"))
    } else {
        Some(format!("{percent} downhill"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_whole_words_tell_the_going() {
        assert_eq!(Going::told_by("Deep sand, wet"), Some(Going::Deep));
        assert_eq!(Going::told_by("grass (slippery at the gate)"), Some(Going::Slippery));
        assert_eq!(Going::told_by("sand, not deep"), None);
        assert_eq!(Going::told_by("hardwood chips"), None);
        assert_eq!(Going::told_by(""), None);
    }

    #[test]
    fn a_slope_for_drainage_is_level_ground() {
        let words = |slope| slope_words(slope).unwrap_or_default();
        assert_eq!([0.0, -3.0, 2.0].map(words), ["", "3 % downhill", "2 % uphill"]);
        assert_eq!(
            [1.5, -1.0].map(words),
            ["1.5 % slope, taken as level", "1 % slope, taken as level"]
        );
    }
}
