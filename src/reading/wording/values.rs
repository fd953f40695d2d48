//! What is put into a sentence.

use super::audience::Audience;
use super::sentence::Sentence;
use super::text_key::TextKey;
use super::texts::Texts;
use crate::quantity::{
    Estimate, LengthUnits, Metres, Unit, WrittenProbability, capital, written, written_bare,
    written_setting,
};

/// Who is told, in which words and units.
#[derive(Clone, Copy)]
pub(super) struct Teller<'a> {
    pub texts: &'a Texts,
    pub audience: Audience,
    pub units: LengthUnits,
}

/// Values by the places they go to.
#[derive(Clone, Default)]
pub(super) struct Values(Vec<(&'static str, String)>);

impl Values {
    pub fn with(mut self, place: &'static str, value: impl Into<String>) -> Self {
        self.0.push((place, value.into()));
        self
    }
}

impl Teller<'_> {
    /// The sentence, if it is said to this audience.
    pub fn say(&self, key: TextKey, values: &Values, strides: Vec<i32>) -> Option<Sentence> {
        let mut text = self.texts.sentence(key, self.audience).to_owned();
        for (place, value) in &values.0 {
            text = text.replace(&format!("{{{place}}}"), value);
        }
        // A number at the beginning may be a word.
        let text = capital(&text);
        (!text.is_empty()).then(|| Sentence { key, text, strides, footfalls: Vec::new() })
    }

    pub fn number<U: Unit>(&self, estimate: &Estimate<U>) -> String {
        written(estimate, self.units).to_string()
    }

    /// A number that cannot be below zero. Where its ± would reach below, what it is at most is said.
    pub fn spread<U: Unit>(&self, estimate: &Estimate<U>) -> String {
        let half = estimate.plus_minus();
        if estimate.value.get() >= half {
            return self.number(estimate);
        }
        let most = Estimate { value: estimate.high95, ..*estimate };
        let [value, most] = [estimate, &most].map(|one| {
            let written = written(one, self.units);
            format!("{}{}", written.value, written.unit_behind())
        });
        value + &self.texts.word_with("at_most", &most)
    }

    /// The size of a number whose sign is said in words.
    pub fn size<U: Unit>(&self, estimate: &Estimate<U>) -> String {
        if estimate.value.get() >= 0.0 {
            return self.number(estimate);
        }
        let turned = |value: U| U::new(-value.get());
        self.number(&Estimate {
            value: turned(estimate.value),
            sd: estimate.sd,
            low95: turned(estimate.high95),
            high95: turned(estimate.low95),
        })
    }

    /// "left" or "right" of a number that is positive to the left.
    pub fn side<U: Unit>(&self, estimate: &Estimate<U>) -> String {
        self.texts.word(if estimate.value.get() >= 0.0 { "left" } else { "right" }).to_owned()
    }

    pub fn setting(&self, length: Metres) -> String {
        match self.units {
            LengthUnits::Metres => written_setting(length, self.units),
            // Feet and inches, as the numbers beside it are.
            LengthUnits::Feet => written_bare(length, self.units),
        }
    }

    pub fn probability(&self, probability: f64) -> String {
        match WrittenProbability::of(probability) {
            WrittenProbability::Over99 => self.texts.word("over_99").to_owned(),
            WrittenProbability::Under1 => self.texts.word("under_1").to_owned(),
            percent @ WrittenProbability::Percent(_) => percent.to_string(),
        }
    }

    /// The probability of what cannot be told; never rounded to one at which it would have been.
    pub fn undecided(&self, probability: f64, sure: f64) -> String {
        let nearest = 0.01;
        let (low, high) = (1.0 - sure + nearest, sure - nearest);
        self.probability(if low < high { probability.clamp(low, high) } else { probability })
    }

    /// The word that marks a place as rough, where another is as likely.
    pub fn roughly(&self, place_probability: f64) -> &str {
        if place_probability < 0.5 { self.texts.word("roughly") } else { "" }
    }

    /// A number with its sign, also where it is above zero.
    pub fn signed<U: Unit>(&self, estimate: &Estimate<U>) -> String {
        let said = self.number(estimate);
        let has_figure =
            said.split(' ').next().is_some_and(|v| v.contains(|c| ('1'..='9').contains(&c)));
        let is_above = estimate.value.get() > 0.0 && has_figure;
        if is_above { format!("+{said}") } else { said }
    }

    /// A stride's number with a true minus.
    pub fn stride(&self, number: i32) -> String {
        number.to_string().replace('-', "\u{2212}")
    }
}
