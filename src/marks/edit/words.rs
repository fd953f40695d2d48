//! An edit as a few words: as what was done ("moved …"), for lists of changes, and as what was
//! asked for ("move …"), for refusals.

use std::fmt::{Display, Formatter, Result};

use super::lists::Named;
use super::{ApproachFact, Edit, FootfallFact, ListChange};
use crate::marks::address::MarkAddress;
use crate::marks::mark::Mark;

/// Whether an edit is told as asked for or as done.
#[derive(Clone, Copy, PartialEq)]
enum Tense {
    Asked,
    Done,
}

impl Tense {
    fn of(self, asked: &'static str, done: &'static str) -> &'static str {
        match self {
            Self::Asked => asked,
            Self::Done => done,
        }
    }

    /// For the many verbs that only take an ending.
    fn ed(self) -> &'static str {
        self.of("", "ed")
    }

    /// The same after an e.
    fn d(self) -> &'static str {
        self.of("", "d")
    }
}

impl Edit {
    /// The change as one that was made: "added fence `oxer`".
    pub fn as_done(&self) -> impl Display + '_ {
        Told { edit: self, tense: Tense::Done }
    }
}

/// The change as one that is asked for: "add fence `oxer`".
impl Display for Edit {
    fn fmt(&self, out: &mut Formatter<'_>) -> Result {
        Told { edit: self, tense: Tense::Asked }.fmt(out)
    }
}

struct Told<'a> {
    edit: &'a Edit,
    tense: Tense,
}

impl Display for Told<'_> {
    fn fmt(&self, out: &mut Formatter<'_>) -> Result {
        let tense = self.tense;
        let (ed, d) = (tense.ed(), tense.d());
        match self.edit {
            Edit::SetRound { round } => {
                write!(out, "state{d} the round")?;
                detail(&round.words(), tense, out)
            }
            Edit::SetCamera { camera } => {
                write!(out, "state{d} the camera")?;
                detail(&camera.words(), tense, out)
            }
            Edit::SetCapture { capture_seconds_per_second: rate } => {
                write!(out, "state{d} that the clip plays {}", pace_words(*rate))
            }
            Edit::NoteFrame { time, .. } => {
                write!(out, "note{d} the time of frame {}", time.frame.0)
            }
            Edit::ForgetFrame { frame } => {
                write!(out, "{} the time of frame {}", tense.of("forget", "forgot"), frame.0)
            }
            Edit::NoteConcealed { frame, concealed: true } => {
                write!(out, "note{d} that parts of frame {frame} are guessed")
            }
            Edit::NoteConcealed { frame, concealed: false } => {
                write!(out, "note{d} that no part of frame {frame} is guessed")
            }
            Edit::Reference(change) => change_words(change, tense, out),
            Edit::Tie(change) => change_words(change, tense, out),
            Edit::Fence(change) => change_words(change, tense, out),
            Edit::Approach(change) => change_words(change, tense, out),
            Edit::Footfall { approach, change } => {
                change_words(change, tense, out)?;
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
            Edit::SetApproach { approach, fact } => {
                write!(out, "state{d} {} approach `{approach}`", fact_words(fact))
            }
            Edit::SetFootfall { approach, footfall, fact } => {
                let thing = format!("footfall `{footfall}` of approach `{approach}`");
                match fact {
                    FootfallFact::Event(event) => write!(out, "call{ed} {thing} {}", event.words()),
                    FootfallFact::Limb(limb) => write!(out, "call{ed} {thing} {}", limb.words()),
                    FootfallFact::Hidden(true) => {
                        write!(out, "{} {thing}", tense.of("hide", "hid"))
                    }
                    FootfallFact::Hidden(false) => write!(out, "show{ed} {thing}"),
                }
            }
            Edit::PlaceMark { place, mark, .. } => {
                write!(out, "mark{ed} {}{place} {}", article(place), Spot(mark))
            }
            Edit::NudgeMark { place, frame, dx, dy } => {
                let the = article(place);
                write!(out, "move{d} {the}{place} on frame {} by ({dx}, {dy}) px", frame.0)
            }
            Edit::RemoveMark { place, frame } => {
                write!(out, "remove{d} the mark of {}{place} on frame {}", article(place), frame.0)
            }
            Edit::Several { edits } => several(edits, tense, out),
        }
    }
}

/// What was stated; a refusal names what is wrong with it instead.
fn detail(words: &str, tense: Tense, out: &mut Formatter<'_>) -> Result {
    match tense {
        Tense::Done if words.is_empty() => write!(out, ": nothing"),
        Tense::Done => write!(out, ": {words}"),
        Tense::Asked => Ok(()),
    }
}

/// "8 times slower than life".
pub(in crate::marks) fn pace_words(capture_seconds_per_second: f64) -> String {
    let thousandths = |times: f64| (1000.0 * times).round() / 1000.0;
    let rate = capture_seconds_per_second;
    if rate == 1.0 {
        "as fast as life".to_owned()
    } else if rate < 1.0 {
        format!("{} times slower than life", thousandths(1.0 / rate))
    } else {
        format!("{} times faster than life", thousandths(rate))
    }
}

/// Notes of frames go without saying, unless there is nothing else.
fn several(edits: &[Edit], tense: Tense, out: &mut Formatter<'_>) -> Result {
    let said = |edit: &&Edit| {
        !matches!(
            edit,
            Edit::NoteFrame { .. } | Edit::ForgetFrame { .. } | Edit::NoteConcealed { .. }
        )
    };
    let told: Vec<Told> = edits.iter().filter(said).map(|edit| Told { edit, tense }).collect();
    match told.as_slice() {
        [] => write!(out, "note{} the times of {} frames", tense.d(), edits.len()),
        [edit] => edit.fmt(out),
        [first, second] => write!(out, "{first}, {second}"),
        [first, rest @ ..] => write!(out, "{first}, and {} more", rest.len()),
    }
}

fn change_words<T: Named>(change: &ListChange<T>, tense: Tense, out: &mut Formatter<'_>) -> Result {
    match change {
        ListChange::Add { thing, .. } => {
            write!(out, "add{} {} `{}`", tense.ed(), thing.kind_words(), thing.id())
        }
        ListChange::Replace { id, thing } if thing.id() == id => {
            write!(out, "change{} {} `{id}`", tense.d(), thing.kind_words())
        }
        ListChange::Replace { id, thing } => {
            let kind = thing.kind_words();
            write!(out, "rename{} {kind} `{id}` to `{}`", tense.d(), thing.id())
        }
        ListChange::Remove { id } => write!(out, "remove{} {} `{id}`", tense.d(), T::KIND),
    }
}

fn fact_words(fact: &ApproachFact) -> &'static str {
    match fact {
        ApproachFact::ReferenceLimb(_) => "the reference limb of",
        ApproachFact::Lead(_) => "the lead of",
        ApproachFact::LeftTurnFrame(_) => "the frame of leaving the turn of",
        ApproachFact::Note(_) => "the note on",
        ApproachFact::StrideNotes(_) => "the notes on strides of",
    }
}

/// Things with a name of their own go without.
fn article(place: &MarkAddress) -> &'static str {
    match place {
        MarkAddress::Tie { .. } | MarkAddress::Footfall { .. } => "",
        _ => "the ",
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
