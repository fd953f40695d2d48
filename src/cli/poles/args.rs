//! What can be typed for `poles`.

use std::path::PathBuf;

use super::choices::{GAITS, GOINGS, READINESSES, SIZES};
use crate::cli::choices::{UNITS, told_choice};
use crate::cli::spots;
use crate::poles::{Gait, Going, Readiness, Size, TYPED_WITHIN_M};
use crate::quantity::LengthUnits;

/// Arguments of `poles`.
#[derive(clap::Args, Debug)]
pub struct PolesArgs {
    /// The marks file whose strides, fence and ground are planned for
    pub marks: Option<PathBuf>,
    /// The canter stride, metres [default: the level strides of the marks file]
    #[arg(long, value_name = "LENGTH", value_parser = spots::length)]
    pub stride: Option<f64>,
    /// How far off that may be, half of a 95 % interval, metres
    #[arg(long, value_name = "LENGTH", value_parser = spots::length_or_none, default_value_t = TYPED_WITHIN_M, requires = "stride")]
    pub stride_within: f64,
    /// Which approach, when the file holds several [default: the last]
    #[arg(long, value_name = "ID", requires = "marks")]
    pub approach: Option<String>,
    /// A folder with marks files of other rounds: what this horse has shown in them counts, too, where
    /// it is said whether it has shown a stride
    #[arg(long, value_name = "FOLDER", requires = "marks", conflicts_with = "stride")]
    pub shown_in: Option<PathBuf>,
    /// Height of the fences, metres; 0 for poles on the ground [default: that of the fence in the
    /// marks file]
    #[arg(long, value_name = "LENGTH", value_parser = spots::length_or_none)]
    pub height: Option<f64>,
    /// Instead of a plan: how many strides a line of so many walked paces is by the 12-ft count, and
    /// with --stride or a marks file what this horse would need there
    #[arg(long, value_name = "PACES", value_parser = spots::number, conflicts_with_all = ["strides", "output", "letter", "no_names", "sources", "json"])]
    pub walked: Option<f64>,
    /// Only a line of so many strides, 1 to 12, with all that belongs to it
    #[arg(long, value_name = "NUMBER", value_parser = spots::whole::<u32>)]
    pub strides: Option<u32>,
    /// The gait in which the first of them is met
    #[arg(long, value_parser = told_choice(&GAITS), default_value = "canter")]
    pub gait: Gait,
    /// Horse or pony
    #[arg(long, value_parser = told_choice(&SIZES), default_value = "horse")]
    pub size: Size,
    /// Rise of the ground the way the horse goes, per cent; downhill is negative [default: what the
    /// marks file states, or level]
    #[arg(long, value_name = "PER CENT", value_parser = spots::number)]
    pub slope: Option<f64>,
    /// The ground [default: what the words on the surface in the marks file say, or good]
    #[arg(long, value_parser = told_choice(&GOINGS))]
    pub going: Option<Going>,
    /// The horse's state
    #[arg(long, value_parser = told_choice(&READINESSES), default_value = "ready")]
    pub readiness: Readiness,
    /// Metres or feet first
    #[arg(long, value_parser = told_choice(&UNITS), default_value = "m")]
    pub units: LengthUnits,
    /// A page to take to the arena, .pdf or .png; .svg for its drawing alone
    #[arg(long, short, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// US Letter paper instead of A4
    #[arg(long)]
    pub letter: bool,
    /// Leave the horse's name off the page
    #[arg(long)]
    pub no_names: bool,
    /// Every published row beside its distance, with source and grade
    #[arg(long)]
    pub sources: bool,
    /// Everything at full precision as JSON, units in the keys
    #[arg(long)]
    pub json: bool,
}
