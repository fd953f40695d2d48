//! The clip beside a marks file, and what it says of frames that carry marks.

use std::path::Path;

use super::clip::{ClipChanged, clip_matches};
use crate::footage::{Clip, FootageError, OpenOptions};
use crate::marks::{ClipNote, MarkedFrame};
use crate::quantity::FrameNumber;
use crate::scene::PictureSize;

/// Why the clip of a marks file cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum NoClip {
    /// It is not the one that was marked, or not there.
    #[error(transparent)]
    Changed(#[from] ClipChanged),
    /// It cannot be read.
    #[error(transparent)]
    Unreadable(#[from] FootageError),
}

impl NoClip {
    /// What can be done about it.
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::Changed(changed) => changed.hint(),
            Self::Unreadable(error) => error.hint(),
        }
    }
}

/// Opens the clip of a marks file; refused when it is not the one that was marked.
pub fn open_marked(path: &Path, note: &ClipNote) -> Result<Clip, NoClip> {
    clip_matches(path, note)?;
    let clip = open(path, note.stream)?;
    let facts = clip.facts();
    let picture = PictureSize { width: facts.upright_width_px, height: facts.upright_height_px };
    let (found, needed) = ((picture, clip.frame_count()), (note.picture, note.frame_count));
    if found != needed {
        return Err(ClipChanged::OtherPictures { path: path.to_owned(), found, needed }.into());
    }
    Ok(clip)
}

/// Opens a clip of which the hash is known or not needed.
pub fn open(path: &Path, stream: Option<usize>) -> Result<Clip, NoClip> {
    let options = OpenOptions { stream, capture_rate: None, without_hash: true };
    Ok(Clip::open(path, &options)?)
}

/// Time since the clip's first frame, and the gap before the frame; the first one takes the gap
/// after it.
pub fn frame_time(clip: &Clip, frame: FrameNumber) -> Result<MarkedFrame, FootageError> {
    let first = FrameNumber(0);
    let (earlier, later) = match frame {
        FrameNumber(0) => (first, FrameNumber(clip.last_frame().0.min(1))),
        FrameNumber(number) => (FrameNumber(number - 1), frame),
    };
    let time_s = clip.time(frame)?.seconds_since(clip.time(first)?);
    let gap_s = match later == earlier {
        true => clip.facts().duration_s,
        false => clip.time(later)?.seconds_since(clip.time(earlier)?),
    };
    Ok(MarkedFrame::new(frame, time_s, gap_s))
}
