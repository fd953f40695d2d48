//! The joint least-squares adjustment that turns marks into metres with their covariance.

mod outcome;

pub use outcome::{
    GroundEllipse, MarkResidual, PlacedPole, Survey, SurveyDoubt, Suspect, TrackCurve,
};
