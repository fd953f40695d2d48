//! What the page asks and is told of where to stand before filming.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// The layout and the place, as typed. Metres; lengths along the track are before the fence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct StandQuery {
    /// How many poles.
    pub poles: u32,
    /// Centre to centre.
    pub spacing_m: f64,
    /// The last pole before the fence.
    pub last_pole_m: f64,
    /// Laid by walking instead of by the tape.
    pub paced: bool,
    /// How many strides are wanted.
    pub strides: u32,
    /// From the track to the phone.
    pub distance_m: f64,
    /// The phone before the fence; negative, beyond it.
    pub along_m: f64,
    /// Height of the lens.
    pub height_m: f64,
    /// To the left of the way the horse goes instead of to the right.
    pub left: bool,
    /// Turned with the horse instead of on a stand.
    pub turning: bool,
}

/// Where to stand, in words, figures and a picture.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct StandView {
    /// The advice.
    pub sentence: String,
    /// Where the phone is, in words.
    pub now: String,
    /// Where it had better be; `None` where no place is much better.
    pub better: Option<String>,
    /// A number a row.
    pub rows: Vec<StandRow>,
    /// What is out of the picture from now; `None` when nothing is.
    pub unseen: Option<String>,
    /// Single changes that help, the best first.
    pub changes: Vec<StandChange>,
    /// Doubts, as sentences.
    pub doubts: Vec<String>,
    /// Cautions, the coach's own place first.
    pub cautions: Vec<String>,
    /// From above, to scale.
    pub svg: String,
}

/// One number from both places.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct StandRow {
    /// "stride −1", "take-off", "landing", "tempo".
    pub name: String,
    /// Its ± from now.
    pub now: String,
    /// From the better place.
    pub better: Option<String>,
}

/// One thing done differently.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, TS)]
pub struct StandChange {
    /// What.
    pub words: String,
    /// The largest ± then.
    pub half: String,
}
