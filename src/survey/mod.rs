//! The joint least-squares adjustment that turns marks into metres with their covariance.
//!
//! Unknowns: focal length, one distortion term, the camera's place, a turn for each pose (and
//! how far the hand strayed), small corrections to the references' layout, every marked ground
//! point, the track of each approach. Observations: every click, every stated length, weak
//! beliefs about the camera, hooves beside their track. The outcome carries the joint covariance,
//! each mark's residual, the marks that do not fit, and doubts; or it is a refusal with a reason.
//!
//! Invariant: no file, no clip, no clock; the same marks give the same numbers.
//! Not handled: rolling shutter (about 2 cm across the band of the hooves at a pan of 30°/s).

mod adjust;
mod build;
mod depths;
mod doubt;
mod error;
mod gauge;
pub mod least_squares;
mod misfit;
mod model;
mod motion;
mod outcome;
mod place;
mod pose;
mod posterior;
mod readings;
mod report;
mod scale;
mod snoop;
mod start;
mod unknowns;

#[cfg(test)]
mod tests;

pub use doubt::SurveyDoubt;
pub use error::SurveyError;
pub use outcome::{
    GroundEllipse, MarkResidual, PlaceSpread, PlacedPole, Survey, Suspect, TrackCurve,
};
pub use posterior::{PlaceDraws, Posterior};
pub use readings::{survey, survey_with_motion};
