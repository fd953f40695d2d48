//! What can be typed for `sheet`, and the coach's band.

use std::path::PathBuf;

use super::measured_args::MeasuredArgs;
use super::reading_args::{JudgeArgs, TellerArgs};
use super::shown_in::ShownArgs;
use super::spots;
use crate::draw::Tolerance;
use crate::quantity::{Metres, Unit};

/// The lengths the coach calls level: her setting, since there is no published threshold.
#[derive(clap::Args, Debug, Default, Clone, Copy)]
pub struct BandArgs {
    /// How far a stride may be off to either side and still count as level, metres [default: 0.30]
    #[arg(long, value_name = "LENGTH", value_parser = spots::band_length)]
    pub level_within: Option<f64>,
    /// The length to be off from, metres [default: the mean of the strides]
    #[arg(long, value_name = "LENGTH", value_parser = spots::band_length)]
    pub level_about: Option<f64>,
}

impl BandArgs {
    /// The coach's band, when she stated one.
    pub fn tolerance(self) -> Option<Tolerance> {
        if self.level_within.is_none() && self.level_about.is_none() {
            return None;
        }
        let half = Metres::new(self.level_within.unwrap_or(Tolerance::USUAL_HALF_M));
        Some(Tolerance { middle: self.level_about.map(Metres::new), half })
    }
}

/// Arguments of `sheet`.
#[derive(clap::Args, Debug)]
pub struct SheetArgs {
    #[command(flatten)]
    pub measured: MeasuredArgs,
    /// The file to write, .pdf or .png; of several pages NAME.png becomes NAME-1.png, NAME-2.png …
    #[arg(long, short, value_name = "FILE")]
    pub output: PathBuf,
    #[command(flatten)]
    pub band: BandArgs,
    #[command(flatten)]
    pub judge: JudgeArgs,
    #[command(flatten)]
    pub teller: TellerArgs,
    #[command(flatten)]
    pub shown: ShownArgs,
    /// Leave out what the numbers support in sentences
    #[arg(long)]
    pub no_reading: bool,
    /// Stills side by side instead of the frames joined into one approach picture
    #[arg(long)]
    pub stills: bool,
    /// Letter paper instead of A4
    #[arg(long)]
    pub letter: bool,
    /// Leave the next lesson off: distances, the pace beside course speeds, where to stand
    #[arg(long)]
    pub no_next_lesson: bool,
    /// Only this approach, when the file holds several [default: all, behind a cover that compares
    /// them]
    #[arg(long, value_name = "ID")]
    pub approach: Option<String>,
    /// Leave rider, horse, place and file names off; notes are the coach's own words and stay
    #[arg(long)]
    pub no_names: bool,
}
