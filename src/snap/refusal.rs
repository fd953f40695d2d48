//! Why a click was left where it is.

use thiserror::Error;

/// Why no end was found; the click stays as it was.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum NotSnapped {
    /// Too little picture about the click.
    #[error("the click lies too close to the picture's border")]
    AtTheBorder,
    /// Click, hint or reach are no numbers that can be worked with.
    #[error("click, hint and reach must be finite, the reach above 0, and hint and click apart")]
    NotUsable,
    /// Nothing that has two parallel sides.
    #[error("no two parallel edges that end near the click were found")]
    NoEdges,
    /// Sides or end are hardly brighter or darker than what lies beside them.
    #[error("the pole is too like the ground beside it ({step:.0} levels, {needed:.0} needed)")]
    LowContrast {
        /// The step found, grey levels.
        step: f64,
        /// The step that would be enough.
        needed: f64,
    },
    /// An end was found, but too far from the click.
    #[error("the nearest end found is {away_px:.1} px from the click, beyond {reach_px:.1} px")]
    BeyondReach {
        /// Distance from the click to what was found.
        away_px: f64,
        /// The reach asked for.
        reach_px: f64,
    },
    /// Two ends explain the picture about equally well.
    #[error("two places explain the picture equally well, {apart_px:.1} px apart")]
    Ambiguous {
        /// Distance between them.
        apart_px: f64,
    },
    /// The answer would be no better than the click.
    #[error("the edges give the end only to {sd_px:.1} px")]
    Uncertain {
        /// The larger of the two standard deviations.
        sd_px: f64,
    },
    /// Something else lies over the pole or beside it.
    #[error("what is seen at the click is not like a pole: something lies before or beside it")]
    NotLikeAPole {
        /// Root mean square of what a pole does not explain, grey levels.
        left_over: f64,
    },
}
