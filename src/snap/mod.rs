//! Moves the click on a pole's end onto the pole's own edges, at a fraction of a pixel.
//!
//! A pole 20 m off is six pixels thick, its painted bands two to five pixels long, and its shadow
//! lies along it. Edges so close blur into one another, so that places where the brightness
//! changes fastest are not where the pole ends. Instead a small picture of the whole end (two
//! sides, end, shadow, bands, ground, blur) is fitted to the pixels by least squares; what the
//! fit leaves over says how far the answer can be trusted.
//!
//! Invariant: the same picture, click and reach give the same answer. Where the picture does not
//! carry one it is refused in words; nothing is guessed.

mod appearance;
mod banded;
mod ends;
mod fit;
mod patch;
mod refusal;
mod search;
mod shape;
mod sides;
mod spread;
mod step;

#[cfg(test)]
mod tests;

use image::GrayImage;
use serde::{Deserialize, Serialize};

use crate::scene::FramePoint;

pub use refusal::NotSnapped;

/// A pole's end found in the picture.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Snapped {
    /// The middle of the end face.
    pub point: FramePoint,
    /// Standard deviation along the pole, pixels.
    pub along_sd_px: f64,
    /// Standard deviation across it, pixels.
    pub across_sd_px: f64,
    /// Unit vector along the centre line, from this end to the other one: x to the right.
    pub towards_x: f64,
    /// The same, y down.
    pub towards_y: f64,
    /// How thick the pole is at this end, pixels.
    pub thickness_px: f64,
    /// How far the click was moved.
    pub moved_px: f64,
}

impl Snapped {
    /// The standard deviation for a mark that has one for both directions: that of the mean
    /// variance.
    pub fn sd_px(&self) -> f64 {
        (f64::midpoint(self.along_sd_px.powi(2), self.across_sd_px.powi(2))).sqrt()
    }
}

/// Moves `click` onto the end of the pole it was meant for.
///
/// `hint` is another point on the same pole's centre line, best its other end; without it the
/// direction is found from the picture. An end farther than `reach_px` from the click is refused.
pub fn snap_pole_end(
    luma: &GrayImage,
    click: FramePoint,
    hint: Option<FramePoint>,
    reach_px: f64,
) -> Result<Snapped, NotSnapped> {
    search::snap(luma, click, hint, reach_px)
}
