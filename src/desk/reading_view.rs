//! The readings of a revision as the page shows them.

use super::measured::Measured;
use super::wire::SentenceView;
use crate::quantity::{LengthUnits, whole_numbers};
use crate::reading::{
    Audience, LineReading, Reading, RoundReading, Sentence, Settings, TextError, Texts, sentences,
};
use crate::stride::{ApproachMeasurement, ShownStrides};

/// Whom the page reads to, and against what.
pub(super) struct Told {
    pub settings: Settings,
    pub audience: Audience,
    pub units: LengthUnits,
    pub texts: Texts,
    /// What the horse has shown.
    pub shown: Option<ShownStrides>,
}

impl Told {
    /// In English.
    pub fn english(
        shown: Option<ShownStrides>,
        settings: Settings,
        audience: Audience,
        units: LengthUnits,
    ) -> Result<Self, TextError> {
        Ok(Self { settings, audience, units, texts: Texts::english()?, shown })
    }

    /// A revision, read; `None` where it has no numbers.
    pub fn reading(&self, measured: &Measured) -> Option<RoundReading> {
        let (_, measurement) = measured.numbers.as_ref()?;
        let (file, draws) = (&measured.file, &measured.draws);
        Some(RoundReading::of(file, measurement, draws, self.shown.as_ref(), &self.settings))
    }

    /// What it supports in sentences, each with the frames that show it.
    pub fn sentences(
        &self,
        reading: &Reading,
        lines: &[LineReading],
        approach: &ApproachMeasurement,
    ) -> Vec<SentenceView> {
        sentences(reading, lines, &self.texts, self.audience, self.units)
            .into_iter()
            .map(|sentence| sentence_view(sentence, approach))
            .collect()
    }
}

fn sentence_view(sentence: Sentence, approach: &ApproachMeasurement) -> SentenceView {
    let frame_of = |id: &str| {
        let footfall = approach.footfalls.iter().find(|footfall| footfall.footfall == id);
        footfall.map(|footfall| footfall.frame.0)
    };
    let rows = || approach.strides.iter().filter(|row| sentence.strides.contains(&row.number));
    let first_stride = rows().next().and_then(|row| frame_of(&row.from_footfall));
    let hoof = sentence.footfalls.first().and_then(|id| frame_of(id));
    let text = whole_numbers(&sentence.text);
    SentenceView { go_to: first_stride.or(hoof), text, strides: sentence.strides }
}
