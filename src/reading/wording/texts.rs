//! The table of all words, as a file.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::audience::Audience;
use super::text_key::TextKey;
use crate::stride::Way;

/// All words of a language.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Texts {
    /// Its BCP 47 tag.
    pub language: String,
    /// Single words; `{}` is where a number or a name goes.
    pub words: BTreeMap<String, String>,
    /// Numbers from none to twelve.
    pub numbers: Vec<String>,
    /// The sentences.
    pub sentences: BTreeMap<TextKey, Text>,
}

/// A sentence for each who may be told; an empty one is not said.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Text {
    /// For the coach.
    pub coach: String,
    /// For the rider.
    pub rider: String,
}

/// A table that cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum TextError {
    /// It is no such table.
    #[error("cannot use the table of texts: {0}")]
    NotATable(#[from] serde_json::Error),
    /// Sentences or words are missing.
    #[error("cannot use the table of texts: it lacks {}", .0.join(", "))]
    Lacks(Vec<String>),
    /// A sentence names a place that is not filled.
    #[error("cannot use the table of texts: sentence `{sentence}` names `{{{place}}}`; it may name {}", .may.join(", "))]
    UnknownPlace {
        /// The sentence.
        sentence: String,
        /// The place.
        place: String,
        /// Those it may name.
        may: Vec<String>,
    },
}

const ENGLISH: &str = include_str!("en.json");

/// Numbers that every table has words for.
const NUMBERS: usize = 13;

impl Texts {
    /// The table that comes with the program. An error is a fault of the program, not of its user.
    pub fn english() -> Result<Self, TextError> {
        Self::of_json(ENGLISH)
    }

    /// A table from a file's text, with every sentence and word that is needed.
    pub fn of_json(json: &str) -> Result<Self, TextError> {
        let texts: Self = serde_json::from_str(json)?;
        texts.check()?;
        Ok(texts)
    }

    fn check(&self) -> Result<(), TextError> {
        let mut lacks: Vec<String> = TextKey::ALL
            .iter()
            .filter(|key| !self.sentences.contains_key(key))
            .map(|key| format!("sentence `{}`", name(*key)))
            .collect();
        let english: Self = serde_json::from_str(ENGLISH)?;
        let words = english.words.keys().filter(|word| !self.words.contains_key(*word));
        lacks.extend(words.map(|word| format!("word `{word}`")));
        if self.numbers.len() < NUMBERS {
            lacks.push(format!("numbers up to {}", NUMBERS - 1));
        }
        if !lacks.is_empty() {
            return Err(TextError::Lacks(lacks));
        }
        for (key, text) in &self.sentences {
            for place in places_of(&text.coach).chain(places_of(&text.rider)) {
                if !key.places().contains(&place) {
                    return Err(TextError::UnknownPlace {
                        sentence: name(*key),
                        place: place.to_owned(),
                        may: key.places().iter().map(|place| format!("{{{place}}}")).collect(),
                    });
                }
            }
        }
        Ok(())
    }

    /// "longer" or "shorter".
    pub fn way(&self, way: Way) -> &str {
        self.word(match way {
            Way::Longer => "longer",
            Way::Shorter => "shorter",
        })
    }

    pub(super) fn sentence(&self, key: TextKey, audience: Audience) -> &str {
        self.sentences.get(&key).map_or("", |text| match audience {
            Audience::Coach => &text.coach,
            Audience::Rider => &text.rider,
        })
    }

    pub(super) fn word(&self, word: &str) -> &str {
        self.words.get(word).map_or("", String::as_str)
    }

    /// A word with something put where its braces are.
    pub(super) fn word_with(&self, word: &str, put: &str) -> String {
        self.word(word).replace("{}", put)
    }

    pub(super) fn number(&self, count: u32) -> String {
        self.numbers.get(count as usize).cloned().unwrap_or_else(|| count.to_string())
    }
}

/// Names in braces.
fn places_of(text: &str) -> impl Iterator<Item = &str> {
    text.split('{').skip(1).filter_map(|rest| rest.split_once('}')).map(|(place, _)| place)
}

/// A key as the file spells it.
fn name(key: TextKey) -> String {
    serde_json::to_value(key)
        .ok()
        .and_then(|value| value.as_str().map(str::to_owned))
        .unwrap_or_default()
}
