//! Why there is no motion, or none between two frames.

use crate::quantity::FrameNumber;

/// Why the camera's motion could not be found at all.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum MotionError {
    /// Nothing to go by.
    #[error(
        "cannot follow the camera: {frames} key frames share points of the background (2 needed)"
    )]
    TooLittle {
        /// Key frames that share points.
        frames: usize,
    },
    /// Points that agree on nothing.
    #[error("cannot follow the camera: no motion fits the points of the background")]
    NoFit,
}

impl MotionError {
    /// What to do about it.
    pub fn hint(&self) -> &'static str {
        "place ties by hand: the same fixed thing in each marked frame"
    }
}

/// Why two frames have no relative motion.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum MotionGap {
    /// No frame was asked for.
    #[error("cannot tell how the camera moved: no frame was named")]
    NoFrames,
    /// Lost, or never looked at.
    #[error("cannot tell how the camera moved: frame {frame} was not followed")]
    NotFollowed {
        /// The frame.
        frame: FrameNumber,
    },
    /// A frame that is asked for twice.
    #[error("cannot tell how the camera moved: frame {frame} was named twice")]
    Twice {
        /// The frame.
        frame: FrameNumber,
    },
    /// Nothing in the background links the two.
    #[error(
        "cannot tell how the camera moved: the background was lost between frames {from} and {to}"
    )]
    Apart {
        /// The first of the frames that were asked for.
        from: FrameNumber,
        /// One that lies in another piece.
        to: FrameNumber,
    },
    /// A point that the other frame does not see.
    #[error("cannot tell where the point is: frame {frame} looks another way")]
    OutOfSight {
        /// The frame.
        frame: FrameNumber,
    },
}

impl MotionGap {
    /// What to do about it.
    pub fn hint(&self) -> Option<&'static str> {
        match self {
            Self::NotFollowed { .. } | Self::Apart { .. } => {
                Some("place ties by hand in the frames on both sides")
            }
            Self::NoFrames | Self::Twice { .. } | Self::OutOfSight { .. } => None,
        }
    }
}
