//! What can be typed after `groundline mark MARKS`. The comments here are the help text.

use std::path::PathBuf;

use clap::{Args, Subcommand, ValueEnum};

use super::round_args::{CameraArgs, RoundArgs};
use super::thing_args::{
    ApproachArgs, DistanceArgs, FenceArgs, FenceWidthArgs, FootfallArgs, PolesArgs, RailsArgs,
    VerticalArgs,
};
use crate::cli::choices;
use crate::cli::frame_times::TimeArgs;
use crate::cli::spots::{Spot, positive, signed, slowed, whole};
use crate::marks::{BaseCorner, PoleEnd};

/// Arguments of `mark`.
#[derive(Args, Debug)]
#[command(subcommand_required = false, arg_required_else_help = true)]
pub struct MarkArgs {
    /// The marks file
    pub marks: PathBuf,
    /// Make the changes of this JSON list, all or none, as one step (`-` for standard input);
    /// `groundline schema --edits` prints its shape
    #[arg(long, value_name = "FILE")]
    pub edits: Option<PathBuf>,
    /// What to state or mark
    #[command(subcommand)]
    pub command: Option<MarkCommand>,
}

/// What to state or mark. Lengths are metres, points are pixels of the upright picture.
#[derive(Subcommand, Debug)]
pub enum MarkCommand {
    /// State a row of equal poles, or restate parts of it
    Poles(PolesArgs),
    /// Mark one end of one pole, at the middle of its end face
    PoleEnd {
        /// The poles' id
        reference: String,
        /// Which pole: 1 is the one the horse meets first
        #[arg(value_parser = whole::<u32>)]
        pole: u32,
        /// Which end, as the horse goes
        #[arg(value_parser = choices::choice(&choices::POLE_ENDS))]
        end: PoleEnd,
        /// Where it is seen
        #[command(flatten)]
        point: PointArgs,
    },
    /// State a measured distance between two points; mark them as ID/from and ID/to
    Distance(DistanceArgs),
    /// State something upright of known height; mark it as ID/foot and ID/top
    Vertical(VerticalArgs),
    /// State how wide a fence is, between its left and right base points
    FenceWidth(FenceWidthArgs),
    /// State heights of rails over a fence's take-off base; mark them as ID/1/left, …
    Rails(RailsArgs),
    /// Mark any point by its name, such as tape/from, post/top, oxer/take-off-left
    Point {
        /// The name, as `check --list` shows it
        place: String,
        /// Where it is seen
        #[command(flatten)]
        point: PointArgs,
    },
    /// Mark many points at once from a table (CSV), all or none, as one step
    ///
    /// Its first line names the columns: place,frame,x,y and, as you like, sd and event. A place
    /// is named as `check --list` shows it (rails/1/left, A/take-off-left); a limb
    /// (leading-hind, …) adds a footfall, whose event is stride, take-off, landing or away. A
    /// footfall without x and y was hidden.
    Points {
        /// The table (`-` for standard input)
        #[arg(value_name = "FILE.csv")]
        table: PathBuf,
    },
    /// State a fence, or restate parts of it
    Fence(FenceArgs),
    /// Mark a base point of a fence: where the inner face of an upright meets the ground
    Base {
        /// The fence's id
        fence: String,
        /// Which point, as the horse goes
        #[arg(value_parser = choices::choice(&choices::BASE_CORNERS))]
        corner: BaseCorner,
        /// Where it is seen
        #[command(flatten)]
        point: PointArgs,
    },
    /// Mark a fixed point of the scene that is seen in several frames
    Tie {
        /// Its id; a new one makes a new tie
        id: String,
        /// It lies on the ground
        #[arg(long)]
        on_ground: bool,
        /// Where it is seen
        #[command(flatten)]
        point: PointArgs,
    },
    /// State an approach to a fence, or restate parts of it; the only one needs no id
    Approach(ApproachArgs),
    /// Mark the first contact of a hoof, or restate parts of it
    Footfall(FootfallArgs),
    /// State who rode which horse, when and where
    Round(RoundArgs),
    /// State how the camera stood or moved
    Camera(CameraArgs),
    /// State how much slower than life the clip plays
    SlowMotion {
        /// How many times slower: 8 for 240 frames a second played at 30, 1 for an ordinary clip
        #[arg(value_parser = slowed)]
        times: f64,
    },
    /// Note something on an approach or on one of its strides; an empty text removes the note
    Note {
        /// The note
        text: String,
        /// The approach's id; may be left out when there is only one
        #[arg(long, value_name = "ID")]
        approach: Option<String>,
        /// The stride, counted back from the fence: −1 is the last
        #[arg(long, value_name = "NUMBER", value_parser = signed)]
        stride: Option<i32>,
    },
    /// Move a mark
    Move(MoveArgs),
    /// Remove a mark or a whole thing
    Remove {
        /// What it is
        thing: RemovedThing,
        /// Its id; for a mark its name as `check --list` shows it
        id: String,
        /// For a mark, the frame; may be left out when there is only one
        #[arg(long, value_name = "NUMBER", value_parser = whole::<u32>)]
        frame: Option<u32>,
    },
    /// Take back the last change
    Undo {
        /// How many changes
        #[arg(default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..))]
        steps: u32,
    },
    /// Make the change again that was taken back last
    Redo {
        /// How many changes
        #[arg(default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..))]
        steps: u32,
    },
}

/// Where something is seen.
#[derive(Args, Debug)]
pub struct PointArgs {
    /// The frame's number; the first is 0
    #[arg(long, value_name = "NUMBER", value_parser = whole::<u32>)]
    pub frame: u32,
    /// Pixels from the left and from the top of the upright picture
    #[arg(long, value_name = "X,Y", allow_hyphen_values = true)]
    pub at: Spot,
    /// How well it could be placed, standard deviation in pixels [default: 1]
    #[arg(long, value_name = "PIXELS", value_parser = positive)]
    pub sd: Option<f64>,
    /// The frame's time.
    #[command(flatten)]
    pub time: TimeArgs,
}

/// Arguments of `move`.
#[derive(Args, Debug)]
#[command(group = clap::ArgGroup::new("where").required(true).args(["at", "by"]))]
pub struct MoveArgs {
    /// The mark's place, as `check --list` names it
    pub place: String,
    /// Its frame, when it is marked on several; for a footfall, the frame it is to have
    #[arg(long, value_name = "NUMBER", value_parser = whole::<u32>)]
    pub frame: Option<u32>,
    /// Where to: pixels from the left and from the top
    #[arg(long, value_name = "X,Y", allow_hyphen_values = true)]
    pub at: Option<Spot>,
    /// By how much: pixels to the right and down
    #[arg(long, value_name = "X,Y", allow_hyphen_values = true)]
    pub by: Option<Spot>,
    /// How well it could be placed, standard deviation in pixels [default: as before]
    #[arg(long, value_name = "PIXELS", value_parser = positive)]
    pub sd: Option<f64>,
    /// The frame's time.
    #[command(flatten)]
    pub time: TimeArgs,
}

/// What can be removed.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum RemovedThing {
    /// One mark
    Mark,
    /// One footfall
    Footfall,
    /// A reference with its marks
    Reference,
    /// A tie with its marks
    Tie,
    /// A fence with its marks
    Fence,
    /// An approach with its footfalls
    Approach,
}
