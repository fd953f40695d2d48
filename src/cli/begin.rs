//! `groundline begin`: a new marks file for a clip.

use std::io::Write;
use std::path::Path;

use super::Failure;
use super::clip_args::BeginArgs;
use super::measured_round::refuse_absurd;
use crate::footage::{Clip, FootageDoubt, OpenOptions};
use crate::marks::MarksFile;
use crate::quantity::{Seconds, Unit, written_plain, written_time};
use crate::store::{Beginning, OpenMarks, StoreError, first_marks, marks_path_for};

pub(super) fn run(args: BeginArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let marks = args.output.clone().unwrap_or_else(|| marks_path_for(&args.clip));
    if marks.symlink_metadata().is_ok() {
        return Err(StoreError::AlreadyThere { path: marks }.into());
    }
    let options = OpenOptions {
        stream: args.stream,
        capture_rate: args.capture_rate,
        ..OpenOptions::default()
    };
    let clip = Clip::open(&args.clip, &options)?;
    let beginning = Beginning { turning: args.turning, stream: args.stream, slowed: args.slowed };
    let file = first_marks(&clip, &marks, beginning)?;
    if let Some(rate) = args.capture_rate {
        refuse_absurd(&file, rate)?;
    }
    let mut open = OpenMarks::begin(&marks, file)?;
    open.save()?;
    report(&args, &marks, &clip, open.file(), out)
}

fn report(
    args: &BeginArgs,
    marks: &Path,
    clip: &Clip,
    file: &MarksFile,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let facts = clip.facts();
    writeln!(out, "began `{}`", marks.display())?;
    writeln!(
        out,
        "clip: {} × {} px, {} frames, {}{}",
        facts.upright_width_px,
        facts.upright_height_px,
        clip.frame_count(),
        written_time(Seconds::new(facts.duration_s)),
        match &facts.rate {
            Some(rate) => format!(", {} frames a second", written_plain(rate.mean_hz, 2)),
            None => String::new(),
        }
    )?;
    match file.clip.capture_seconds_per_second {
        1.0 => {}
        slowed if slowed < 1.0 => writeln!(out, "slow motion: plays {}", file.clip.pace_words())?,
        _ => writeln!(out, "time lapse: plays {}", file.clip.pace_words())?,
    }
    if let Some(focal) = file.camera.focal_px {
        writeln!(out, "lens: focal length {} ± {} px, from the file", focal.value, focal.sd)?;
    }
    // Who says how slow it plays leaves nothing to doubt in what the file says of it.
    let said = |doubt: &&FootageDoubt| args.slowed.is_some() && doubt.is_about_slow_motion();
    for doubt in clip.doubts().iter().filter(|doubt| !said(doubt)) {
        writeln!(out, "doubt: {}", doubt.sentence())?;
    }
    Ok(())
}
