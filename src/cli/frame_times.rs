//! The exact times of frames, from the clip or as typed.

use std::path::Path;

use clap::Args;

use super::Failure;
use super::spots::{number, positive};
use crate::footage::{Clip, FootageError, OpenOptions};
use crate::marks::{ClipNote, Edit, MarkedFrame, MarksFile};
use crate::quantity::FrameNumber;
use crate::store::{clip_matches, clip_path};

/// The time of a frame, for when the clip is elsewhere.
#[derive(Args, Debug)]
pub struct TimeArgs {
    /// Time of the frame since the first one; read from the clip when left out
    #[arg(long, value_name = "SECONDS", value_parser = number, requires = "gap")]
    pub time: Option<f64>,
    /// Time between the frame and the one before it
    #[arg(long, value_name = "SECONDS", value_parser = positive, requires = "time")]
    pub gap: Option<f64>,
}

/// A typed time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct GivenTime {
    time_s: f64,
    gap_s: f64,
}

impl TimeArgs {
    pub(super) fn given(&self) -> Option<GivenTime> {
        self.time.zip(self.gap).map(|(time_s, gap_s)| GivenTime { time_s, gap_s })
    }
}

/// The times of the frames that the edit names and the file does not know.
pub(super) fn known_times(
    marks: &Path,
    file: &MarksFile,
    edit: &Edit,
    given: Option<GivenTime>,
) -> Result<Vec<MarkedFrame>, Failure> {
    let wanted = edit.frames_wanted(file);
    // A frame that the clip does not have is for the rules to refuse, in better words.
    let outside = wanted.iter().any(|frame| frame.0 >= file.clip.frame_count);
    match (wanted.as_slice(), given) {
        ([frame], Some(GivenTime { time_s, gap_s })) => {
            Ok(vec![MarkedFrame::new(*frame, time_s, gap_s)])
        }
        (_, Some(_)) => Err(Failure::usage("cannot use --time: the time of the frame is known")),
        ([], None) => Ok(Vec::new()),
        _ if outside => Ok(Vec::new()),
        (frames, None) => from_clip(marks, &file.clip, frames),
    }
}

fn from_clip(
    marks: &Path,
    note: &ClipNote,
    frames: &[FrameNumber],
) -> Result<Vec<MarkedFrame>, Failure> {
    let path = clip_path(marks, note);
    clip_matches(&path, note).map_err(|error| {
        let first = frames.first().map_or(0, |frame| frame.0);
        let why = Failure::from(error);
        why.before(&format!("cannot know the time of frame {first}"))
            .hint("put the clip beside the marks file, or type --time and --gap")
    })?;
    let clip = open(&path, note.stream)?;
    frames.iter().map(|frame| frame_time(&clip, *frame).map_err(Failure::from)).collect()
}

/// Opens a clip of which the hash is known or not needed.
pub(super) fn open(path: &Path, stream: Option<usize>) -> Result<Clip, Failure> {
    let options = OpenOptions { stream, capture_rate: None, without_hash: true };
    Ok(Clip::open(path, &options)?)
}

/// Time since the clip's first frame, and the gap before the frame; the first one takes the gap
/// after it.
pub(super) fn frame_time(clip: &Clip, frame: FrameNumber) -> Result<MarkedFrame, FootageError> {
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
