//! What the desk holds while it runs.

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::SystemTime;

use axum::http::StatusCode;

use super::answers::Refusal;
use super::folder::inside;
use super::frame_server::poster;
use super::hand_outs::HandOuts;
use super::open_clip::OpenClip;
use super::open_round::{OpenRound, marks_path};
use super::presence::Presence;
use crate::footage::{Clip, OpenOptions};
use crate::store::StoreError;

/// Clips that stay open; each holds a decoder and its pictures.
const OPEN_CLIPS: usize = 2;
/// Width of a poster, pixels.
const POSTER_PX: u32 = 480;

/// A folder with its open clips.
pub struct Desk {
    pub(super) folder: PathBuf,
    pub(super) hand_outs: HandOuts,
    presence: Presence,
    /// The clip that the page should open first.
    pub(super) first: Option<String>,
    clips: Mutex<Clips>,
}

#[derive(Default)]
struct Clips {
    open: HashMap<String, Arc<OpenClip>>,
    /// Names, the one used last at the end.
    used: Vec<String>,
    /// Small pictures of clips, by name and time of change.
    posters: HashMap<String, (Option<SystemTime>, Arc<Vec<u8>>)>,
    /// Why clips cannot be read, so that the folder says it without trying again.
    unreadable: HashMap<String, String>,
}

impl Desk {
    /// A desk on a folder. `program` is run to hand things out.
    pub fn new(
        folder: PathBuf,
        first: Option<String>,
        program: PathBuf,
        presence: Presence,
    ) -> std::io::Result<Self> {
        let hand_outs = HandOuts::new(program)?;
        Ok(Self { folder, hand_outs, presence, first, clips: Mutex::default() })
    }

    /// Where another desk has the same folder open.
    pub fn elsewhere(&self) -> Option<&str> {
        self.presence.elsewhere()
    }

    /// The clip of that name, opened where it is not.
    pub(super) fn clip(&self, name: &str) -> Result<Arc<OpenClip>, Refusal> {
        let path = inside(&self.folder, name).ok_or_else(|| Refusal::not_found(name))?;
        let known = self.known(name, &path);
        if let Some(known) = known {
            return Ok(known);
        }
        if !path.is_file() {
            return Err(Refusal::not_found(name));
        }
        let opened = OpenClip::open(name, &path);
        let mut clips = self.clips();
        let clip = match opened {
            Ok(clip) => Arc::new(clip),
            Err(error) => {
                clips.unreadable.insert(name.to_owned(), error.to_string());
                return Err(Refusal::unreadable(&error));
            }
        };
        clips.unreadable.remove(name);
        // Two may have opened it at once; the first stays, so that its round is one.
        let clip = Arc::clone(clips.open.entry(name.to_owned()).or_insert(clip));
        clips.touch(name);
        Ok(clip)
    }

    /// A small picture of a clip, made once; it opens the clip for that moment only.
    pub(super) fn poster(&self, name: &str) -> Result<Arc<Vec<u8>>, Refusal> {
        let path = inside(&self.folder, name).ok_or_else(|| Refusal::not_found(name))?;
        let changed =
            std::fs::metadata(&path).map_err(|_| Refusal::not_found(name))?.modified().ok();
        let known = self.clips().posters.get(name).cloned();
        if let Some((_, poster)) = known.filter(|(then, _)| *then == changed) {
            return Ok(poster);
        }
        let options = OpenOptions { without_hash: true, ..OpenOptions::default() };
        let made = Clip::open(&path, &options).map_err(|error| {
            self.clips().unreadable.insert(name.to_owned(), error.to_string());
            Refusal::unreadable(&error)
        });
        let made = poster(&made?, POSTER_PX).map_err(|error| {
            self.clips().unreadable.insert(name.to_owned(), error.clone());
            Refusal::new(StatusCode::UNPROCESSABLE_ENTITY, error, None)
        })?;
        let made = Arc::new(made);
        self.clips().posters.insert(name.to_owned(), (changed, Arc::clone(&made)));
        Ok(made)
    }

    fn clips(&self) -> MutexGuard<'_, Clips> {
        self.clips.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn known(&self, name: &str, path: &Path) -> Option<Arc<OpenClip>> {
        let mut clips = self.clips();
        let clip = clips.open.get(name).cloned()?;
        if !path.is_file() {
            clips.open.remove(name);
            return None;
        }
        clips.touch(name);
        Some(clip)
    }

    /// The round of a clip; where it is not begun, it is with `begin` and refused without.
    pub(super) fn round(&self, clip: &OpenClip, begin: bool) -> Result<Arc<OpenRound>, Refusal> {
        let mut kept = clip.round();
        // The marks may have been taken away meanwhile: then they are begun or refused anew.
        if let Some(round) = kept.as_ref().filter(|_| marks_path(clip).exists()) {
            return Ok(Arc::clone(round));
        }
        let opened = match OpenRound::open(clip) {
            Err(StoreError::NotThere { .. }) if begin => {
                OpenRound::begin(clip).map_err(|error| Refusal::not_begun(&error))?
            }
            Err(StoreError::NotThere { .. }) => return Err(Refusal::no_round(&clip.name)),
            opened => opened?,
        };
        let round = Arc::new(opened);
        *kept = Some(Arc::clone(&round));
        Ok(round)
    }

    /// Why a clip could not be read when it was tried.
    pub(super) fn unreadable(&self, name: &str) -> Option<String> {
        let clips = self.clips();
        clips.unreadable.get(name).cloned()
    }
}

impl Clips {
    fn touch(&mut self, name: &str) {
        self.used.retain(|used| used != name);
        self.used.push(name.to_owned());
        while self.used.len() > OPEN_CLIPS {
            let oldest = self.used.remove(0);
            self.open.remove(&oldest);
        }
    }
}
