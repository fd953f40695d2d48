//! `groundline mark`: each sub-command becomes one edit of the marks file, which is saved with
//! its undo list.

mod args;
mod facts;
mod ids;
mod jump;
mod path;
mod places;
mod points;
mod references;
mod round_args;
mod thing_args;

use std::io::{Read, Write};
use std::path::Path;

pub use args::{MarkArgs, MarkCommand};
pub(super) use path::path_of;

use super::Failure;
use super::frame_times::{GivenTime, frame_facts};
use crate::footage::io_words;
use crate::marks::{Edit, EditRefused, MarksFile};
use crate::store::{OpenMarks, json_words};

pub(super) fn run(args: MarkArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let command = match (args.command, &args.edits) {
        (Some(command), None) => command,
        (None, Some(list)) => return make_list(&args.marks, list, out),
        (Some(_), Some(_)) => {
            let message = "cannot make the changes of --edits and another at once";
            return Err(Failure::usage(message).hint("use one command for each"));
        }
        (None, None) => {
            let marks = args.marks.display();
            let message = format!("cannot change `{marks}`: nothing to state or mark was named");
            return Err(Failure::usage(message).hint("`groundline mark --help` lists what can be"));
        }
    };
    let mut open = OpenMarks::open(&args.marks)?;
    match command {
        MarkCommand::Undo { steps } => travel(&mut open, steps, Way::Back, out),
        MarkCommand::Redo { steps } => travel(&mut open, steps, Way::Forth, out),
        command => {
            let (edit, given) = edit_of(command, open.file())?;
            make(&mut open, edit, given, out)
        }
    }
}

/// Which edit a sub-command means for this file, and the time it gives for its frame.
fn edit_of(command: MarkCommand, file: &MarksFile) -> Result<(Edit, Option<GivenTime>), Failure> {
    let fact = |edit| Ok((edit, None));
    match command {
        MarkCommand::Poles(args) => fact(references::poles(args, file)?),
        MarkCommand::Distance(args) => fact(references::distance(args, file)?),
        MarkCommand::Vertical(args) => fact(references::vertical(args, file)?),
        MarkCommand::FenceWidth(args) => fact(references::fence_width(args, file)?),
        MarkCommand::Rails(args) => fact(references::rails(args, file)?),
        MarkCommand::Fence(args) => fact(jump::fence(args, file)),
        MarkCommand::Approach(args) => {
            let time = args.turn_time.given();
            Ok((jump::approach(args, file)?, time))
        }
        MarkCommand::Footfall(args) => {
            let time = args.time.given();
            Ok((jump::footfall(args, file)?, time))
        }
        MarkCommand::PoleEnd { reference, pole, end, point } => {
            Ok((places::pole_end(reference, pole, end, &point, file)?, point.time.given()))
        }
        MarkCommand::Base { fence, corner, point } => {
            Ok((places::base(fence, corner, &point, file)?, point.time.given()))
        }
        MarkCommand::Tie { id, on_ground, point } => {
            Ok((places::tie(id, on_ground, &point, file), point.time.given()))
        }
        MarkCommand::Points { table } => fact(points::all(&table, file)?),
        MarkCommand::Point { place, point } => {
            Ok((places::point(&place, &point, file)?, point.time.given()))
        }
        MarkCommand::Move(args) => {
            let time = args.time.given();
            Ok((places::move_mark(args, file)?, time))
        }
        MarkCommand::Remove { thing, id, frame } => fact(places::remove(thing, &id, frame, file)?),
        MarkCommand::Round(args) => fact(facts::round(args, file)),
        MarkCommand::Camera(args) => fact(facts::camera(args, file)?),
        MarkCommand::SlowMotion { times } => fact(facts::slow_motion(times)),
        MarkCommand::Note { text, approach, stride } => {
            fact(facts::note(text, approach, stride, file)?)
        }
        MarkCommand::Undo { .. } | MarkCommand::Redo { .. } => {
            unreachable!("undo and redo are no edits and were dealt with before")
        }
    }
}

/// Makes the edit, with the times of the frames it names, and saves.
fn make(
    open: &mut OpenMarks,
    edit: Edit,
    given: Option<GivenTime>,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let frames = frame_facts(open.path(), open.file(), &edit, given)?;
    let (asked, done) = (edit.to_string(), edit.as_done().to_string());
    let known = open.file().doubts();
    let edit = edit.with_concealed(frames.concealed).with_frames(frames.times);
    open.make(edit).map_err(|refused| refusal(&asked, &refused))?;
    let lost = open.foreign_undo().map(str::to_owned);
    open.save()?;
    writeln!(out, "{done}")?;
    for doubt in open.file().doubts().iter().filter(|doubt| !known.contains(doubt)) {
        writeln!(out, "doubt: {}", doubt.sentence())?;
    }
    if let Some(why) = lost {
        writeln!(out, "note: what was done before cannot be undone: the undo list {why}")?;
    }
    Ok(())
}

/// Says once what the mark is, even when the broken rule is about just that mark.
fn refusal(asked: &str, refused: &EditRefused) -> Failure {
    let why = match refused {
        EditRefused::BreaksRule { breach } if asked.contains(&breach.subject.to_string()) => {
            breach.rule.to_string()
        }
        refused => refused.to_string(),
    };
    Failure::new(format!("cannot {asked}: {why}"))
}

fn make_list(marks: &Path, list: &Path, out: &mut dyn Write) -> Result<(), Failure> {
    let mut text = String::new();
    let read = if list == Path::new("-") {
        std::io::stdin().read_to_string(&mut text)
    } else {
        std::fs::File::open(list).and_then(|mut file| file.read_to_string(&mut text))
    };
    let cannot = |why: String| Failure::new(format!("cannot read the edits: {why}"));
    read.map_err(|error| cannot(format!("{} (`{}`)", io_words(&error), list.display())))?;
    let edits: Vec<Edit> = serde_json::from_str(&text).map_err(|error| {
        let (line, column) = (error.line(), error.column());
        let words = json_words(&error);
        cannot(format!("{words} at line {line}, column {column} (`{}`)", list.display()))
            .hint("`groundline schema --edits` prints the shape they need")
    })?;
    if edits.is_empty() {
        return Err(cannot("the list is empty".to_owned()));
    }
    let mut open = OpenMarks::open(marks)?;
    make(&mut open, Edit::Several { edits }, None, out)
}

fn changes(count: usize) -> String {
    if count == 1 { "1 change".to_owned() } else { format!("{count} changes") }
}

#[derive(Clone, Copy, PartialEq)]
enum Way {
    Back,
    Forth,
}

fn travel(open: &mut OpenMarks, steps: u32, way: Way, out: &mut dyn Write) -> Result<(), Failure> {
    let (word, verb) = match way {
        Way::Back => ("undone", "undo"),
        Way::Forth => ("redone", "redo"),
    };
    let mut said = Vec::new();
    for _ in 0..steps {
        let step = match way {
            Way::Back => open.undo()?,
            Way::Forth => open.redo()?,
        };
        let Some(edit) = step else { break };
        said.push(format!("{word}: {}", edit.as_done()));
    }
    if said.is_empty() {
        let marks = open.path().display();
        return Err(Failure::new(format!(
            "cannot {verb} in `{marks}`: there is nothing to {verb}"
        )));
    }
    open.save()?;
    let count = said.len();
    for line in said {
        writeln!(out, "{line}")?;
    }
    if count < steps as usize {
        writeln!(out, "note: no more than {} could be {word}", changes(count))?;
    }
    Ok(())
}
