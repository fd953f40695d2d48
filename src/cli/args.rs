//! What can be typed. The comments here are the help text.

use std::path::PathBuf;

use clap::{Arg, CommandFactory, FromArgMatches, Parser, Subcommand};

use super::clip_args::{BeginArgs, FrameArgs, LookArgs, TrackArgs};
use super::mark::MarkArgs;
use super::measured_args::MeasureArgs;
use super::picture_args::{ApproachPictureArgs, ChartsArgs, PlanArgs, ReelArgs, StillsArgs};
use super::poles::PolesArgs;
use super::reading_args::ReadingArgs;
use super::sheet_args::SheetArgs;
use super::stand_args::StandArgs;
use super::weeks_args::WeeksArgs;

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

/// Arguments of `check`.
#[derive(clap::Args, Debug)]
pub struct CheckArgs {
    /// The marks file
    pub marks: PathBuf,
    /// List every mark, with the name by which `mark … move` and `mark … remove` know its place
    #[arg(long)]
    pub list: bool,
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
