//! The camera's motion through the clip that is open, followed in the background.
//!
//! Where the phone is said to have turned, every frame is followed and the motion is kept beside
//! the marks; where it is said to have stood still, a few frames a second are looked at, only to
//! raise a doubt when it did not. One thread, so that the page's own frames come first on the
//! other cores; it stops when this is dropped.

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use super::wire::{MotionState, MotionView};
use crate::footage::{Clip, OpenOptions};
use crate::marks::ClipNote;
use crate::pan::{CameraMotion, Held};
use crate::store::{Following, NotFollowed, follow_clip, keep_motion, kept_motion};

/// Looks a second at a clip whose camera is said to stand still.
const LOOKS_PER_S: f64 = 5.0;
/// How much of it is looked at, seconds.
const LOOKED_AT_S: f64 = 60.0;

/// A clip being followed, or followed.
pub(super) struct ClipMotion {
    pub turning: bool,
    shared: Arc<Shared>,
}

struct Shared {
    stop: AtomicBool,
    done: AtomicU32,
    total: u32,
    found: Mutex<Option<Result<Arc<CameraMotion>, String>>>,
}

impl ClipMotion {
    /// Begins to follow `clip`, unless its motion is kept already.
    pub fn follow(clip: &Clip, marks: &Path, note: &ClipNote, turning: bool) -> Self {
        let kept = if turning { kept_motion(marks, note) } else { None };
        let is_kept = kept.is_some();
        let shared = Arc::new(Shared {
            stop: AtomicBool::new(false),
            done: AtomicU32::new(0),
            total: clip.frame_count(),
            found: Mutex::new(kept.map(|kept| Ok(Arc::new(kept)))),
        });
        if !is_kept {
            // One decoder thread: each holds pictures of its own, and the page's come first.
            let how = match turning {
                true => Following { threads: Some(1), ..Following::WHOLE },
                false => a_look_now_and_then(clip),
            };
            let work = Work {
                clip: clip.path().to_owned(),
                marks: marks.to_owned(),
                note: note.clone(),
                how,
                keep: turning,
            };
            let shared = Arc::clone(&shared);
            std::thread::spawn(move || work.run(&shared));
        }
        Self { turning, shared }
    }

    /// The motion, once it is known.
    pub fn motion(&self) -> Option<Arc<CameraMotion>> {
        match self.found().as_ref() {
            Some(Ok(motion)) => Some(Arc::clone(motion)),
            _ => None,
        }
    }

    /// What the page is told.
    pub fn view(&self) -> MotionView {
        let total = self.shared.total;
        let (state, words) = match self.found().as_ref() {
            None if self.turning => {
                let done = self.shared.done.load(Ordering::Relaxed);
                let share = 100 * done / total.max(1);
                (MotionState::Following, format!("following the background: {share} %"))
            }
            None => (MotionState::Following, String::new()),
            Some(Ok(motion)) if self.turning => (MotionState::Followed, words(motion, total)),
            Some(Ok(_)) => (MotionState::Followed, String::new()),
            Some(Err(why)) if self.turning => (MotionState::NotFollowed, why.clone()),
            Some(Err(_)) => (MotionState::NotFollowed, String::new()),
        };
        MotionView { state, words }
    }

    fn found(&self) -> std::sync::MutexGuard<'_, Option<Result<Arc<CameraMotion>, String>>> {
        self.shared.found.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Drop for ClipMotion {
    fn drop(&mut self) {
        self.shared.stop.store(true, Ordering::Relaxed);
    }
}

/// How far, and what is left to the hand.
fn words(motion: &CameraMotion, total: u32) -> String {
    let stretches = motion.stretches();
    let lost = stretches.iter().filter(|stretch| stretch.held == Held::Lost);
    let lost: u32 = lost.map(|stretch| stretch.to.0 - stretch.from.0 + 1).sum();
    match (lost, motion.pieces.len()) {
        (0, 1) => "the background was followed through all frames: no fixed points needed".into(),
        (lost, 1) => format!(
            "the background was followed through {} of {total} frames; on the others mark fixed \
             points",
            total - lost.min(total)
        ),
        (_, pieces) => format!(
            "the background was followed in {pieces} pieces: mark fixed points that are seen in \
             several of them"
        ),
    }
}

/// A few looks a second, and no more minutes of them than an approach can take.
fn a_look_now_and_then(clip: &Clip) -> Following {
    let rate = clip.facts().rate.as_ref().map_or(30.0, |rate| rate.mean_hz);
    Following {
        every: (rate / LOOKS_PER_S).round().max(1.0) as u32,
        most: (rate * LOOKED_AT_S).round() as u32,
        threads: Some(1),
    }
}

struct Work {
    clip: PathBuf,
    marks: PathBuf,
    note: ClipNote,
    how: Following,
    keep: bool,
}

impl Work {
    fn run(&self, shared: &Shared) {
        let found = match self.followed(shared) {
            Err(NotFollowed::Stopped) => return,
            Err(error) => Err(error.to_string()),
            Ok(motion) => {
                if self.keep {
                    // What could not be kept is followed again next time.
                    let _ = keep_motion(&self.marks, &self.note, &motion);
                }
                Ok(Arc::new(motion))
            }
        };
        *shared.found.lock().unwrap_or_else(PoisonError::into_inner) = Some(found);
    }

    fn followed(&self, shared: &Shared) -> Result<CameraMotion, NotFollowed> {
        let stream = self.note.stream;
        let options = OpenOptions { stream, without_hash: true, ..OpenOptions::default() };
        let clip = Clip::open(&self.clip, &options)?;
        let went_on = |done: u32| {
            shared.done.store(done, Ordering::Relaxed);
            !shared.stop.load(Ordering::Relaxed)
        };
        let follow = || follow_clip(&clip, self.how, went_on);
        let followed = match rayon::ThreadPoolBuilder::new().num_threads(1).build() {
            Ok(alone) => alone.install(follow),
            Err(_) => follow(),
        };
        Ok(followed?.motion)
    }
}
