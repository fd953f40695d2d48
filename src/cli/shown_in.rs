//! What a horse has shown in other rounds than the one that is read or planned from.

use std::path::{Path, PathBuf};

use super::Failure;
use super::measured_round::MeasuredRound;
use crate::store::shown_elsewhere;
use crate::stride::ShownStrides;

/// Where other rounds of the horse are.
#[derive(clap::Args, Clone, Debug, Default)]
pub struct ShownArgs {
    /// A folder with marks files of other rounds: what this horse has shown in them counts, too, where
    /// it is said whether it has shown a stride
    #[arg(long, value_name = "FOLDER")]
    pub shown_in: Option<PathBuf>,
}

/// What the horse has shown, and notes on what could not be counted.
pub(super) struct Shown {
    pub strides: Option<ShownStrides>,
    pub notes: Vec<String>,
}

impl Shown {
    /// In `round`, whose marks file is `marks`, and in the other rounds of `folder`.
    pub(super) fn of(
        round: &MeasuredRound,
        marks: &Path,
        folder: Option<&Path>,
    ) -> Result<Self, Failure> {
        let here = ShownStrides::of_approaches(&round.measurement.approaches);
        let Some(folder) = folder else {
            return Ok(Self { strides: here, notes: Vec::new() });
        };
        let horse = round.file.round.horse.trim();
        if horse.is_empty() {
            let why = "cannot tell which rounds are of this horse: the marks file names none";
            return Err(Failure::new(why).hint(
                "`groundline mark MARKS round --horse NAME` names it, in every round alike",
            ));
        }
        let elsewhere = shown_elsewhere(folder, marks, horse)?;
        let strides = elsewhere.with(here);
        let note = |why: String| format!("not counted among what the horse has shown: {why}");
        Ok(Self { strides, notes: elsewhere.left_out.into_iter().map(note).collect() })
    }
}
