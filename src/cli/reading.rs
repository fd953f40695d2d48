//! `groundline reading`: what the numbers of an approach support, in sentences.

use std::io::Write;
use std::path::Path;

use super::Failure;
use super::chosen_approach::{Unnamed, chosen_approach};
use super::measured_round::MeasuredRound;
use super::reading_args::{ReadingArgs, TellerArgs};
use super::shown_in::Shown;
use crate::poles::CAUTIONS;
use crate::quantity::LengthUnits;
use crate::reading::{Audience, LineReading, Reading, Sentence, Texts, sentences};
use crate::store::StoreError;
use crate::tables::{ReadingJson, ReadingsJson, leave_names_off_json};

pub(super) fn run(args: ReadingArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let teller = RoundTeller::of(&args.teller, Audience::Coach, args.measured.units)?;
    let round = MeasuredRound::of(&args.measured)?;
    let shown = Shown::of(&round, &args.measured.marks, args.shown.shown_in.as_deref())?;
    let all = round.reading(shown.strides.as_ref(), &args.judge.settings(args.band));
    let chosen = args.approach.as_deref();
    if chosen.is_some() {
        chosen_approach(&round.measurement.approaches, chosen, Unnamed::First)?;
    }
    let readings: Vec<(&Reading, Vec<Sentence>)> = all
        .readings
        .iter()
        .filter(|reading| chosen.is_none_or(|id| reading.approach == id))
        .map(|reading| (reading, teller.sentences(reading, &all.lines)))
        .collect();
    let without = |text: &str| match args.no_names {
        true => round.file.round.without_names(text),
        false => text.to_owned(),
    };
    if args.json {
        let approaches = readings
            .into_iter()
            .map(|(reading, mut sentences)| {
                for sentence in &mut sentences {
                    sentence.text = without(&sentence.text);
                }
                ReadingJson { reading, sentences }
            })
            .collect();
        let audience = teller.audience;
        let json = ReadingsJson { approaches, lines: &all.lines, audience };
        let mut json = serde_json::to_value(&json).map_err(Failure::new)?;
        if args.no_names {
            leave_names_off_json(&mut json, &round.file.round);
        }
        writeln!(out, "{}", serde_json::to_string_pretty(&json).map_err(Failure::new)?)?;
        return Ok(());
    }
    for (reading, sentences) in readings {
        writeln!(
            out,
            "{}",
            without(&format!("approach `{}` to {}", reading.approach, reading.fence))
        )?;
        for sentence in sentences {
            writeln!(out, "  {}", without(&sentence.text))?;
        }
        writeln!(out)?;
    }
    for note in &shown.notes {
        writeln!(out, "note: {}", without(note))?;
    }
    writeln!(
        out,
        "Nothing here is a published limit: what is level, a change or a good take-off is the coach's \
         setting, what is fine and what spoils an approach is common practice. {}",
        CAUTIONS[0]
    )?;
    Ok(())
}

/// Whoever words readings: the table, for whom, in which units.
pub(super) struct RoundTeller {
    pub texts: Texts,
    audience: Audience,
    units: LengthUnits,
}

impl RoundTeller {
    /// For `usual` where nobody else is named.
    pub(super) fn of(
        args: &TellerArgs,
        usual: Audience,
        units: LengthUnits,
    ) -> Result<Self, Failure> {
        let texts = match &args.texts {
            Some(path) => read_texts(path)?,
            None => Texts::english().map_err(Failure::new)?,
        };
        Ok(Self { texts, audience: args.audience.unwrap_or(usual), units })
    }

    pub(super) fn sentences(&self, reading: &Reading, lines: &[LineReading]) -> Vec<Sentence> {
        sentences(reading, lines, &self.texts, self.audience, self.units)
    }
}

fn read_texts(path: &Path) -> Result<Texts, Failure> {
    let text = std::fs::read_to_string(path)
        .map_err(|source| StoreError::Unreadable { path: path.to_owned(), source })?;
    Texts::of_json(&text).map_err(|error| {
        Failure::new(format!("{error} (`{}`)", path.display()))
            .hint("`groundline schema --texts` prints the English table to begin from")
    })
}
