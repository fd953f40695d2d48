//! What can be typed. The comments here are the help text.

use std::path::PathBuf;

use clap::{Arg, CommandFactory, FromArgMatches, Parser, Subcommand};

use super::choices::{ToldWord, UNITS, told_choice};
use super::mark::MarkArgs;
use super::poles::PolesArgs;
use super::reading_args::{JudgeArgs, ReadingArgs};
use super::sheet_args::{BandArgs, SheetArgs};
use super::spots::{Crop, FrameRange};
use super::stand_args::StandArgs;
use super::weeks_args::WeeksArgs;
use crate::pan::MotionModel;
use crate::quantity::LengthUnits;

/// Stride lengths, tempo and take-off of a jumping horse, in metres with an honest ±, from a
/// phone clip and a few poles.
#[derive(Parser, Debug)]
#[command(name = "groundline", version, max_term_width = 100)]
pub struct Args {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

impl Args {
    /// What was typed; ends the program where that makes no sense.
    pub fn typed() -> Self {
        let matches = with_negative_numbers(Self::command()).get_matches();
        Self::from_arg_matches(&matches).unwrap_or_else(|error| error.exit())
    }
}

/// Lets every value be a negative number, so that each parser says what it needs instead of the
/// value being taken for an unknown option.
fn with_negative_numbers(command: clap::Command) -> clap::Command {
    let takes_value =
        |arg: &Arg| arg.get_action().takes_values() && !arg.is_allow_hyphen_values_set();
    command
        .mut_args(|arg| if takes_value(&arg) { arg.allow_negative_numbers(true) } else { arg })
        .mut_subcommands(with_negative_numbers)
}

/// What to do.
#[derive(Subcommand, Debug)]
pub enum Command {
    /// Say what a clip is: frames, exact times, rates, turn, lens, doubts
    Look(LookArgs),
    /// Begin a marks file for a clip
    Begin(BeginArgs),
    /// Draw a frame with rulers in pixels, to read coordinates off it, or several side by side
    Frame(FrameArgs),
    /// State things and place marks in a marks file; undo and redo
    Mark(Box<MarkArgs>),
    /// Say whether a marks file keeps the rules, what is marked and what is missing
    Check(CheckArgs),
    /// Follow the background through a clip: how the camera turned, zoomed and swayed
    Track(TrackArgs),
    /// Measure strides, take-off and landing from a marks file
    Measure(MeasureArgs),
    /// Say in sentences what the numbers of an approach support: level or not, changes of pace,
    /// take-off, line
    Reading(ReadingArgs),
    /// Draw each footfall's frame with hoof prints and lengths
    Stills(StillsArgs),
    /// Join the frames of an approach into one wide picture, the horse once per stride
    ApproachPicture(ApproachPictureArgs),
    /// Draw the approach from above, to scale, with hoof prints and their 95 % ellipses
    Plan(PlanArgs),
    /// Draw stride lengths with their ±, tempo, speed and footfalls on one stride axis
    Charts(ChartsArgs),
    /// Set the sheet, a page an approach, PDF or PNG
    Sheet(SheetArgs),
    /// Compare the approaches of many rounds, fence by fence and week by week
    Weeks(WeeksArgs),
    /// Pole distances for the next lesson, from this horse's stride or a typed one, each beside the
    /// published tables
    Poles(PolesArgs),
    /// Where to stand before filming: the ± that strides and take-off will have, and the best place
    Stand(Box<StandArgs>),
    /// Make a clip of the approach: hoof prints as they land, stride bars building up, a halt at
    /// take-off
    Reel(ReelArgs),
    /// Open the page on which a round is marked, in the browser of this computer
    Desk(DeskArgs),
    /// Make schooling clips of known truth and run the whole job on them
    Demo(DemoArgs),
    /// Print the JSON Schema of marks files, changes, measured numbers, plans or rounds compared
    Schema(SchemaArgs),
}

/// Arguments of `begin`.
#[derive(clap::Args, Debug)]
pub struct BeginArgs {
    /// The clip
    pub clip: PathBuf,
    /// The marks file to make [default: beside the clip, `CLIP.marks.json`]
    #[arg(long, short, value_name = "MARKS")]
    pub output: Option<PathBuf>,
    /// The camera was turned by hand to follow the horse [default: it stood still]
    #[arg(long)]
    pub turning: bool,
    /// Which video stream, when the clip has several
    #[arg(long, value_name = "NUMBER", value_parser = super::spots::whole::<usize>)]
    pub stream: Option<usize>,
    /// How many times slower than life the clip plays, when it does not say so itself
    #[arg(long, value_name = "TIMES", value_parser = super::spots::slowed, conflicts_with = "capture_rate")]
    pub slowed: Option<f64>,
    /// Frames per second at which the camera recorded, where the clip does not say or is wrong
    #[arg(long, value_name = "HZ", value_parser = super::spots::capture_rate)]
    pub capture_rate: Option<f64>,
}

/// Arguments of `frame`.
#[derive(clap::Args, Debug)]
pub struct FrameArgs {
    /// The clip, or a marks file with its clip beside it, to show the marks placed so far
    pub clip: PathBuf,
    /// The number of the frame, the first is 0; or two, such as 112-126, for a contact sheet
    #[arg(value_name = "FRAME")]
    pub frames: FrameRange,
    /// The picture to write, .png or .jpg
    #[arg(long, short, value_name = "PICTURE")]
    pub output: PathBuf,
    /// Only this part: left, top, width, height in pixels
    #[arg(long, value_name = "X,Y,W,H")]
    pub crop: Option<Crop>,
    /// How many times larger, 1 to 16 [default: 1; on a contact sheet what fits]
    #[arg(long, value_name = "TIMES", value_parser = clap::value_parser!(u32).range(1..=16))]
    pub enlarge: Option<u32>,
    /// On a contact sheet, every how many frames
    #[arg(long, value_name = "NUMBER", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..))]
    pub every: u32,
    /// Which video stream, when the clip has several
    #[arg(long, value_name = "NUMBER", value_parser = super::spots::whole::<usize>)]
    pub stream: Option<usize>,
}

/// Arguments of `check`.
#[derive(clap::Args, Debug)]
pub struct CheckArgs {
    /// The marks file
    pub marks: PathBuf,
    /// List every mark, with the name by which `mark … move` and `mark … remove` know its place
    #[arg(long)]
    pub list: bool,
}

/// What can be claimed of the camera.
const CLAIMED_MOTIONS: [ToldWord<MotionModel>; 2] = [
    ("fixed", "It stood still: any movement of the background is a doubt", MotionModel::Fixed),
    ("turning", "It was turned to follow the horse", MotionModel::Turning),
];

/// Arguments of `track`.
#[derive(clap::Args, Debug)]
pub struct TrackArgs {
    /// The clip, or its marks file
    pub clip: PathBuf,
    /// What is claimed of the camera [default: what the marks file says]
    #[arg(long, value_parser = told_choice(&CLAIMED_MOTIONS))]
    pub motion: Option<MotionModel>,
    /// Follow it anew, although it was followed before
    #[arg(long)]
    pub anew: bool,
    /// What was found as JSON: a way of moving, stretches of frames, doubts
    #[arg(long)]
    pub json: bool,
    /// Which video stream, when the clip has several and there is no marks file
    #[arg(long, value_name = "NUMBER", value_parser = super::spots::whole::<usize>)]
    pub stream: Option<usize>,
}

/// Arguments of `schema`.
#[derive(clap::Args, Debug)]
pub struct SchemaArgs {
    /// The schema of changes instead, as `mark --edits` takes them
    #[arg(long, group = "shape")]
    pub edits: bool,
    /// The schema of measured numbers instead, as `measure --json` writes them
    #[arg(long, group = "shape")]
    pub measurement: bool,
    /// The schema of plans for the next lesson instead, as `poles --json` writes them
    #[arg(long, group = "shape")]
    pub plan: bool,
    /// The schema of rounds compared instead, as `weeks --json` writes them
    #[arg(long, group = "shape")]
    pub weeks: bool,
    /// The schema of readings instead, as `reading --json` writes them
    #[arg(long, group = "shape")]
    pub reading: bool,
    /// No schema: the English table of all sentences, from which to begin one in another language
    #[arg(long, group = "shape")]
    pub texts: bool,
    /// The schema of where to stand instead, as `stand --json` writes it
    #[arg(long, group = "shape")]
    pub stand: bool,
}

/// Arguments of `look`.
#[derive(clap::Args, Debug)]
pub struct LookArgs {
    /// The clip
    pub clip: PathBuf,
    /// Everything as JSON
    #[arg(long)]
    pub json: bool,
    /// The exact time of every frame, with --json
    #[arg(long, requires = "json")]
    pub frames: bool,
    /// Decode every frame and count the damaged ones
    #[arg(long)]
    pub decode: bool,
    /// Frames per second at which the camera recorded, where the file does not say
    #[arg(long, value_name = "HZ", value_parser = super::spots::capture_rate)]
    pub capture_rate: Option<f64>,
    /// Which video stream, when the clip has several
    #[arg(long, value_name = "NUMBER", value_parser = super::spots::whole::<usize>)]
    pub stream: Option<usize>,
}

/// What every command that measures takes.
#[derive(clap::Args, Debug)]
pub struct MeasuredArgs {
    /// The marks file
    pub marks: PathBuf,
    /// Metres or feet
    #[arg(long, value_parser = told_choice(&UNITS), default_value = "m")]
    pub units: LengthUnits,
    /// Frames per second at which the camera recorded, instead of what the marks file says
    #[arg(long, value_name = "HZ", value_parser = super::spots::capture_rate)]
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
    #[arg(long, value_name = "TIMES", default_value_t = 1, value_parser = super::spots::reel_slow)]
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

/// Arguments of `desk`.
#[derive(clap::Args, Debug)]
pub struct DeskArgs {
    /// The folder with the clips, or one clip
    #[arg(default_value = ".", value_name = "FOLDER|CLIP")]
    pub place: PathBuf,
    /// The port on this computer [default: any that is free]
    #[arg(long, value_name = "NUMBER", default_value_t = 0, hide_default_value = true)]
    pub port: u16,
    /// Only print the address, open no browser
    #[arg(long)]
    pub no_open: bool,
}

/// Arguments of `demo`.
#[derive(clap::Args, Debug)]
pub struct DemoArgs {
    /// The folder to put everything in; only what an earlier demo left there is replaced
    #[arg(default_value = "exports/demo")]
    pub folder: PathBuf,
    /// Filmed by a hand that follows the horse, instead of a phone that stands still
    #[arg(long)]
    pub turning: bool,
}
