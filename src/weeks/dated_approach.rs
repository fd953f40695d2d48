//! One approach of one round, with what a comparison over weeks needs of it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::marks::{Fence, MarksDoubt, MarksFile, Round};
use crate::quantity::{Estimate, Metres, ThinnedDraws};
use crate::reading::FenceAsks;
use crate::stride::{
    ApproachDraws, ApproachMeasurement, EdgeDistance, Levelness, Measurement, PaceChanges,
    StrideDoubt,
};
use crate::survey::SurveyDoubt;

/// An approach with its date and its numbers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct DatedApproach {
    /// Name of the marks file, from the folder that was looked through; empty where it is left off.
    pub file: String,
    /// The approach's id in it.
    pub approach: String,
    /// Day of the round, `YYYY-MM-DD`.
    pub date: Option<String>,
    /// Who rode; may be empty.
    pub rider: String,
    /// Which horse; may be empty.
    pub horse: String,
    /// What the fence is called; its id when it has no name.
    pub fence: String,
    /// Whether the fence has a name of its own.
    pub fence_named: bool,
    /// What it asks.
    pub asks: FenceAsks,
    /// The strides in the order ridden: −n first, −1 last.
    pub strides: Vec<NumberedStride>,
    /// How even the strides were; needs three.
    pub levelness: Option<Levelness>,
    /// How often the pace changed; needs three strides, too.
    pub pace_changes: Option<PaceChanges>,
    /// Hind hoof to the ground line.
    pub take_off: Option<EdgeDistance>,
    /// Far base to the first fore hoof.
    pub landing: Option<EdgeDistance>,
    /// The coach's notes on the round, the approach and its strides.
    pub notes: Vec<String>,
    /// Reasons to trust its numbers less, a sentence each.
    pub doubts: Vec<String>,
}

/// A stride's length.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct NumberedStride {
    /// Counted back from the fence; −1 is the last.
    pub number: i32,
    /// Its length; `None` when a hoof of it was not seen.
    pub length_m: Option<Estimate<Metres>>,
}

/// What the numbers that are compared were drawn as.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ComparedDraws {
    /// Mean stride, metres.
    pub mean_m: Option<ThinnedDraws>,
    /// Longest minus shortest stride, metres.
    pub range_m: Option<ThinnedDraws>,
    /// Standard deviation over mean, per cent.
    pub variation_percent: Option<ThinnedDraws>,
    /// Take-off distance, metres.
    pub take_off_m: Option<ThinnedDraws>,
}

/// An approach and the draws behind its numbers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct WeeksEntry {
    /// The approach.
    pub approach: DatedApproach,
    /// The draws.
    pub draws: ComparedDraws,
}

impl WeeksEntry {
    /// Every approach of a measured marks file; `draws` are those of its approaches in order. The
    /// name of the file is left empty.
    pub fn of_round(
        file: &MarksFile,
        measurement: &Measurement,
        draws: Vec<ApproachDraws>,
    ) -> Vec<Self> {
        let mut entries = Vec::new();
        for (measured, draws) in measurement.approaches.iter().zip(draws) {
            let draws = ComparedDraws {
                mean_m: ThinnedDraws::of(draws.mean_m),
                range_m: ThinnedDraws::of(draws.range_m),
                variation_percent: ThinnedDraws::of(draws.variation_percent),
                take_off_m: ThinnedDraws::of(draws.take_off_m),
            };
            entries.push(Self { approach: dated(file, measurement, measured), draws });
        }
        entries
    }
}

fn dated(
    file: &MarksFile,
    measurement: &Measurement,
    measured: &ApproachMeasurement,
) -> DatedApproach {
    let round = &file.round;
    let fence_named =
        file.fence(&measured.fence.id).is_some_and(|fence| !fence.name.trim().is_empty());
    DatedApproach {
        file: String::new(),
        approach: measured.approach.clone(),
        date: round.date.as_deref().map(str::trim).filter(|date| !date.is_empty()).map(Into::into),
        rider: round.rider.trim().to_owned(),
        horse: round.horse.trim().to_owned(),
        fence: measured.fence.name.trim().to_owned(),
        fence_named,
        asks: match file.fence(&measured.fence.id) {
            Some(fence) => FenceAsks::of(fence, round),
            None => FenceAsks::of(&Fence::new(measured.fence.id.clone()), round),
        },
        strides: measured
            .strides
            .iter()
            .map(|row| NumberedStride { number: row.number, length_m: row.length_m })
            .collect(),
        levelness: measured.levelness.clone(),
        pace_changes: measured.pace_changes.clone(),
        take_off: measured.take_off.clone(),
        landing: measured.landing.clone(),
        notes: notes(round, measured),
        doubts: doubts(file, measurement, measured),
    }
}

fn notes(round: &Round, measured: &ApproachMeasurement) -> Vec<String> {
    let whole = [&round.note, &measured.note].into_iter().map(|note| note.trim().to_owned());
    let strides = measured.strides.iter().filter(|row| !row.note.trim().is_empty());
    let strides =
        strides.map(|row| format!("stride \u{2212}{}: {}", row.number.abs(), row.note.trim()));
    whole.chain(strides).filter(|note| !note.is_empty()).collect()
}

fn doubts(
    file: &MarksFile,
    measurement: &Measurement,
    measured: &ApproachMeasurement,
) -> Vec<String> {
    // Whether a note names a stride that is there is known only now.
    let of_marks = file.doubts();
    let of_marks =
        of_marks.iter().filter(|doubt| !matches!(doubt, MarksDoubt::NoteOnNoStride { .. }));
    let suspects = measurement.suspects.iter().map(|suspect| {
        format!(
            "{} on frame {} does not fit the other marks and was left out",
            suspect.mark, suspect.frame.0
        )
    });
    suspects
        .chain(of_marks.map(MarksDoubt::sentence))
        .chain(measurement.doubts.iter().map(SurveyDoubt::sentence))
        .chain(measured.doubts.iter().map(StrideDoubt::sentence))
        .collect()
}

impl DatedApproach {
    /// The day, or that there is none.
    pub fn date_words(&self) -> &str {
        self.date.as_deref().unwrap_or("no date")
    }

    /// Takes out who rode which horse and what the file is called; `without` takes names out of a
    /// text.
    pub(super) fn leave_names_off(&mut self, without: &dyn Fn(&str) -> String) {
        let asks = &mut self.asks;
        let texts =
            [&mut self.approach, &mut self.fence, &mut asks.behind, &mut asks.around].into_iter();
        for text in texts.chain(&mut self.notes).chain(&mut self.doubts) {
            *text = without(text);
        }
        for name in [&mut self.rider, &mut self.horse, &mut self.file] {
            name.clear();
        }
    }
}
