//! What can be typed for the commands that draw what was measured. The comments here are the help
//! text.

use std::path::PathBuf;

use super::choices::{UNITS, told_choice};
use super::measured_args::MeasuredArgs;
use super::reading_args::JudgeArgs;
use super::sheet_args::BandArgs;
use super::spots::reel_slow;
use crate::quantity::LengthUnits;

/// Arguments of `stills`.
#[derive(clap::Args, Debug)]
pub struct StillsArgs {
    #[command(flatten)]
    pub measured: MeasuredArgs,
    /// The folder to put the pictures in; made when it is not there
    #[arg(long, short, value_name = "FOLDER")]
    pub output: PathBuf,
    /// The whole frame with every mark on it, instead of the part with the horse and its strides
    #[arg(long)]
    pub whole: bool,
    /// JPEG files instead of PNG: a tenth of the size, a little less sharp
    #[arg(long)]
    pub jpeg: bool,
    /// Leave rider, horse, place and file names off; notes are the coach's own words and stay
    #[arg(long)]
    pub no_names: bool,
}

/// Arguments of `approach-picture`.
#[derive(clap::Args, Debug)]
pub struct ApproachPictureArgs {
    #[command(flatten)]
    pub measured: MeasuredArgs,
    /// The picture to write, .png or .jpg
    #[arg(long, short, value_name = "PICTURE")]
    pub output: PathBuf,
    /// Which approach, when the file holds several [default: the first]
    #[arg(long, value_name = "ID")]
    pub approach: Option<String>,
    /// How many pixels wide at most
    #[arg(long, value_name = "PIXELS", default_value_t = 3000, value_parser = clap::value_parser!(u32).range(400..=12000))]
    pub width: u32,
}

/// Arguments of `plan`.
#[derive(clap::Args, Debug)]
pub struct PlanArgs {
    #[command(flatten)]
    pub measured: MeasuredArgs,
    /// The drawing to write, .svg, .png or .jpg
    #[arg(long, short, value_name = "FILE")]
    pub output: PathBuf,
    /// Which approach, when the file holds several [default: the first]
    #[arg(long, value_name = "ID")]
    pub approach: Option<String>,
}

/// Arguments of `charts`.
#[derive(clap::Args, Debug)]
pub struct ChartsArgs {
    #[command(flatten)]
    pub measured: MeasuredArgs,
    #[command(flatten)]
    pub band: BandArgs,
    #[command(flatten)]
    pub judge: JudgeArgs,
    /// The drawing to write, .svg, .png or .jpg
    #[arg(long, short, value_name = "FILE")]
    pub output: PathBuf,
    /// Which approach, when the file holds several [default: the first]
    #[arg(long, value_name = "ID")]
    pub approach: Option<String>,
}

/// How large a reel is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub enum ReelSize {
    /// 1920 × 1080, or 1080 × 1920 for an upright clip
    #[value(name = "1080")]
    Full,
    /// 1280 × 720, or 720 × 1280
    #[value(name = "720")]
    Small,
}

/// Arguments of `reel`.
#[derive(clap::Args, Debug)]
pub struct ReelArgs {
    /// The marks file, or two whose approaches are shown one above the other, aligned at take-off
    #[arg(required = true, num_args = 1..=2)]
    pub marks: Vec<PathBuf>,
    /// The clip to make, .mp4
    #[arg(long, short, value_name = "FILE.mp4")]
    pub output: PathBuf,
    /// How many times slower than the clip itself plays, a whole number from 1 to 20
    #[arg(long, value_name = "TIMES", default_value_t = 1, value_parser = reel_slow)]
    pub slow: u32,
    /// Lines of the picture
    #[arg(long, value_enum, default_value = "1080")]
    pub size: ReelSize,
    /// Which approach of a file that holds several [default: the first]; given twice, of each file
    #[arg(long, value_name = "ID")]
    pub approach: Vec<String>,
    /// Metres or feet
    #[arg(long, value_parser = told_choice(&UNITS), default_value = "m")]
    pub units: LengthUnits,
    /// Leave rider and horse off; fence and date stay
    #[arg(long)]
    pub no_names: bool,
}
