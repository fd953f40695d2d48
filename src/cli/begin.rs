//! `groundline begin`: a new marks file for a clip.

use std::io::Write;
use std::path::{Path, PathBuf};

use super::Failure;
use super::args::BeginArgs;
use super::measured_round::refuse_absurd;
use crate::footage::{Clip, ClipFacts, FootageDoubt, OpenOptions};
use crate::marks::{CameraPrior, ClipNote, MarksFile, Motion};
use crate::quantity::Given;
use crate::scene::PictureSize;
use crate::store::{OpenMarks, StoreError, marks_path_for, path_from};

/// How far a camera strays that was turned in steady hands, metres.
const STEADY_HANDS_M: f64 = 0.03;
/// Diagonal of the 36 × 24 mm picture that equivalent focal lengths refer to, millimetres.
const FULL_FRAME_DIAGONAL_MM: f64 = 43.27;
/// The part of the file's focal length by which it may be off: most phones film with less of the
/// picture than they photograph with, and more so when they steady it.
const FOCAL_SD_PART: f64 = 0.15;

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
    let file = MarksFile::new(clip_note(&args, &marks, &clip)?, camera(&args, clip.facts()));
    if let Some(rate) = args.capture_rate {
        refuse_absurd(&file, rate)?;
    }
    let mut open = OpenMarks::begin(&marks, file)?;
    open.save()?;
    report(&args, &marks, &clip, open.file(), out)
}

fn clip_note(args: &BeginArgs, marks: &Path, clip: &Clip) -> Result<ClipNote, Failure> {
    let facts = clip.facts();
    let file = path_from(&absolute(marks)?, &absolute(&args.clip)?);
    let Some(file) = file.to_str() else {
        let shown = args.clip.display();
        return Err(Failure::new(format!("cannot note `{shown}`: its name is not Unicode text")));
    };
    Ok(ClipNote {
        file: file.replace(std::path::MAIN_SEPARATOR, "/"),
        size_bytes: facts.size_bytes,
        blake3: clip.content_hash()?.to_owned(),
        picture: PictureSize { width: facts.upright_width_px, height: facts.upright_height_px },
        frame_count: clip.frame_count(),
        stream: stream(args, clip),
        capture_seconds_per_second: match args.slowed {
            Some(times) => 1.0 / times,
            None => facts.capture.time_scale,
        },
        frames: Vec::new(),
        other: serde_json::Map::new(),
    })
}

/// Noted when it was asked for or chosen among several, so that it is the same next time.
fn stream(args: &BeginArgs, clip: &Clip) -> Option<usize> {
    let several = |doubt: &FootageDoubt| matches!(doubt, FootageDoubt::SeveralVideoStreams { .. });
    args.stream.or(clip.doubts().iter().any(several).then_some(clip.facts().stream))
}

/// Absolute and without links in its folder; the file itself need not be there.
fn absolute(path: &Path) -> Result<PathBuf, Failure> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let folder = std::fs::canonicalize(folder)
        .map_err(|source| StoreError::Unwritable { path: path.to_owned(), source })?;
    Ok(folder.join(path.file_name().unwrap_or_default()))
}

fn camera(args: &BeginArgs, facts: &ClipFacts) -> CameraPrior {
    let motion = match args.turning {
        true => Motion::Turning { sway_sd_m: STEADY_HANDS_M },
        false => Motion::Fixed,
    };
    let mut camera = CameraPrior::usual(motion);
    camera.focal_px = facts.lens.focal_length_35mm_mm.map(|focal_mm| {
        let (width, height) = (facts.upright_width_px, facts.upright_height_px);
        let diagonal_px = f64::from(width).hypot(f64::from(height));
        let focal_px = (focal_mm * diagonal_px / FULL_FRAME_DIAGONAL_MM).round();
        Given::new(focal_px, (focal_px * FOCAL_SD_PART).round())
    });
    camera
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
        "clip: {} × {} px, {} frames, {:.2} s{}",
        facts.upright_width_px,
        facts.upright_height_px,
        clip.frame_count(),
        facts.duration_s,
        match &facts.rate {
            Some(rate) => format!(", {:.2} frames a second", rate.mean_hz),
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
