//! The draws behind an approach's numbers, for whoever compares them with another's.

/// Draws of the numbers of one approach, in metres and per cent; draw by draw they belong to the
/// same scene. Two surveys seeded alike must not be paired draw by draw: the same chances lie
/// behind both.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct ApproachDraws {
    /// Mean stride length, metres; empty where there is no levelness.
    pub mean_m: Vec<f64>,
    /// Longest minus shortest stride, metres; empty where there is no levelness.
    pub range_m: Vec<f64>,
    /// Standard deviation over mean, per cent; empty where there is no levelness.
    pub variation_percent: Vec<f64>,
    /// Take-off distance, metres; empty where it was not measured.
    pub take_off_m: Vec<f64>,
}
