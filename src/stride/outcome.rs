//! What was measured, as data: units in the key names, every number with its interval.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::doubt::StrideDoubt;
use super::pace_changes::PaceChanges;
use super::two_fences::LineMeasurement;
use crate::marks::{Event, Limb};
use crate::quantity::{
    Degrees, Estimate, FrameNumber, Metres, MetresPerSecond, Percent, Seconds, StridesPerMinute,
};
use crate::scene::GroundPoint;
use crate::survey::{GroundEllipse, MarkResidual, SurveyDoubt, Suspect};

/// Everything measured from one marks file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Measurement {
    /// Marks that do not fit and were left out.
    pub suspects: Vec<Suspect>,
    /// Every mark's residual.
    pub residuals: Vec<MarkResidual>,
    /// Reasons to trust the survey less.
    pub doubts: Vec<SurveyDoubt>,
    /// One entry an approach, in file order.
    pub approaches: Vec<ApproachMeasurement>,
    /// Lines of two fences ridden one after the other.
    #[serde(default)]
    pub lines: Vec<LineMeasurement>,
}

/// What was measured of one approach.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ApproachMeasurement {
    /// The approach's id.
    pub approach: String,
    /// Its fence.
    pub fence: PlacedFence,
    /// The limb whose contacts delimit the strides.
    pub reference_limb: Limb,
    /// The strides in the order ridden: −n first, −1 last.
    pub strides: Vec<StrideRow>,
    /// Hind hoof to the ground line.
    pub take_off: Option<EdgeDistance>,
    /// Far base to the first fore hoof.
    pub landing: Option<EdgeDistance>,
    /// How even the strides were; needs three.
    pub levelness: Option<Levelness>,
    /// How often the pace changed; needs three strides, too.
    pub pace_changes: Option<PaceChanges>,
    /// Where and how the track meets the fence.
    pub track: Option<TrackAtFence>,
    /// Every footfall with its place, in the order of time.
    pub footfalls: Vec<PlacedFootfall>,
    /// Points of the adjusted track, a quarter of a metre apart, in the order ridden.
    pub track_line: Vec<GroundPoint>,
    /// Reasons to trust this approach's numbers less.
    pub doubts: Vec<StrideDoubt>,
    /// The coach's note on the approach.
    pub note: String,
}

impl ApproachMeasurement {
    /// The stride that had ended last at `time_s` (capture time); `None` before the first has.
    ///
    /// Of two strides this is the one a picture of that moment can say a number of: the stride
    /// under way has neither length nor pace yet.
    pub fn last_ended(&self, time_s: f64) -> Option<&StrideRow> {
        self.strides.iter().rev().find(|row| {
            self.footfall_time_s(&row.to_footfall).is_some_and(|end| end <= time_s + SAME_TIME_S)
        })
    }

    /// The strides that begin in frame `left`, when the turn was left, or after it; all where that was
    /// not stated.
    pub fn strides_from(&self, left: Option<FrameNumber>) -> impl Iterator<Item = &StrideRow> {
        let frame = |id: &str| self.footfalls.iter().find(|f| f.footfall == id).map(|f| f.frame);
        self.strides.iter().filter(move |row| {
            left.is_none_or(|left| frame(&row.from_footfall).is_some_and(|frame| frame >= left))
        })
    }

    /// When the footfall of that id was.
    pub fn footfall_time_s(&self, id: &str) -> Option<f64> {
        self.footfalls.iter().find(|f| f.footfall == id).map(|footfall| footfall.time_s)
    }
}

/// Times closer than this are one: they went through different sums.
const SAME_TIME_S: f64 = 1e-9;

/// One stride.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct StrideRow {
    /// Counted back from the fence; −1 is the last.
    pub number: i32,
    /// The footfall it starts with.
    pub from_footfall: String,
    /// The footfall it ends with.
    pub to_footfall: String,
    /// Distance on the ground between the two; `None` when one was not seen.
    pub length_m: Option<Estimate<Metres>>,
    /// Time between the two.
    pub duration_s: Estimate<Seconds>,
    /// Strides a minute at this duration.
    pub tempo_strides_per_min: Estimate<StridesPerMinute>,
    /// Length over duration.
    pub speed_m_per_s: Option<Estimate<MetresPerSecond>>,
    /// The coach's note.
    pub note: String,
}

/// Distance between a hoof and an edge of the fence, square to the fence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct EdgeDistance {
    /// The distance; negative when the hoof is past the edge.
    pub distance_m: Estimate<Metres>,
    /// Which hoof.
    pub limb: Limb,
    /// Which edge.
    pub edge: FenceEdge,
    /// The footfall.
    pub footfall: String,
}

/// The edges distances are measured from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FenceEdge {
    /// The base on the take-off side.
    GroundLine,
    /// The base on the landing side.
    FarBase,
}

/// How even the strides of an approach were, from leaving the turn (where that was stated) to take-off.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Levelness {
    /// Longest minus shortest.
    pub range_m: Estimate<Metres>,
    /// Standard deviation over mean.
    pub variation_percent: Estimate<Percent>,
    /// Mean change from one stride to the next, without its sign.
    pub change_m: Estimate<Metres>,
    /// Slope of length over stride number: positive when the strides grow towards the fence.
    pub trend_m_per_stride: Estimate<Metres>,
    /// Mean length.
    pub mean_m: Estimate<Metres>,
    /// Mean speed from the first contact to the last.
    pub mean_speed_m_per_s: Estimate<MetresPerSecond>,
    /// Strides a minute from the first contact to the last.
    pub mean_tempo_strides_per_min: Estimate<StridesPerMinute>,
}

/// Where and how the track meets the fence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TrackAtFence {
    /// Side offset from the middle of the ground line; positive to the left.
    pub offset_m: Estimate<Metres>,
    /// Angle off square; positive when heading to the left.
    pub angle_deg: Estimate<Degrees>,
    /// Radius is 1/bend; positive to the left, zero for a straight track.
    pub bend_per_m: f64,
}

/// A fence where the survey puts it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PlacedFence {
    /// The fence's id.
    pub id: String,
    /// What people call it; its id when it has no name.
    pub name: String,
    /// Take-off base, left and right ends, as far as marked.
    pub take_off_base: [Option<GroundPoint>; 2],
    /// Landing base; the take-off base again for a vertical.
    pub landing_base: [Option<GroundPoint>; 2],
}

/// A footfall where the survey puts it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PlacedFootfall {
    /// Its id.
    pub footfall: String,
    /// Which limb.
    pub limb: Limb,
    /// What it belongs to.
    pub event: Event,
    /// Frame of first contact.
    pub frame: FrameNumber,
    /// Capture time, seconds.
    pub time_s: f64,
    /// Place on the ground; `None` when it was not seen.
    pub place: Option<GroundPoint>,
    /// One-sd ellipse of the place.
    pub ellipse: Option<GroundEllipse>,
}
