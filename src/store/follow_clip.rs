//! A clip's background followed from its first frame to its last.
//!
//! One thread decodes while this one follows; only a few pictures wait between them. A frame that
//! cannot be decoded is a frame without a motion, no reason to stop.

use std::sync::mpsc::sync_channel;

use image::GrayImage;

use crate::footage::{Clip, FootageError, ReaderOptions};
use crate::pan::{
    CameraMotion, LumaView, MotionError, MotionPriors, Tracker, TrackerSettings, Tracks, adjust,
};
use crate::quantity::FrameNumber;
use crate::scene::PictureSize;

/// Pictures that may wait to be followed.
const WAITING: usize = 2;

/// What came of it.
#[derive(Debug)]
pub struct Followed {
    /// The camera's motion.
    pub motion: CameraMotion,
    /// What it was found from.
    pub tracks: Tracks,
    /// Frames that could not be decoded.
    pub undecoded: Vec<FrameNumber>,
}

/// Why there is no motion.
#[derive(Debug, thiserror::Error)]
pub enum NotFollowed {
    /// Somebody asked to stop.
    #[error("stopped: the camera was not followed to the end")]
    Stopped,
    /// The clip cannot be read.
    #[error(transparent)]
    Footage(#[from] FootageError),
    /// Its background tells nothing.
    #[error(transparent)]
    Motion(#[from] MotionError),
}

impl NotFollowed {
    /// What can be done about it.
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::Stopped => None,
            Self::Footage(error) => error.hint(),
            Self::Motion(error) => Some(error.hint().to_owned()),
        }
    }
}

/// How a clip is gone through.
#[derive(Clone, Copy, Debug)]
pub struct Following {
    /// Each so manieth frame is looked at: 1, or more where the camera is thought to stand still.
    pub every: u32,
    /// Frames from the clip's first beyond which nothing is looked at.
    pub most: u32,
    /// Decoder threads, each with pictures of its own; as many as suit the machine if absent.
    pub threads: Option<usize>,
}

impl Following {
    /// Every frame, as fast as the machine can.
    pub const WHOLE: Self = Self { every: 1, most: u32::MAX, threads: None };
}

/// Follows the background of a clip. `went_on` is told how many frames are done after each, and says whether to go on.
pub fn follow_clip(
    clip: &Clip,
    how: Following,
    mut went_on: impl FnMut(u32) -> bool,
) -> Result<Followed, NotFollowed> {
    let facts = clip.facts();
    let picture = PictureSize { width: facts.upright_width_px, height: facts.upright_height_px };
    let mut reader = clip.reader_with(&ReaderOptions { threads: how.threads, cache_bytes: 0 })?;
    let count = clip.frame_count().min(how.most);
    let rate = facts.rate.as_ref().map_or(30.0, |rate| rate.mean_hz);
    // How fast things move from look to look follows from how long they are apart at the fence.
    let frames_per_s = rate * facts.capture.time_scale.recip() / f64::from(how.every.max(1));
    let settings = TrackerSettings { frames_per_s, ..TrackerSettings::default() };
    let mut tracker = Tracker::new(picture, settings);
    let mut undecoded = Vec::new();
    let whole = std::thread::scope(|scope| {
        let (give, pictures) = sync_channel::<(FrameNumber, Option<GrayImage>)>(WAITING);
        scope.spawn(move || {
            for frame in (0..count).step_by(how.every.max(1) as usize).map(FrameNumber) {
                // Nobody is left to take it when the other side stopped.
                if give.send((frame, reader.luma(frame).ok())).is_err() {
                    return;
                }
            }
        });
        for (frame, luma) in pictures {
            let view = luma
                .as_ref()
                .and_then(|luma| LumaView::new(picture, luma.width() as usize, luma.as_raw()).ok());
            match view {
                Some(view) => tracker.push(frame, view),
                None => undecoded.push(frame),
            }
            if !went_on(frame.0 + 1) {
                return false;
            }
        }
        true
    });
    if !whole {
        return Err(NotFollowed::Stopped);
    }
    let tracks = tracker.finish();
    let motion = adjust(&tracks, &MotionPriors::unknown_phone(picture))?.motion;
    Ok(Followed { motion, tracks, undecoded })
}
