//! A clip of the folder that the page looks at: its times, its frames, the round marked on it.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use super::frame_server::FrameServer;
use super::open_round::OpenRound;
use super::wire::ClipView;
use crate::footage::{Clip, FootageDoubt, FootageError, OpenOptions};
use crate::quantity::{FrameNumber, Seconds, Unit, written_moment};

/// An open clip.
pub(super) struct OpenClip {
    pub name: String,
    pub path: PathBuf,
    pub clip: Clip,
    pub frames: FrameServer,
    /// The round, once it was asked for.
    round: Mutex<Option<Arc<OpenRound>>>,
}

impl OpenClip {
    /// Opens the clip; reads every packet and decodes none.
    pub fn open(name: &str, path: &Path) -> Result<Self, FootageError> {
        let options = OpenOptions { without_hash: true, ..OpenOptions::default() };
        let clip = Clip::open(path, &options)?;
        let frames = FrameServer::start(&clip)?;
        let round = Mutex::new(None);
        Ok(Self { name: name.to_owned(), path: path.to_owned(), clip, frames, round })
    }

    /// Where the round is kept once it is open.
    pub fn round(&self) -> MutexGuard<'_, Option<Arc<OpenRound>>> {
        self.round.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Seconds at the fence from the first frame to this one.
    pub fn capture_s(&self, frame: FrameNumber) -> Option<f64> {
        self.clip.capture_seconds(frame).ok()
    }

    /// What the page is told.
    pub fn view(&self) -> Result<ClipView, FootageError> {
        let facts = self.clip.facts();
        let first = self.clip.time(FrameNumber(0))?;
        let mut times_s = Vec::with_capacity(self.clip.frame_count() as usize);
        for frame in 0..self.clip.frame_count() {
            times_s.push(self.clip.time(FrameNumber(frame))?.seconds_since(first));
        }
        let last = self.clip.duration(self.clip.last_frame())?;
        let steps = f64::from(self.clip.frame_count().max(2) - 1);
        let usual_s = times_s.last().copied().unwrap_or_default() / steps;
        Ok(ClipView {
            clip: self.name.clone(),
            width: facts.upright_width_px,
            height: facts.upright_height_px,
            times: times_s.iter().map(|time_s| written_moment(Seconds::new(*time_s))).collect(),
            times_s,
            last_s: last.map_or(usual_s, |last| last.seconds()),
            doubts: self.clip.doubts().iter().map(FootageDoubt::sentence).collect(),
        })
    }
}
