//! The approach picture: the frames of all footfalls joined by their surveyed cameras into one
//! wide picture, with the horse once per stride and the measured track below it.
//!
//! Each frame is laid out as a [`Panorama`] sees it ([`layer`]). What does not move is the middle
//! of what the frames show of it, leaving out where the survey says the horse is
//! ([`background`]); how far the frames disagree there tells whether they join at all
//! ([`joint`]). The horses are cut from their own frames and laid over it ([`horses`]).

mod background;
mod band;
mod choice;
mod framing;
mod horses;
mod joint;
mod layer;

use image::RgbImage;
use rayon::prelude::*;

pub use band::{ApproachPictureInput, ApproachPictureText, dressed};
pub use choice::footfalls_to_show;

use super::area::Spot;
use crate::scene::{Camera, Panorama};
use crate::stride::ApproachMeasurement;
use layer::Layer;

/// A frame to be joined.
#[derive(Clone, Debug)]
pub struct JoinedFrame {
    /// The upright picture.
    pub picture: RgbImage,
    /// Its surveyed camera.
    pub camera: Camera,
    /// The footfall whose moment it shows, by its id.
    pub footfall: String,
}

/// The joined picture, before anything is drawn on it.
#[derive(Clone, Debug)]
pub struct ApproachPicture {
    /// The picture.
    pub picture: RgbImage,
    /// What it shows where.
    pub seen_from: Panorama,
    /// The footfalls whose horse it shows, in the order ridden.
    pub horses: Vec<String>,
    /// Those whose horse the next one would hide.
    pub left_out: Vec<String>,
    /// Their outlines on the picture, larger than the horses.
    pub outlines: Vec<Vec<Spot>>,
    /// How far fixed things of one frame lie from those of the others: nine of ten lie nearer,
    /// in pixels of the picture.
    pub apart_px: f64,
}

/// Why there is no approach picture.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoApproachPicture {
    /// Too few frames of the approach have a camera and a hoof with a place.
    #[error(
        "cannot join the frames: {found} of them show a hoof whose place is known ({needed} needed)"
    )]
    TooFewFrames {
        /// How many there are.
        found: usize,
        /// How many are needed.
        needed: usize,
    },
    /// The camera stood so near that the approach goes all around it.
    #[error("cannot join the frames: together they look {degrees:.0}° around ({most:.0}° at most)")]
    TooWide {
        /// Angle between the first and the last horse.
        degrees: f64,
        /// The most that is laid out.
        most: f64,
    },
    /// Fixed things do not come to lie on one another.
    #[error(
        "cannot join the frames: fixed things lie up to {apart_px:.0} px apart from frame to frame (at most {most_px:.0} makes a clean picture)"
    )]
    DoNotJoin {
        /// Nine of ten lie nearer.
        apart_px: f64,
        /// The most that is accepted.
        most_px: f64,
    },
}

impl NoApproachPicture {
    /// What to do about it.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::TooFewFrames { .. } => "mark more footfalls, or look at the stills",
            Self::TooWide { .. } => "stand farther away next time; the stills show each stride",
            Self::DoNotJoin { .. } => {
                "mark more ties on the frames of the footfalls; the stills show each stride"
            }
        }
    }
}

/// The least number of frames worth joining.
const LEAST_FRAMES: usize = 3;
/// Shifts smaller than this are not seen.
const LEAST_SHIFT_PX: f64 = 0.3;
/// How often the frames are shifted to where the others show the same things.
const SHIFTED: usize = 2;

/// Joins `frames` into a picture at most `most_width` pixels wide.
pub fn join_frames(
    approach: &ApproachMeasurement,
    frames: &[JoinedFrame],
    most_width: u32,
) -> Result<ApproachPicture, NoApproachPicture> {
    let frames: Vec<&JoinedFrame> = frames.iter().filter(|f| placed(approach, f)).collect();
    if frames.len() < LEAST_FRAMES {
        return Err(NoApproachPicture::TooFewFrames { found: frames.len(), needed: LEAST_FRAMES });
    }
    let shown: Vec<String> = footfalls_to_show(approach)
        .into_iter()
        .map(|footfall| footfall.footfall.clone())
        .filter(|id| frames.iter().any(|frame| frame.footfall == *id))
        .collect();
    let seen_from = framing::panorama(approach, &frames, &shown, most_width)?;
    let mut layers: Vec<Layer> =
        frames.par_iter().map(|frame| Layer::of(frame, approach, &seen_from)).collect();
    let mut background = background::join(&mut layers, seen_from.size);
    let mut apart = joint::apart(&layers, &background);
    for _ in 0..SHIFTED {
        if apart.shifts.iter().all(|(dx, dy)| dx.hypot(*dy) < LEAST_SHIFT_PX) {
            break;
        }
        let shifted = layers.par_iter_mut().zip(&apart.shifts).zip(&frames);
        shifted.for_each(|((layer, shift), frame)| layer.move_by(*shift, frame, &seen_from));
        background = background::join(&mut layers, seen_from.size);
        apart = joint::apart(&layers, &background);
    }
    let apart_px = apart.nine_of_ten_px;
    let most_px = joint::most_apart(&layers);
    if apart_px > most_px {
        return Err(NoApproachPicture::DoNotJoin { apart_px, most_px });
    }
    let laid = horses::lay(&layers, &frames, &seen_from, background, &shown, apart_px);
    let (picture, seen_from, moved) = framing::without_empty_rims(laid, seen_from, &layers);
    let outlines = layers
        .iter()
        .filter(|layer| picture.horses.contains(&layer.footfall))
        .map(|layer| {
            layer.outline.iter().map(|s| Spot::new(s.x - moved.0, s.y - moved.1)).collect()
        })
        .collect();
    let left_out = shown.into_iter().filter(|id| !picture.horses.contains(id)).collect();
    Ok(ApproachPicture {
        left_out,
        picture: picture.picture,
        seen_from,
        horses: picture.horses,
        outlines,
        apart_px,
    })
}

/// Whether the place of the frame's hoof is known and lies on it.
fn placed(approach: &ApproachMeasurement, frame: &JoinedFrame) -> bool {
    let footfall = approach.footfalls.iter().find(|footfall| footfall.footfall == frame.footfall);
    footfall.is_some_and(|footfall| footfall.place.is_some())
}
