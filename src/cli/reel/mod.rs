//! `groundline reel`: the annotated approach as a clip, one approach or two one above the other.

mod making;
mod shown;
mod target;

use std::io::Write;

use super::Failure;
use super::interrupt::Interrupt;
use super::measured_args::MeasuredArgs;
use super::picture_args::{ReelArgs, ReelSize};
use super::pictures::Style;
use crate::draw::{BarsScale, canvas_size, reel_layout, reel_times};
use crate::quantity::written_plain;
use making::make;
use shown::{Chosen, Shown};

/// How long the picture stands still at take-off, seconds.
const FREEZE_S: f64 = 1.0;

pub(super) fn run(args: ReelArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let target = target::checked(&args.output)?;
    if args.approach.len() > args.marks.len() {
        return Err(Failure::usage(format!(
            "cannot choose {} approaches: {} marks file was given (one --approach each at most)",
            args.approach.len(),
            args.marks.len()
        ))
        .hint("give the marks file twice to show two approaches of it"));
    }
    let mut chosen: Vec<Chosen> = Vec::new();
    for (index, marks) in args.marks.iter().enumerate() {
        let measured = MeasuredArgs { marks: marks.clone(), units: args.units, capture_rate: None };
        let style = Style::of(&measured, args.no_names);
        chosen.push(Chosen::of(measured, args.approach.get(index).map(String::as_str), style)?);
    }
    target::spare_what_is_read(&target, &chosen)?;
    let pictures: Vec<_> = chosen.iter().map(Chosen::picture).collect();
    let short = match args.size {
        ReelSize::Full => 1080,
        ReelSize::Small => 720,
    };
    let canvas = canvas_size(&pictures, short);
    let parts: Vec<_> = chosen.iter().map(Chosen::part).collect();
    let slots = reel_layout(&parts, canvas);
    let clips: Vec<_> = chosen.iter().map(|chosen| chosen.clip_part.clone()).collect();
    let times = reel_times(&clips, args.slow, FREEZE_S).map_err(Failure::new)?;
    let scale = BarsScale::of(chosen.iter().map(Chosen::approach));
    let mut shown: Vec<Shown> = Vec::new();
    for (chosen, slot) in chosen.iter().zip(slots) {
        shown.push(Shown::of(chosen, slot, canvas, scale)?);
    }
    let made = make(&shown, &times, canvas, &target, &Interrupt::listen())?;
    for note in shown.iter().filter_map(Shown::note) {
        writeln!(out, "note: {note}")?;
    }
    if made.held > 0 {
        writeln!(
            out,
            "note: {} damaged frames could not be read; the one before each stands in its place",
            made.held
        )?;
    }
    writeln!(
        out,
        "made the reel, {} s, {} × {} px → `{}`",
        written_plain(made.seconds, 1),
        canvas.width,
        canvas.height,
        args.output.display()
    )?;
    Ok(())
}
