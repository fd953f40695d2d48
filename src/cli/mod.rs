//! The command line: what can be typed, and the one place that joins the edges.
//!
//! Each command is a shim in a file of its own; what it finds goes to `out`, what goes wrong
//! comes back as a [`Failure`].

mod approach_picture;
mod args;
mod begin;
mod charts;
mod check;
mod choices;
mod chosen_approach;
mod clip_args;
mod contact_sheet;
mod demo;
mod desk;
mod drawn;
mod failure;
mod file_kind;
mod frame;
mod frame_times;
mod interrupt;
mod look;
mod mark;
mod mark_cross;
mod measure;
mod measured_args;
mod measured_round;
mod measured_table;
mod next_lesson;
mod picture_args;
mod pictures;
mod plan;
mod poles;
mod reading;
mod reading_args;
mod reel;
mod rulers;
mod schema;
mod sheet;
mod sheet_args;
mod shown_in;
mod spots;
mod stand;
mod stand_args;
mod stills;
mod track;
mod weeks;
mod weeks_args;
mod weeks_gathering;
mod weeks_table;

use std::io::Write;

pub use args::{Args, Command};
pub use failure::Failure;

/// Does what was asked; the answer goes to `out`.
pub fn run(args: Args, out: &mut dyn Write) -> Result<(), Failure> {
    match args.command {
        Command::Look(args) => look::run(args, out),
        Command::Begin(args) => begin::run(args, out),
        Command::Frame(args) => frame::run(args, out),
        Command::Mark(args) => mark::run(*args, out),
        Command::Check(args) => check::run(args, out),
        Command::Track(args) => track::run(args, out),
        Command::Measure(args) => measure::run(args, out),
        Command::Reading(args) => reading::run(args, out),
        Command::Stills(args) => stills::run(args, out),
        Command::Plan(args) => plan::run(args, out),
        Command::Charts(args) => charts::run(args, out),
        Command::ApproachPicture(args) => approach_picture::run(args, out),
        Command::Sheet(args) => sheet::run(args, out),
        Command::Weeks(args) => weeks::run(args, out),
        Command::Poles(args) => poles::run(args, out),
        Command::Stand(args) => stand::run(*args, out),
        Command::Reel(args) => reel::run(args, out),
        Command::Desk(args) => desk::run(args, out),
        Command::Demo(args) => demo::run(args, out),
        Command::Schema(args) => schema::run(args, out),
    }
}
