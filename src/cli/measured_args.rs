//! What can be typed for `measure`, and for every command that measures. The comments here are the
//! help text.

use std::path::PathBuf;

use super::choices::{UNITS, told_choice};
use super::spots::capture_rate;
use crate::quantity::LengthUnits;

/// What every command that measures takes.
#[derive(clap::Args, Debug)]
pub struct MeasuredArgs {
    /// The marks file
    pub marks: PathBuf,
    /// Metres or feet
    #[arg(long, value_parser = told_choice(&UNITS), default_value = "m")]
    pub units: LengthUnits,
    /// Frames per second at which the camera recorded, instead of what the marks file says
    #[arg(long, value_name = "HZ", value_parser = capture_rate)]
    pub capture_rate: Option<f64>,
}

/// Arguments of `measure`.
#[derive(clap::Args, Debug)]
pub struct MeasureArgs {
    #[command(flatten)]
    pub measured: MeasuredArgs,
    /// Everything at full precision as JSON, units in the keys
    #[arg(long)]
    pub json: bool,
    /// Write strides, take-off, landing, suspects and doubts as one table (CSV), for programs
    #[arg(long, value_name = "FILE")]
    pub csv: Option<PathBuf>,
    /// Write a workbook (.xlsx) of strides, footfalls, approaches, doubts and what they mean
    #[arg(long, value_name = "FILE")]
    pub xlsx: Option<PathBuf>,
    /// Leave rider, horse, place and file names off; notes are the coach's own words and stay
    #[arg(long)]
    pub no_names: bool,
}
