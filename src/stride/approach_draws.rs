//! The draws behind an approach's numbers, for whoever compares them with another's or asks what
//! they support.

/// Draws of the numbers of one approach, in metres and per cent; draw by draw they belong to the
/// same scene, but for the true lengths and what comes of them (range, variation), which are drawn
/// apart. Two surveys seeded alike must not be paired draw by draw: the same chances lie behind both.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct ApproachDraws {
    /// Mean stride length, metres; empty where there is no levelness.
    pub mean_m: Vec<f64>,
    /// Longest minus shortest stride, metres; empty where there is no levelness.
    pub range_m: Vec<f64>,
    /// Standard deviation over mean, per cent; empty where there is no levelness.
    pub variation_percent: Vec<f64>,
    /// Numbers of the strides that levelness is of, in the order ridden: −n first.
    pub stride_numbers: Vec<i32>,
    /// True lengths of those strides, metres, a draw each in the same order; empty where there is no
    /// levelness.
    pub lengths_m: Vec<Vec<f64>>,
    /// Take-off distance, metres; empty where it was not measured.
    pub take_off_m: Vec<f64>,
    /// Landing distance, metres; empty where it was not measured.
    pub landing_m: Vec<f64>,
    /// How the track meets the fence; empty where that was not measured.
    pub track: Vec<TrackDraw>,
}

/// The track of one draw, seen from the fence.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrackDraw {
    /// Side offset from the middle of the ground line, metres; positive to the left.
    pub offset_m: f64,
    /// Angle off square, degrees; positive when heading to the left.
    pub angle_deg: f64,
    /// 1 / radius at the fence, 1/m; positive when bending to the left.
    pub bend_per_m: f64,
}
