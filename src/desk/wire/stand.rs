//! What the page asks and is told of where to stand before filming.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// The layout, the phone and the place, as typed; what is left out is as is usual. Metres; lengths
/// along the track are before the fence.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize, TS)]
#[serde(default)]
pub struct StandQuery {
    /// How many poles.
    pub poles: Option<u32>,
    /// Centre to centre.
    pub spacing_m: Option<f64>,
    /// Length of each.
    pub pole_length_m: Option<f64>,
    /// The last pole before the fence.
    pub last_pole_m: Option<f64>,
    /// Laid by walking instead of by the tape.
    pub paced: bool,
    /// Their ends drawn to the poles' own edges.
    pub snapped: bool,
    /// How many strides are wanted.
    pub strides: Option<u32>,
    /// How long each is.
    pub stride_m: Option<f64>,
    /// To the left of the way the horse goes instead of to the right.
    pub left: bool,
    /// Turned with the horse instead of on a stand.
    pub turning: bool,
    /// Horizontal field of view, degrees.
    pub field_deg: Option<f64>,
    /// Frames a second.
    pub frames_per_s: Option<f64>,
    /// Nearest to the track that she can stand.
    pub nearest_m: Option<f64>,
    /// Farthest from it.
    pub farthest_m: Option<f64>,
    /// Where she stands now, if she does: from the track; goes with `along_m`.
    pub distance_m: Option<f64>,
    /// Before the fence; negative, beyond it.
    pub along_m: Option<f64>,
    /// Height of the lens: now, or, with no place, where she will hold it.
    pub height_m: Option<f64>,
}

/// What was taken where nothing was typed, as it stands in the empty fields; numbers alone, in the
/// units of the page.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct StandUsed {
    /// Poles.
    pub poles: String,
    /// Centre to centre.
    pub spacing: String,
    /// Length of each.
    pub pole_length: String,
    /// The last pole before the fence.
    pub last_pole: String,
    /// Strides.
    pub strides: String,
    /// How long each is.
    pub stride: String,
    /// Field of view.
    pub field: String,
    /// Frames a second.
    pub frames_per_s: String,
    /// Nearest to the track.
    pub nearest: String,
    /// Farthest from it.
    pub farthest: String,
}

/// Where to stand, in words, figures and a picture.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct StandView {
    /// The advice.
    pub sentence: String,
    /// Where the phone is, in words; `None` where it has no place yet.
    pub now: Option<String>,
    /// Where it had better be; `None` where no place is much better.
    pub advised: Option<String>,
    /// A number a row.
    pub rows: Vec<StandRow>,
    /// What is out of the picture from now; `None` when nothing is.
    pub unseen: Option<String>,
    /// Where to point the phone at the advised place, and what its picture will not hold.
    pub view: Vec<String>,
    /// What the single changes are headed by.
    pub changes_head: String,
    /// Single changes that help, the best first.
    pub changes: Vec<StandChange>,
    /// Doubts, as sentences.
    pub doubts: Vec<String>,
    /// Cautions, the coach's own place first.
    pub cautions: Vec<String>,
    /// From above, to scale.
    pub svg: String,
    /// What stands in the fields that nothing was typed in.
    pub used: StandUsed,
}

/// One number from both places.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct StandRow {
    /// "stride −1", "take-off", "landing", "tempo".
    pub name: String,
    /// Its ± from now, if she stands anywhere.
    pub now: Option<String>,
    /// From the place that is advised.
    pub advised: Option<String>,
}

/// One thing done differently.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct StandChange {
    /// What.
    pub words: String,
    /// The largest ± of take-off and the last three strides then.
    pub half: String,
}
