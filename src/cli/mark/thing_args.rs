//! What can be typed to state references, fences and approaches. The comments are the help text.

use clap::Args;

use crate::cli::choices;
use crate::cli::frame_times::TimeArgs;
use crate::cli::spots::{Spot, not_negative, number, positive, whole};
use crate::marks::{Event, FenceKind, Lead, Limb};

/// Arguments of `poles`.
#[derive(Args, Debug)]
pub struct PolesArgs {
    /// The id; known ones are restated [default: poles]
    pub id: Option<String>,
    /// How many poles
    #[arg(long, value_name = "NUMBER", value_parser = whole::<u32>)]
    pub count: Option<u32>,
    /// Metres from centre to centre of neighbours
    #[arg(long, value_name = "METRES", value_parser = number)]
    pub spacing: Option<f64>,
    /// How far one gap may be off: 0.01 taped, 0.10 paced [default: 0.02]
    #[arg(long, value_name = "METRES", value_parser = not_negative)]
    pub spacing_sd: Option<f64>,
    /// Metres of each pole [default: 3.5]
    #[arg(long, value_name = "METRES", value_parser = number)]
    pub length: Option<f64>,
    /// How far the length may be off [default: 0.02 with --length, else 0.1]
    #[arg(long, value_name = "METRES", value_parser = not_negative)]
    pub length_sd: Option<f64>,
    /// Diameter of the poles [default: 0.1]
    #[arg(long, value_name = "METRES", value_parser = number)]
    pub diameter: Option<f64>,
}

/// Arguments of `distance`.
#[derive(Args, Debug)]
pub struct DistanceArgs {
    /// The id; known ones are restated [default: distance]
    pub id: Option<String>,
    /// Metres along the ground
    #[arg(long, value_name = "METRES", value_parser = number)]
    pub length: Option<f64>,
    /// How far it may be off: 0.01 taped, 0.10 paced [default: 0.02]
    #[arg(long, value_name = "METRES", value_parser = not_negative)]
    pub length_sd: Option<f64>,
    /// Height of both points above the ground [default: 0]
    #[arg(long, value_name = "METRES", value_parser = not_negative)]
    pub at_height: Option<f64>,
}

/// Arguments of `vertical`.
#[derive(Args, Debug)]
pub struct VerticalArgs {
    /// The id; known ones are restated [default: vertical]
    pub id: Option<String>,
    /// Metres from foot to top
    #[arg(long, value_name = "METRES", value_parser = number)]
    pub height: Option<f64>,
    /// How far it may be off [default: 0.02]
    #[arg(long, value_name = "METRES", value_parser = not_negative)]
    pub height_sd: Option<f64>,
    /// How far the top may lean sideways [default: 0.02]
    #[arg(long, value_name = "METRES", value_parser = not_negative)]
    pub lean_sd: Option<f64>,
}

/// Arguments of `fence-width`.
#[derive(Args, Debug)]
pub struct FenceWidthArgs {
    /// The id; known ones are restated [default: FENCE-width]
    pub id: Option<String>,
    /// The fence's id; may be left out when there is only one
    #[arg(long, value_name = "ID")]
    pub fence: Option<String>,
    /// Metres between the left and right base points
    #[arg(long, value_name = "METRES", value_parser = number)]
    pub width: Option<f64>,
    /// How far it may be off [default: 0.02]
    #[arg(long, value_name = "METRES", value_parser = not_negative)]
    pub width_sd: Option<f64>,
}

/// Arguments of `rails`.
#[derive(Args, Debug)]
pub struct RailsArgs {
    /// The id; known ones are restated [default: FENCE-rails]
    pub id: Option<String>,
    /// The fence's id; may be left out when there is only one
    #[arg(long, value_name = "ID")]
    pub fence: Option<String>,
    /// Heights of the rails' centre lines, such as 0.60,1.10
    #[arg(long, value_name = "METRES", value_delimiter = ',', value_parser = number, required = true)]
    pub heights: Vec<f64>,
    /// How far each height may be off
    #[arg(long, value_name = "METRES", value_parser = not_negative, default_value_t = 0.02)]
    pub height_sd: f64,
}

/// Arguments of `fence`.
#[derive(Args, Debug)]
pub struct FenceArgs {
    /// The id; known ones are restated [default: the kind]
    pub id: Option<String>,
    /// What people call it
    #[arg(long)]
    pub name: Option<String>,
    /// Its build [default: vertical]
    #[arg(long, value_parser = choices::choice(&choices::FENCE_KINDS))]
    pub kind: Option<FenceKind>,
    /// Height of the highest rail
    #[arg(long, value_name = "METRES", value_parser = number)]
    pub height: Option<f64>,
    /// Front base to back base
    #[arg(long, value_name = "METRES", value_parser = number)]
    pub spread: Option<f64>,
    /// What lies behind it
    #[arg(long, value_name = "TEXT")]
    pub behind: Option<String>,
    /// What lies around it
    #[arg(long, value_name = "TEXT")]
    pub around: Option<String>,
}

/// Arguments of `approach`.
#[derive(Args, Debug)]
pub struct ApproachArgs {
    /// The id; known ones are restated [default: the only approach, or FENCE-1 for a first one]
    pub id: Option<String>,
    /// The fence's id, for a new approach; may be left out for the first when there is only one
    /// fence
    #[arg(long, value_name = "ID")]
    pub fence: Option<String>,
    /// The canter lead
    #[arg(long, value_parser = choices::choice(&choices::LEADS))]
    pub lead: Option<Lead>,
    /// The limb whose contacts delimit the strides, from which stride −1 is counted [default: the
    /// hind with the most contacts seen, of two alike the trailing one]
    #[arg(long, value_name = "LIMB", value_parser = choices::choice(&choices::LIMBS))]
    pub reference_limb: Option<Limb>,
    /// The frame in which the horse left the turn
    #[arg(long, value_name = "FRAME", value_parser = whole::<u32>)]
    pub left_turn: Option<u32>,
    /// A note on the approach
    #[arg(long, value_name = "TEXT")]
    pub note: Option<String>,
    /// The time of that frame.
    #[command(flatten)]
    pub turn_time: TimeArgs,
}

/// Arguments of `footfall`.
#[derive(Args, Debug, Default)]
pub struct FootfallArgs {
    /// The id; known ones are restated [default: limb and frame, such as lh-120]
    pub id: Option<String>,
    /// The approach's id; may be left out when there is only one, or none and one fence
    #[arg(long, value_name = "ID")]
    pub approach: Option<String>,
    /// Which limb, as the canter names it
    #[arg(long, value_parser = choices::choice(&choices::LIMBS))]
    pub limb: Option<Limb>,
    /// What it belongs to [default: stride]
    #[arg(long, value_parser = choices::choice(&choices::EVENTS))]
    pub event: Option<Event>,
    /// The frame of first contact; the first frame is 0
    #[arg(long, value_name = "NUMBER", value_parser = whole::<u32>)]
    pub frame: Option<u32>,
    /// The middle of the hoof where it meets the ground, pixels from the left and from the top
    #[arg(long, value_name = "X,Y", allow_hyphen_values = true)]
    pub at: Option<Spot>,
    /// How well it could be placed, standard deviation in pixels [default: 1.5]
    #[arg(long, value_name = "PIXELS", value_parser = positive)]
    pub sd: Option<f64>,
    /// The hoof was out of sight: it counts, but has no place
    #[arg(long, conflicts_with = "at")]
    pub hidden: bool,
    /// The frame's time.
    #[command(flatten)]
    pub time: TimeArgs,
}
