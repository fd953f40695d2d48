//! What can be typed to state the round and the camera. The comments are the help text.

use clap::Args;

use crate::cli::spots::{not_negative, number, positive};

/// Arguments of `round`. An empty text takes the old one away.
#[derive(Args, Debug)]
#[group(required = true, multiple = true)]
pub struct RoundArgs {
    /// Day of the lesson
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub date: Option<String>,
    /// Who rode
    #[arg(long, value_name = "NAME")]
    pub rider: Option<String>,
    /// Which horse
    #[arg(long, value_name = "NAME")]
    pub horse: Option<String>,
    /// Where
    #[arg(long, value_name = "TEXT")]
    pub place: Option<String>,
    /// The going
    #[arg(long, value_name = "TEXT")]
    pub surface: Option<String>,
    /// Rise towards the fence, per cent of the way; downhill is negative
    #[arg(long, value_name = "PERCENT", value_parser = number, allow_negative_numbers = true)]
    pub slope: Option<f64>,
    /// A note on the round
    #[arg(long, value_name = "TEXT")]
    pub note: Option<String>,
}

/// Arguments of `camera`.
#[derive(Args, Debug)]
#[group(required = true, multiple = true)]
pub struct CameraArgs {
    /// It stood on something and was not touched
    #[arg(long, conflicts_with_all = ["turning", "sway"])]
    pub fixed: bool,
    /// It was turned to follow the horse
    #[arg(long)]
    pub turning: bool,
    /// How far its place strayed while turning: 0 on a stand [default: 0.03, steady hands]
    #[arg(long, value_name = "METRES", value_parser = not_negative)]
    pub sway: Option<f64>,
    /// Height of the lens above the ground
    #[arg(long, value_name = "METRES", value_parser = number)]
    pub height: Option<f64>,
    /// How far the height may be off [default: 0.1 with --height]
    #[arg(long, value_name = "METRES", value_parser = not_negative)]
    pub height_sd: Option<f64>,
    /// How far the horizon leans
    #[arg(long, value_name = "DEGREES", value_parser = number, allow_negative_numbers = true)]
    pub roll: Option<f64>,
    /// How far that may be off [default: 1 with --roll]
    #[arg(long, value_name = "DEGREES", value_parser = not_negative)]
    pub roll_sd: Option<f64>,
    /// Focal length in pixels
    #[arg(long, value_name = "PIXELS", value_parser = positive)]
    pub focal: Option<f64>,
    /// How far that may be off [default: a twentieth of it]
    #[arg(long, value_name = "PIXELS", value_parser = not_negative, requires = "focal")]
    pub focal_sd: Option<f64>,
}
