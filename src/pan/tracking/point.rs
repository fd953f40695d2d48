//! The points, living and gone.

use nalgebra::Vector2;

use super::patch::Patch;
use super::picture_map::PictureMap;
use super::thumbnail::Thumbnail;
use crate::scene::FramePoint;

/// What became of a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fate {
    /// It is followed now.
    Live,
    /// It left the picture or was covered, and may come back.
    Away,
    /// It moved, or nothing more than noise was there: its sightings are void.
    Void,
}

/// A point for as long as the clip lasts.
#[derive(Clone, Debug)]
pub(super) struct Point {
    /// The key frame it was born in.
    pub(super) key: usize,
    /// Where it was there.
    pub(super) born_at: FramePoint,
    /// What it looked like there; given up when it is void or too many are kept.
    pub(super) patch: Option<Patch>,
    pub(super) fate: Fate,
    pub(super) piece: u32,
}

impl Point {
    /// Whether it could be found again.
    pub(super) fn is_away(&self) -> bool {
        self.fate == Fate::Away && self.patch.is_some()
    }
}

/// A point that is followed.
#[derive(Clone, Copy, Debug)]
pub(super) struct Live {
    pub(super) point: usize,
    /// Where it was last, or would have been.
    pub(super) at: FramePoint,
    /// Where it was in the latest key frame.
    pub(super) key_at: FramePoint,
    /// Frames in a row in which it was not found.
    pub(super) missed: u8,
    /// Times it moved otherwise than the picture, less what good conduct has made up for.
    pub(super) strikes: f32,
    /// Frames it was found in.
    pub(super) seen: u32,
    /// In this frame: its standard deviation, when it was found and agrees.
    pub(super) sd_px: Option<f32>,
    /// Its usual noise, pixels.
    pub(super) noise_px: Option<f32>,
    /// How it moves against the common map from frame to frame, pixels: near things do so evenly.
    pub(super) course: Option<Vector2<f32>>,
}

/// A key frame as the tracker remembers it.
#[derive(Clone, Debug)]
pub(super) struct Key {
    pub(super) piece: u32,
    /// To this frame from the first key frame of the piece.
    pub(super) from_first: PictureMap,
    /// Its points and where they were.
    pub(super) seen: Vec<(usize, FramePoint)>,
    pub(super) thumbnail: Thumbnail,
}
