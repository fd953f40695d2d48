//! `groundline check`: does the file keep the rules, what is marked, what is missing.

use std::io::Write;
use std::path::Path;

use super::Failure;
use super::args::CheckArgs;
use super::mark::path_of;
use super::measured_round::clip_doubt;
use crate::marks::{Approach, ClipNote, Event, Limb, MarksFile, Reference, ReferenceKind};
use crate::quantity::Given;
use crate::store::{StoreError, clip_path, kept_motion, load, missing_beside_motion};

pub(super) fn run(args: CheckArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let shown = args.marks.display();
    let file = match load(&args.marks) {
        Ok(file) => file,
        Err(StoreError::Breaches { breaches, .. }) => {
            for breach in &breaches {
                writeln!(out, "breach: {breach}")?;
            }
            let count = match breaches.len() {
                1 => "1 rule is".to_owned(),
                count => format!("{count} rules are"),
            };
            return Err(Failure::new(format!("cannot measure from `{shown}`: {count} broken"))
                .hint("correct them in a text editor"));
        }
        Err(error) => return Err(error.into()),
    };
    writeln!(out, "fine: `{shown}` keeps every rule")?;
    let mut doubts = file.doubts();
    doubts.extend(clip_doubt(&args.marks, &file));
    for doubt in doubts {
        writeln!(out, "doubt: {}", doubt.sentence())?;
    }
    writeln!(out, "\nmarked:")?;
    for line in marked(&file) {
        writeln!(out, "  {line}")?;
    }
    if args.list {
        writeln!(out, "\nmarks:")?;
        list_marks(&file, out)?;
    }
    let mut missing: Vec<String> = missing_clip(&args.marks, &file).into_iter().collect();
    let motion = kept_motion(&args.marks, &file.clip);
    let open = missing_beside_motion(&file, motion.as_ref());
    missing.extend(open.iter().map(ToString::to_string));
    if !missing.is_empty() {
        writeln!(out, "\nmissing:")?;
    }
    for thing in missing {
        writeln!(out, "  {thing}")?;
    }
    Ok(())
}

/// The clip, if it is not where the marks file looks for it.
fn missing_clip(marks: &Path, file: &MarksFile) -> Option<String> {
    let path = clip_path(marks, &file.clip);
    if path.exists() {
        return None;
    }
    let path = std::path::absolute(&path).unwrap_or(path);
    let folder = path.parent().unwrap_or(Path::new("."));
    Some(format!(
        "no clip `{}` in the folder `{}`: `measure` works without it; pictures and marks on new \
         frames need it",
        path.file_name().unwrap_or_default().to_string_lossy(),
        folder.display()
    ))
}

/// What the file holds, a line a thing.
fn marked(file: &MarksFile) -> Vec<String> {
    let clip = &file.clip;
    let mut lines = vec![format!(
        "clip `{}`: {} × {} px, {} frames{}",
        clip.file,
        clip.picture.width,
        clip.picture.height,
        clip.frame_count,
        slowed(clip),
    )];
    let round = file.round.words();
    if !round.is_empty() {
        lines.push(format!("round: {round}"));
    }
    lines.push(format!("camera: {}", file.camera.words()));
    lines.extend(file.references.iter().map(reference_line));
    for tie in &file.ties {
        lines.push(format!("tie `{}`: on {}", tie.id, counted(tie.marks.len(), "frame")));
    }
    for fence in &file.fences {
        let corners = crate::marks::BaseCorner::ALL;
        let marked = corners.iter().filter(|corner| !fence.base(**corner).is_empty()).count();
        let (id, kind, points) = (&fence.id, fence.kind.words(), counted(marked, "base point"));
        let comma = if fence.name.is_empty() { "" } else { ", " };
        lines.push(format!("fence `{id}` ({kind}{comma}{}): {points} marked", fence.name));
    }
    lines.extend(file.approaches.iter().map(approach_line));
    lines
}

fn slowed(clip: &ClipNote) -> String {
    match clip.capture_seconds_per_second {
        1.0 => String::new(),
        _ => format!(", plays {}", clip.pace_words()),
    }
}

fn metres(given: Given) -> String {
    format!("{} ± {} m", given.value, given.sd)
}

fn reference_line(reference: &Reference) -> String {
    let id = &reference.id;
    let size = match &reference.kind {
        ReferenceKind::Poles { count, spacing_m, length_m, .. } => format!(
            "poles `{id}`: {}, {} apart, {} long",
            counted(*count as usize, "pole"),
            metres(*spacing_m),
            metres(*length_m)
        ),
        ReferenceKind::Distance { length_m, .. } => {
            format!("distance `{id}`: {}", metres(*length_m))
        }
        ReferenceKind::FenceWidth { fence, length_m, .. } => {
            return format!("width `{id}` of fence `{fence}`: {}", metres(*length_m));
        }
        ReferenceKind::Vertical { height_m, .. } => {
            format!("vertical `{id}`: {} high", metres(*height_m))
        }
        ReferenceKind::FenceRails { fence, rails, .. } => {
            format!("rails `{id}` of fence `{fence}`: {}", rails.len())
        }
    };
    let (marked, whole) = reference.marked_points();
    format!("{size}; {marked} of {whole} points marked")
}

fn approach_line(approach: &Approach) -> String {
    let of = |event| approach.footfalls.iter().filter(|f| f.event == event).count();
    let limbs = Limb::ALL.into_iter().filter_map(|limb| {
        let count = approach.footfalls.iter().filter(|f| f.limb == limb).count();
        (count > 0).then(|| format!("{} {count}", limb.words()))
    });
    let limbs: Vec<String> = limbs.collect();
    let mut line = format!(
        "approach `{}` to fence `{}`: {}",
        approach.id,
        approach.fence,
        counted(approach.footfalls.len(), "footfall")
    );
    if !limbs.is_empty() {
        line.push_str(&format!(" ({})", limbs.join(", ")));
    }
    for event in [Event::TakeOff, Event::Landing] {
        if of(event) > 0 {
            line.push_str(&format!(", {}", event.words()));
        }
    }
    line
}

fn counted(count: usize, thing: &str) -> String {
    if count == 1 { format!("1 {thing}") } else { format!("{count} {thing}s") }
}

fn list_marks(file: &MarksFile, out: &mut dyn Write) -> Result<(), Failure> {
    let mut places = file.places();
    places.retain(|(_, marks)| !marks.is_empty());
    let hidden = hidden_footfalls(file);
    let width = places.iter().map(|(place, _)| path_of(place).chars().count()).max().unwrap_or(0);
    for (place, marks) in places {
        for mark in marks {
            let path = path_of(&place);
            let (frame, x, y, sd) = (mark.frame.0, mark.x, mark.y, mark.sd_px);
            if hidden.contains(&path) {
                writeln!(out, "  {path:width$}  frame {frame:>6}    hidden")?;
                continue;
            }
            writeln!(out, "  {path:width$}  frame {frame:>6}  {x:>8.2}, {y:>8.2}  ± {sd} px")?;
        }
    }
    Ok(())
}

/// Names of the footfalls whose coordinates mean nothing.
fn hidden_footfalls(file: &MarksFile) -> Vec<String> {
    let of_approach = |approach: &Approach| {
        let hidden = approach.footfalls.iter().filter(|footfall| footfall.hidden);
        hidden.map(|footfall| format!("{}/{}", approach.id, footfall.id)).collect::<Vec<_>>()
    };
    file.approaches.iter().flat_map(of_approach).collect()
}
