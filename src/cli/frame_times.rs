//! What a clip says of frames that are to carry marks: their exact times (which may be typed instead), and
//! whether they are damaged.

use std::path::Path;

use clap::Args;

use super::Failure;
use super::spots::{number, positive};
use crate::marks::{ClipNote, Edit, MarkedFrame, MarksFile};
use crate::quantity::FrameNumber;
use crate::store::{clip_path, frame_time, open_marked};

/// The time of a frame, for when the clip is elsewhere.
#[derive(Args, Debug, Default)]
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

/// What the clip says of frames.
#[derive(Default)]
pub(super) struct FrameFacts {
    pub times: Vec<MarkedFrame>,
    /// Those of which parts are damaged and guessed.
    pub concealed: Vec<FrameNumber>,
}

/// What the clip, or who typed, says of the frames that the edit names and the file does not know.
pub(super) fn frame_facts(
    marks: &Path,
    file: &MarksFile,
    edit: &Edit,
    given: Option<GivenTime>,
) -> Result<FrameFacts, Failure> {
    let wanted = edit.frames_wanted(file);
    // A frame that the clip does not have is for the rules to refuse, in better words.
    let outside = wanted.iter().any(|frame| frame.0 >= file.clip.frame_count);
    match (wanted.as_slice(), given) {
        ([frame], Some(GivenTime { time_s, gap_s })) => {
            let times = vec![MarkedFrame::new(*frame, time_s, gap_s)];
            Ok(FrameFacts { times, ..FrameFacts::default() })
        }
        (_, Some(_)) => Err(Failure::usage("cannot use --time: the time of the frame is known")),
        ([], None) => Ok(FrameFacts::default()),
        _ if outside => Ok(FrameFacts::default()),
        (frames, None) => from_clip(marks, &file.clip, frames),
    }
}

fn from_clip(marks: &Path, note: &ClipNote, frames: &[FrameNumber]) -> Result<FrameFacts, Failure> {
    let path = clip_path(marks, note);
    let clip = open_marked(&path, note).map_err(|why| {
        let why = Failure::from(why);
        let first = frames.first().map_or(0, |frame| frame.0);
        why.before(&format!("cannot know the time of frame {first}"))
            .hint("put the clip beside the marks file, or type --time and --gap")
    })?;
    let mut reader = clip.reader()?;
    let mut facts = FrameFacts::default();
    for frame in frames {
        facts.times.push(frame_time(&clip, *frame)?);
        if reader.is_concealed(*frame)? {
            facts.concealed.push(*frame);
        }
    }
    Ok(facts)
}
