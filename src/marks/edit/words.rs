//! An edit as a few words, for lists of what was done and undone.

use std::fmt::{Display, Formatter, Result};

use super::lists::Named;
use super::{ApproachFact, Edit, FootfallFact, ListChange};
use crate::marks::mark::Mark;

impl Display for Edit {
    fn fmt(&self, out: &mut Formatter<'_>) -> Result {
        match self {
            Self::SetRound { .. } => write!(out, "state the round"),
            Self::SetCamera { .. } => write!(out, "state the camera"),
            Self::SetCapture { capture_seconds_per_second: rate } => {
                write!(out, "state that a second of playing is {rate} s of life")
            }
            Self::NoteFrame { time, .. } => {
                write!(out, "note the time of frame {}", time.frame.0)
            }
            Self::ForgetFrame { frame } => write!(out, "forget the time of frame {}", frame.0),
            Self::NoteConcealed { frame, concealed: true } => {
                write!(out, "note that parts of frame {frame} are guessed")
            }
            Self::NoteConcealed { frame, concealed: false } => {
                write!(out, "note that no part of frame {frame} is guessed")
            }
            Self::Reference(change) => change_words(change, out),
            Self::Tie(change) => change_words(change, out),
            Self::Fence(change) => change_words(change, out),
            Self::Approach(change) => change_words(change, out),
            Self::Footfall { approach, change } => {
                change_words(change, out)?;
                write!(out, " of approach `{approach}`")?;
                match change {
                    ListChange::Add { thing, .. } | ListChange::Replace { thing, .. } => {
                        let (limb, event) = (thing.limb.words(), thing.event.words());
                        if thing.hidden {
                            write!(out, " on frame {}, hidden", thing.mark.frame.0)?;
                        } else {
                            write!(out, " {}", Spot(&thing.mark))?;
                        }
                        write!(out, ", {limb}, {event}")
                    }
                    ListChange::Remove { .. } => Ok(()),
                }
            }
            Self::SetApproach { approach, fact } => write!(out, "{fact} of approach `{approach}`"),
            Self::SetFootfall { approach, footfall, fact } => {
                write!(out, "{fact} footfall `{footfall}` of approach `{approach}`")
            }
            Self::PlaceMark { place, mark, .. } => write!(out, "mark {place} {}", Spot(mark)),
            Self::NudgeMark { place, frame, dx, dy } => {
                write!(out, "move {place} on frame {} by ({dx}, {dy}) px", frame.0)
            }
            Self::RemoveMark { place, frame } => {
                write!(out, "remove the mark of {place} on frame {}", frame.0)
            }
            Self::Several { edits } => several(edits, out),
        }
    }
}

/// Notes of frames go without saying, unless there is nothing else.
fn several(edits: &[Edit], out: &mut Formatter<'_>) -> Result {
    let said = |edit: &&Edit| {
        !matches!(
            edit,
            Edit::NoteFrame { .. } | Edit::ForgetFrame { .. } | Edit::NoteConcealed { .. }
        )
    };
    let told: Vec<&Edit> = edits.iter().filter(said).collect();
    match told.as_slice() {
        [] => write!(out, "note the times of {} frames", edits.len()),
        [edit] => edit.fmt(out),
        [first, second] => write!(out, "{first}, {second}"),
        [first, rest @ ..] => write!(out, "{first}, and {} more", rest.len()),
    }
}

fn change_words<T: Named>(change: &ListChange<T>, out: &mut Formatter<'_>) -> Result {
    let kind = T::KIND;
    match change {
        ListChange::Add { thing, .. } => write!(out, "add {kind} `{}`", thing.id()),
        ListChange::Replace { id, thing } if thing.id() == id => {
            write!(out, "change {kind} `{id}`")
        }
        ListChange::Replace { id, thing } => {
            write!(out, "rename {kind} `{id}` to `{}`", thing.id())
        }
        ListChange::Remove { id } => write!(out, "remove {kind} `{id}`"),
    }
}

impl Display for ApproachFact {
    fn fmt(&self, out: &mut Formatter<'_>) -> Result {
        out.write_str(match self {
            Self::ReferenceLimb(_) => "state the reference limb",
            Self::Lead(_) => "state the lead",
            Self::LeftTurnFrame(_) => "state the frame of leaving the turn",
            Self::Note(_) => "state the note",
            Self::StrideNotes(_) => "state the stride notes",
        })
    }
}

impl Display for FootfallFact {
    fn fmt(&self, out: &mut Formatter<'_>) -> Result {
        match self {
            Self::Event(event) => write!(out, "call it {}:", event.words()),
            Self::Limb(limb) => write!(out, "call it {}:", limb.words()),
            Self::Hidden(true) => write!(out, "hide"),
            Self::Hidden(false) => write!(out, "show"),
        }
    }
}

/// Where a mark is.
struct Spot<'a>(&'a Mark);

impl Display for Spot<'_> {
    fn fmt(&self, out: &mut Formatter<'_>) -> Result {
        let Mark { frame, x, y, .. } = self.0;
        write!(out, "on frame {} at ({x}, {y})", frame.0)
    }
}
