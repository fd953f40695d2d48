//! A round that is being marked: every change is on disk before it is answered, and a change made
//! on another state of the file is never made.

use std::collections::VecDeque;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use super::act_edit::{Drawn, Meant, NoEdit, meant};
use super::clip_motion::ClipMotion;
use super::drawn_end::drawn_end;
use super::measured::Measured;
use super::open_clip::OpenClip;
use super::other_rounds::OtherRounds;
use super::plain_words::plain_words;
use super::round_view::round_view;
use super::spots::{label, spot_of};
use super::wire::{Act, ActDone, ActRequest, Placed, RoundView};
use crate::marks::{Edit, MarkedFrame, MarksFile, Motion};
use crate::pan::CameraMotion;
use crate::quantity::FrameNumber;
use crate::scene::FramePoint;
use crate::store::{
    Beginning, NotBegun, OpenMarks, StoreError, first_marks, frame_time, marks_path_for,
};
use crate::stride::ShownStrides;

/// Acts whose answers are remembered, so that one sent twice is done once.
const REMEMBERED: usize = 256;

/// An open round.
pub(super) struct OpenRound {
    marks: Mutex<State>,
    measured: Mutex<Option<Arc<Measured>>>,
    motion: Mutex<Option<ClipMotion>>,
    others: Mutex<Option<OtherRounds>>,
}

struct State {
    open: OpenMarks,
    /// Keys of the last acts with what was said.
    done: VecDeque<(String, String, Option<Placed>)>,
}

/// What a horse has shown.
pub(super) struct Shown {
    pub strides: Option<ShownStrides>,
    pub others: Others,
}

/// Whether its other rounds are among it.
pub(super) enum Others {
    /// The round names no horse, so that they cannot be told.
    NoName,
    /// Not yet.
    BeingLookedAt,
    /// They are; how many could not be counted is told with it.
    LookedAt,
}

/// Why a change was not made.
#[derive(Debug, thiserror::Error)]
pub(super) enum NotDone {
    /// It was made on another state of the file.
    #[error(
        "cannot make the change: the round was changed meanwhile, in another window or by another program"
    )]
    Conflict(Box<RoundView>),
    /// The act means no edit of this file.
    #[error(transparent)]
    NoEdit(#[from] NoEdit),
    /// A rule forbids it.
    #[error("cannot {asked}: {why}")]
    Rule {
        /// What was asked for.
        asked: String,
        /// Why not.
        why: String,
    },
    /// There is nothing to undo or redo.
    #[error("cannot {0}: there is nothing to {0}")]
    Nothing(&'static str),
    /// The clip does not give the frame's time.
    #[error("{0}")]
    Frame(String),
    /// It could not be saved; nothing was changed.
    #[error(transparent)]
    Store(#[from] StoreError),
}

impl OpenRound {
    /// Opens the marks file beside the clip.
    pub fn open(clip: &OpenClip) -> Result<Self, StoreError> {
        Ok(Self::of(OpenMarks::open(&marks_path(clip))?))
    }

    /// Begins a marks file beside the clip.
    pub fn begin(clip: &OpenClip) -> Result<Self, NotBegun> {
        let path = marks_path(clip);
        let file = first_marks(&clip.clip, &path, Beginning::default())?;
        let mut open = OpenMarks::begin(&path, file)?;
        open.save()?;
        Ok(Self::of(open))
    }

    fn of(open: OpenMarks) -> Self {
        let state = State { open, done: VecDeque::new() };
        Self {
            marks: Mutex::new(state),
            measured: Mutex::new(None),
            motion: Mutex::new(None),
            others: Mutex::new(None),
        }
    }

    /// The round as it is on disk, for a page that opens it or comes back to it.
    pub fn view(&self, clip: &OpenClip) -> Result<RoundView, StoreError> {
        // Other rounds may have been marked meanwhile.
        *self.others.lock().unwrap_or_else(PoisonError::into_inner) = None;
        let motion = self.known_motion();
        let mut state = self.marks.lock().unwrap_or_else(PoisonError::into_inner);
        state.catch_up()?;
        Ok(round_view(&clip.name, &state.open, motion.as_deref()))
    }

    /// Makes a change and saves it.
    pub fn act(&self, clip: &OpenClip, request: ActRequest) -> Result<ActDone, NotDone> {
        let motion = self.known_motion();
        let mut state = self.marks.lock().unwrap_or_else(PoisonError::into_inner);
        state.catch_up()?;
        if let Some((_, said, selected)) = state.done.iter().find(|done| done.0 == request.key) {
            let (said, selected) = (said.clone(), selected.clone());
            return Ok(ActDone {
                round: round_view(&clip.name, &state.open, motion.as_deref()),
                said,
                selected,
            });
        }
        if state.open.revision() != Some(request.revision.as_str()) {
            return Err(NotDone::Conflict(Box::new(round_view(
                &clip.name,
                &state.open,
                motion.as_deref(),
            ))));
        }
        let made = state.make(clip, request.act);
        let saved = made.and_then(|made| Ok(state.open.save().map(|()| made)?));
        let (said, selected) = match saved {
            Ok(made) => made,
            Err(error) => {
                // What was not saved is not there.
                state.open = OpenMarks::open(state.open.path())?;
                if let NotDone::Store(StoreError::ChangedMeanwhile { .. }) = error {
                    let view = round_view(&clip.name, &state.open, motion.as_deref());
                    return Err(NotDone::Conflict(Box::new(view)));
                }
                return Err(error);
            }
        };
        state.done.push_back((request.key, said.clone(), selected.clone()));
        let surplus = state.done.len().saturating_sub(REMEMBERED);
        state.done.drain(..surplus);
        Ok(ActDone {
            round: round_view(&clip.name, &state.open, motion.as_deref()),
            said,
            selected,
        })
    }

    /// Follows the camera, if it is not followed already as it is stated to have moved; `tell` is
    /// asked of it.
    pub fn motion<T>(
        &self,
        clip: &OpenClip,
        tell: impl FnOnce(&ClipMotion) -> T,
    ) -> Result<T, StoreError> {
        let (turning, note) = {
            let mut state = self.marks.lock().unwrap_or_else(PoisonError::into_inner);
            state.catch_up()?;
            let file = state.open.file();
            (file.camera.motion != Motion::Fixed, file.clip.clone())
        };
        let mut motion = self.motion.lock().unwrap_or_else(PoisonError::into_inner);
        let under_way = motion.take().filter(|known| known.turning == turning);
        let follow = || ClipMotion::follow(&clip.clip, &marks_path(clip), &note, turning);
        Ok(tell(motion.insert(under_way.unwrap_or_else(follow))))
    }

    /// The camera's motion, as far as it is known by now.
    fn known_motion(&self) -> Option<Arc<CameraMotion>> {
        let motion = self.motion.lock().unwrap_or_else(PoisonError::into_inner);
        motion.as_ref().and_then(ClipMotion::motion)
    }

    /// Whether it names the horse, so that others of it can be told.
    pub fn names_horse(&self) -> Result<bool, StoreError> {
        let mut state = self.marks.lock().unwrap_or_else(PoisonError::into_inner);
        state.catch_up()?;
        Ok(!state.open.file().round.horse.trim().is_empty())
    }

    /// What the horse has shown in this round and the folder's others.
    pub fn shown(&self, clip: &OpenClip, measured: &Measured, patience: Duration) -> Shown {
        let approaches = measured.numbers.iter().flat_map(|(_, numbers)| &numbers.approaches);
        let here = ShownStrides::of_approaches(approaches);
        let horse = measured.file.round.horse.trim();
        if horse.is_empty() {
            return Shown { strides: here, others: Others::NoName };
        }
        let others = {
            let mut others = self.others.lock().unwrap_or_else(PoisonError::into_inner);
            let known = others.take().filter(|known| known.horse == horse);
            let known = known.unwrap_or_else(|| OtherRounds::look(&marks_path(clip), horse));
            others.insert(known).clone()
        };
        match others.shown(patience) {
            Some(elsewhere) => Shown { strides: elsewhere.with(here), others: Others::LookedAt },
            None => Shown { strides: here, others: Others::BeingLookedAt },
        }
    }

    /// The numbers of the round as it is on disk; measured once a revision, and again when the
    /// camera's motion is known.
    pub fn measured(&self) -> Result<Arc<Measured>, StoreError> {
        let motion = self.known_motion();
        let (revision, file): (String, MarksFile) = {
            let mut state = self.marks.lock().unwrap_or_else(PoisonError::into_inner);
            state.catch_up()?;
            (state.open.revision().unwrap_or_default().to_owned(), state.open.file().clone())
        };
        // Held while measuring, so that two who ask at once do not measure twice.
        let mut kept = self.measured.lock().unwrap_or_else(PoisonError::into_inner);
        match &*kept {
            Some(known) if known.revision == revision && known.has_motion(&motion) => {
                Ok(Arc::clone(known))
            }
            _ => {
                let measured = Arc::new(Measured::of(revision, file, motion));
                *kept = Some(Arc::clone(&measured));
                Ok(measured)
            }
        }
    }
}

impl State {
    /// Reads the file again where somebody else wrote it.
    fn catch_up(&mut self) -> Result<(), StoreError> {
        if !self.open.is_current() {
            self.open = OpenMarks::open(self.open.path())?;
        }
        Ok(())
    }

    /// Makes the change in memory; what was done, in words, and the mark to select.
    fn make(&mut self, clip: &OpenClip, act: Act) -> Result<(String, Option<Placed>), NotDone> {
        match act {
            Act::Undo => {
                // Told by the names of before: what is undone may take its name with it.
                let before = self.open.file().clone();
                let edit = self.open.undo()?.ok_or(NotDone::Nothing("undo"))?;
                let said = plain_words(&before, &edit.as_done().to_string());
                return Ok((format!("undone: {said}"), None));
            }
            Act::Redo => {
                let edit = self.open.redo()?.ok_or(NotDone::Nothing("redo"))?;
                let said = plain_words(self.open.file(), &edit.as_done().to_string());
                return Ok((format!("redone: {said}"), None));
            }
            _ => {}
        }
        let plain = plainly(&act);
        let drawn = drawn_end(clip, self.open.file(), &act);
        let how = drawn.as_ref().map(|drawn| match (drawn, &act) {
            (Ok(Drawn { point, .. }), Act::PlacePoleEnd { at, .. }) => {
                let moved_px = point.distance(FramePoint::new(at.x, at.y));
                format!("drawn {moved_px:.1} px to its edges")
            }
            (Err(why), _) => format!("where you clicked; {why}"),
            (Ok(_), _) => String::new(),
        });
        let drawn = drawn.and_then(Result::ok);
        let Meant { edit, placed } = meant(act, self.open.file(), drawn)?;
        let asked = plain_words(self.open.file(), &edit.to_string());
        let done = edit.as_done().to_string();
        let frames = frame_facts(clip, self.open.file(), &edit)?;
        let edit = edit.with_concealed(frames.1).with_frames(frames.0);
        if let Err(refused) = self.open.make(edit) {
            let why = plain_words(self.open.file(), &refused.to_string());
            return Err(NotDone::Rule { asked, why });
        }
        let file = self.open.file();
        let mut said = plain.unwrap_or_else(|| plain_words(file, &done));
        let selected =
            placed.map(|(place, frame)| Placed { spot: spot_of(file, &place), frame: frame.0 });
        if let Some(Placed { spot, frame }) = &selected {
            // Where it lies is seen on the picture.
            said = format!("{}, frame {frame}", label(file, spot));
            if let Some(how) = how {
                said = format!("{said}: {how}");
            }
        }
        Ok((said, selected))
    }
}

/// What was stated, in the page's words: ids are the file's.
fn plainly(act: &Act) -> Option<String> {
    Some(match act {
        Act::SetPoles { count, .. } => format!("{count} poles stated"),
        Act::SetFence { .. } => "fence stated".to_owned(),
        Act::SetLength { .. } => "known length stated".to_owned(),
        Act::RemoveLength { .. } => "known length taken away".to_owned(),
        Act::SetRound { .. } => "rider, horse and day kept".to_owned(),
        Act::SetTurning { turning: true } => "the phone turned with the horse".to_owned(),
        Act::SetTurning { turning: false } => "the phone stood still".to_owned(),
        Act::SetApproach { .. } => "kept with the approach".to_owned(),
        Act::SetStrideNote { stride, text, .. } => {
            let number = stride.unsigned_abs();
            let word = if text.is_empty() { "taken away from" } else { "kept with" };
            format!("note {word} stride \u{2212}{number}")
        }
        Act::NewApproach { .. } => "another approach begun".to_owned(),
        _ => return None,
    })
}

/// Times of the frames that the edit names and the file does not know, and those that are guessed.
fn frame_facts(
    clip: &OpenClip,
    file: &MarksFile,
    edit: &Edit,
) -> Result<(Vec<MarkedFrame>, Vec<FrameNumber>), NotDone> {
    let (mut times, mut concealed) = (Vec::new(), Vec::new());
    for frame in edit.frames_wanted(file) {
        if frame > clip.clip.last_frame() {
            // The rules refuse it in better words.
            continue;
        }
        let time = frame_time(&clip.clip, frame);
        times.push(time.map_err(|error| NotDone::Frame(error.to_string()))?);
        if clip.frames.is_concealed(frame).is_some_and(|found| found.unwrap_or(true)) {
            concealed.push(frame);
        }
    }
    Ok((times, concealed))
}

/// The marks file of a clip lies beside it.
pub(super) fn marks_path(clip: &OpenClip) -> PathBuf {
    marks_path_for(&clip.path)
}
