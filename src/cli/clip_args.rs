//! What can be typed for the commands that look at a clip. The comments here are the help text.

use std::path::PathBuf;

use super::choices::{ToldWord, told_choice};
use super::spots::{Crop, FrameRange, capture_rate, slowed, whole};
use crate::pan::MotionModel;

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
    #[arg(long, value_name = "HZ", value_parser = capture_rate)]
    pub capture_rate: Option<f64>,
    /// Which video stream, when the clip has several
    #[arg(long, value_name = "NUMBER", value_parser = whole::<usize>)]
    pub stream: Option<usize>,
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
    #[arg(long, value_name = "NUMBER", value_parser = whole::<usize>)]
    pub stream: Option<usize>,
    /// How many times slower than life the clip plays, when it does not say so itself
    #[arg(long, value_name = "TIMES", value_parser = slowed, conflicts_with = "capture_rate")]
    pub slowed: Option<f64>,
    /// Frames per second at which the camera recorded, where the clip does not say or is wrong
    #[arg(long, value_name = "HZ", value_parser = capture_rate)]
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
    #[arg(long, value_name = "NUMBER", value_parser = whole::<usize>)]
    pub stream: Option<usize>,
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
    #[arg(long, value_name = "NUMBER", value_parser = whole::<usize>)]
    pub stream: Option<usize>,
}
