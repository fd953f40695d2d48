//! `groundline track`: the camera's motion, followed by the background and kept beside the marks.

use std::io::Write;
use std::path::PathBuf;
use std::time::Instant;

use indicatif::{ProgressBar, ProgressStyle};
use serde_json::{Value, json};

use super::Failure;
use super::clip_args::TrackArgs;
use super::interrupt::Interrupt;
use crate::footage::{Clip, OpenOptions};
use crate::marks::{ClipNote, Motion};
use crate::pan::{CameraMotion, Held, MotionDoubt, MotionModel, Stretch};
use crate::store::{
    Following, NotFollowed, clip_path, follow_clip, keep_motion, kept_motion, load, marks_path_for,
    motion_path, open_marked,
};

/// A clip to be followed, and beside which marks its motion is kept.
struct Wanted {
    clip: Clip,
    note: ClipNote,
    marks: PathBuf,
    claimed: Option<MotionModel>,
}

pub(super) fn run(args: TrackArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let wanted = wanted(&args)?;
    let known = if args.anew { None } else { kept_motion(&wanted.marks, &wanted.note) };
    let (motion, took_s) = match known {
        Some(motion) => (motion, None),
        None => {
            let begun = Instant::now();
            let motion = followed(&wanted.clip)?;
            keep_motion(&wanted.marks, &wanted.note, &motion).map_err(|error| {
                let path = motion_path(&wanted.marks);
                Failure::new(format!("cannot keep the motion in `{}`: {error}", path.display()))
                    .hint("see that the folder can be written to and the disk has room")
            })?;
            (motion, Some(begun.elapsed().as_secs_f64()))
        }
    };
    let doubts = motion.doubts(wanted.claimed);
    if args.json {
        let all = as_json(&motion, &doubts);
        writeln!(out, "{}", serde_json::to_string_pretty(&all).map_err(Failure::new)?)?;
        return Ok(());
    }
    report(&wanted, &motion, &doubts, took_s, out)
}

fn wanted(args: &TrackArgs) -> Result<Wanted, Failure> {
    let is_marks = args.clip.extension().is_some_and(|ending| ending == "json");
    if is_marks {
        let file = load(&args.clip)?;
        let clip = open_marked(&clip_path(&args.clip, &file.clip), &file.clip)?;
        let stated = (file.camera.motion == Motion::Fixed).then_some(MotionModel::Fixed);
        let claimed = args.motion.or(stated);
        return Ok(Wanted { clip, note: file.clip, marks: args.clip.clone(), claimed });
    }
    let options = OpenOptions { stream: args.stream, ..OpenOptions::default() };
    let clip = Clip::open(&args.clip, &options)?;
    let marks = marks_path_for(&args.clip);
    // Where marks are begun already they say which stream; else it is what marks would note.
    let note = match load(&marks) {
        Ok(file) => file.clip,
        Err(_) => {
            crate::store::first_marks(
                &clip,
                &marks,
                crate::store::Beginning { turning: true, stream: args.stream, slowed: None },
            )?
            .clip
        }
    };
    Ok(Wanted { clip, note, marks, claimed: args.motion })
}

/// The motion of a clip, with a bar on the terminal; Ctrl-C stops it.
pub(super) fn followed(clip: &Clip) -> Result<CameraMotion, Failure> {
    let interrupt = Interrupt::listen();
    let style = ProgressStyle::with_template(
        "following {bar:30} {pos} of {len} frames, {per_sec}, {eta} to go",
    )
    .map_err(Failure::new)?;
    let bar = ProgressBar::new(u64::from(clip.frame_count())).with_style(style);
    let followed = follow_clip(clip, Following::WHOLE, |done| {
        bar.set_position(u64::from(done));
        !interrupt.asked()
    });
    bar.finish_and_clear();
    Ok(followed?.motion)
}

impl From<NotFollowed> for Failure {
    fn from(error: NotFollowed) -> Self {
        let hint = error.hint();
        let failure = Self::new(error);
        match hint {
            Some(hint) => failure.hint(hint),
            None => failure,
        }
    }
}

fn report(
    wanted: &Wanted,
    motion: &CameraMotion,
    doubts: &[MotionDoubt],
    took_s: Option<f64>,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let frames = wanted.clip.frame_count();
    let followed: usize = motion.pieces.iter().map(|piece| piece.frames.len()).sum();
    let name = wanted.clip.path().display();
    match took_s {
        Some(took_s) => writeln!(
            out,
            "followed `{name}`: {followed} of {frames} frames, {:.1} a second",
            f64::from(frames) / took_s.max(1e-3)
        )?,
        None => writeln!(
            out,
            "`{name}` was followed before: {followed} of {frames} frames (--anew follows it again)"
        )?,
    }
    writeln!(out, "camera     {}", motion.model)?;
    // A picture that keeps still tells nothing of its lens.
    let turned = motion.pieces.iter().filter(|piece| piece.model != MotionModel::Fixed);
    for (number, piece) in (1..).zip(turned) {
        let focal_px = piece.log_focal.value.exp();
        let which =
            if motion.pieces.len() > 1 { format!(" of piece {number}") } else { String::new() };
        writeln!(
            out,
            "lens{which:<6} focal length {focal_px:.0} ± {:.0} px",
            1.96 * focal_px * piece.log_focal.sd
        )?;
    }
    for stretch in motion.stretches() {
        writeln!(out, "{}", stretch_words(&stretch, motion.pieces.len() > 1))?;
    }
    for doubt in doubts {
        writeln!(out, "doubt: {}", doubt.sentence())?;
    }
    writeln!(
        out,
        "kept in `{}`: what measures the marks of this clip uses it",
        motion_path(&wanted.marks).display()
    )?;
    Ok(())
}

fn stretch_words(stretch: &Stretch, several: bool) -> String {
    let frames = match stretch.from == stretch.to {
        true => format!("frame {}", stretch.from),
        false => format!("frames {}–{}", stretch.from, stretch.to),
    };
    let piece = match stretch.piece {
        Some(piece) if several => format!(", piece {}", piece + 1),
        _ => String::new(),
    };
    let how = match stretch.held {
        Held::Well => {
            format!("held well{piece}: the background fits to {:.2} px", stretch.residual_px)
        }
        Held::Poorly => {
            format!("held poorly{piece}: the background fits to {:.2} px", stretch.residual_px)
        }
        Held::Lost => "lost: tie them by hand, `mark MARKS tie ID FRAME X,Y`".to_owned(),
    };
    format!("{frames:<16} {how}")
}

fn as_json(motion: &CameraMotion, doubts: &[MotionDoubt]) -> Value {
    let stretches: Vec<Value> = motion
        .stretches()
        .iter()
        .map(|stretch| {
            json!({
                "from_frame": stretch.from,
                "to_frame": stretch.to,
                "held": stretch.held,
                "piece": stretch.piece,
                "residual_px": stretch.residual_px,
            })
        })
        .collect();
    let doubts: Vec<Value> = doubts
        .iter()
        .map(|doubt| json!({ "doubt": doubt, "sentence": doubt.sentence() }))
        .collect();
    json!({
        "camera": motion.model,
        "moved_px": motion.moved_px(),
        "lenses": motion
            .pieces
            .iter()
            .map(|piece| json!({
                "focal_px": piece.log_focal.value.exp(),
                "focal_sd_px": piece.log_focal.value.exp() * piece.log_focal.sd,
                "k1": piece.k1.value,
                "k1_sd": piece.k1.sd,
            }))
            .collect::<Vec<_>>(),
        "stretches": stretches,
        "doubts": doubts,
    })
}
