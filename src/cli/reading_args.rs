//! What can be typed about a reading: the coach's settings.

use std::path::PathBuf;

use super::choices::{ToldWord, told_choice};
use super::measured_args::MeasuredArgs;
use super::sheet_args::BandArgs;
use super::shown_in::ShownArgs;
use super::spots;
use crate::quantity::{Metres, Percent, Unit};
use crate::reading::{Audience, Settings, Zone};

/// Arguments of `reading`.
#[derive(clap::Args, Debug)]
pub struct ReadingArgs {
    #[command(flatten)]
    pub measured: MeasuredArgs,
    /// Only this approach, when the file holds several [default: all]
    #[arg(long, value_name = "ID")]
    pub approach: Option<String>,
    #[command(flatten)]
    pub band: BandArgs,
    #[command(flatten)]
    pub judge: JudgeArgs,
    #[command(flatten)]
    pub teller: TellerArgs,
    #[command(flatten)]
    pub shown: ShownArgs,
    /// Leave rider and horse out of it
    #[arg(long)]
    pub no_names: bool,
    /// Everything at full precision as JSON, units in the keys
    #[arg(long)]
    pub json: bool,
}

/// The coach's settings beside what she calls level. No published limit exists for any of them.
#[derive(clap::Args, Clone, Copy, Debug, Default)]
pub struct JudgeArgs {
    /// Where take-off and landing should be, from the fence: metres, or such as 6ft
    /// [default: 1.83, common practice]
    #[arg(long, value_name = "LENGTH", value_parser = spots::length)]
    pub zone: Option<f64>,
    /// How far the zone reaches either way [default: 0.91, common practice]
    #[arg(long, value_name = "LENGTH", value_parser = spots::length)]
    pub zone_within: Option<f64>,
    /// Where landing should be, where it differs from take-off
    #[arg(long, value_name = "LENGTH", value_parser = spots::length)]
    pub landing_zone: Option<f64>,
    /// Strides that grow or shrink by more than this share of their mean change the pace, per cent
    /// [default: 5]
    #[arg(long, value_name = "PER CENT", value_parser = spots::positive)]
    pub pace_tolerance: Option<f64>,
    /// A last stride shorter than the mean of the others by this was added [default: 0.50]
    #[arg(long, value_name = "LENGTH", value_parser = spots::length)]
    pub added_shorter: Option<f64>,
    /// How far the track may go aside and still be straight [default: 0.30]
    #[arg(long, value_name = "LENGTH", value_parser = spots::length)]
    pub straight_within: Option<f64>,
    /// How probable a thing must be to be said outright, per cent, 50 to 99 [default: 95]
    #[arg(long, value_name = "PER CENT", value_parser = clap::value_parser!(u8).range(50..=99))]
    pub sure: Option<u8>,
}

/// Whom the sentences are for, and in which words.
#[derive(clap::Args, Clone, Debug, Default)]
pub struct TellerArgs {
    /// Whom the sentences are for [default: the coach; on the sheet the rider]
    #[arg(long = "for", value_parser = told_choice(&AUDIENCES), value_name = "WHOM")]
    pub audience: Option<Audience>,
    /// A table of sentences in another language, as `groundline schema --texts` prints the English
    #[arg(long, value_name = "FILE")]
    pub texts: Option<PathBuf>,
}

/// Whom the sentences may be for.
const AUDIENCES: [ToldWord<Audience>; 2] = [
    ("coach", "The coach, in her terms", Audience::Coach),
    ("rider", "The rider, who is spoken to", Audience::Rider),
];

impl JudgeArgs {
    /// The settings, those not typed as usual.
    pub(super) fn settings(self, band: BandArgs) -> Settings {
        let usual = Settings::default();
        let metres = |typed: Option<f64>, usual: Metres| typed.map_or(usual, Metres::new);
        let half_m = metres(self.zone_within, usual.take_off_zone.half_m);
        let middle_m = metres(self.zone, usual.take_off_zone.middle_m);
        Settings {
            level_within_m: metres(band.level_within, usual.level_within_m),
            level_about_m: band.level_about.map(Metres::new),
            pace_tolerance_percent: self
                .pace_tolerance
                .map_or(usual.pace_tolerance_percent, Percent::new),
            take_off_zone: Zone { middle_m, half_m },
            landing_zone: Zone { middle_m: metres(self.landing_zone, middle_m), half_m },
            added_shorter_m: metres(self.added_shorter, usual.added_shorter_m),
            straight_within_m: metres(self.straight_within, usual.straight_within_m),
            sure: self.sure.map_or(usual.sure, |sure| f64::from(sure) / 100.0),
        }
    }
}
