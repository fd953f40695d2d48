//! What can be typed for `weeks`.

use std::path::PathBuf;

use super::choices::{ToldWord, UNITS, told_choice};
use crate::quantity::LengthUnits;
use crate::weeks::GroupBy;

/// Arguments of `weeks`.
#[derive(clap::Args, Debug)]
pub struct WeeksArgs {
    /// The folder whose marks files (NAME.marks.json) are compared, with the folders in it
    pub folder: PathBuf,
    /// Only approaches to the fence of that name
    #[arg(long, value_name = "NAME")]
    pub fence: Option<String>,
    /// Only this horse's
    #[arg(long, value_name = "NAME")]
    pub horse: Option<String>,
    /// Only this rider's
    #[arg(long, value_name = "NAME")]
    pub rider: Option<String>,
    /// What approaches of one group have in common
    #[arg(long, value_parser = told_choice(&GROUPINGS), value_name = "WHAT", default_value = "fence")]
    pub group_by: GroupBy,
    /// Metres or feet
    #[arg(long, value_parser = told_choice(&UNITS), default_value = "m")]
    pub units: LengthUnits,
    /// Set a page a fence, .pdf or .png; of several pages NAME.png becomes NAME-1.png, NAME-2.png …
    #[arg(long, short, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Letter paper instead of A4
    #[arg(long, requires = "output")]
    pub letter: bool,
    /// Everything at full precision as JSON, units in the keys
    #[arg(long)]
    pub json: bool,
    /// Write a row an approach as one table (CSV), for programs
    #[arg(long, value_name = "FILE")]
    pub csv: Option<PathBuf>,
    /// Leave rider, horse and file names off; in notes "the horse" and "the rider" stand for them
    #[arg(long)]
    pub no_names: bool,
}

/// What approaches of one group may have in common.
const GROUPINGS: [ToldWord<GroupBy>; 7] = [
    ("fence", "What their fence is called", GroupBy::Fence),
    ("kind", "Its build", GroupBy::Kind),
    ("height", "Its height, to 5 cm", GroupBy::Height),
    ("behind", "What lies behind it", GroupBy::Behind),
    ("around", "What lies around it", GroupBy::Around),
    ("slope", "Uphill, downhill or flat", GroupBy::Slope),
    ("surface", "The going", GroupBy::Surface),
];
