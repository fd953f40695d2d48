//! What a coach's words on the ground say about the going.

use super::asked::Going;

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
}
