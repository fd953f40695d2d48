//! Placing, moving and removing single marks, and removing whole things.

use super::args::{MoveArgs, PointArgs, RemovedThing};
use super::path::place_at;
use crate::cli::Failure;
use crate::cli::spots::Spot;
use crate::marks::{
    BaseCorner, Edit, ListChange, Mark, MarkAddress, MarksFile, POINT_SD_PX, PoleEnd, Reference,
    ReferenceKind, Tie, TiePlace,
};
use crate::quantity::FrameNumber;
use crate::scene::FramePoint;

fn placed(place: MarkAddress, point: &PointArgs) -> Edit {
    placed_at(place, point.frame, point.at, point.sd)
}

/// The mark of `place` on a frame; a footfall's is moved there.
pub(super) fn placed_at(place: MarkAddress, frame: u32, at: Spot, sd: Option<f64>) -> Edit {
    let point = FramePoint::new(at.x, at.y);
    let mark = Mark::new(FrameNumber(frame), point, sd.unwrap_or(POINT_SD_PX));
    Edit::PlaceMark { place, mark, at: None }
}

pub(super) fn pole_end(
    reference: String,
    pole: u32,
    end: PoleEnd,
    point: &PointArgs,
    file: &MarksFile,
) -> Result<Edit, Failure> {
    if !file.references.iter().any(|known| known.id == reference) {
        let poles = |known: &&Reference| matches!(known.kind, ReferenceKind::Poles { .. });
        let known = file.references.iter().filter(poles).map(|known| known.id.as_str());
        let state = format!("poles {reference} --count 4 --spacing 3.0 --length 3.5");
        return Err(not_stated("poles", &reference, known, &state));
    }
    Ok(placed(MarkAddress::PoleEnd { reference, pole, end }, point))
}

pub(super) fn base(
    fence: String,
    corner: BaseCorner,
    point: &PointArgs,
    file: &MarksFile,
) -> Result<Edit, Failure> {
    if file.fence(&fence).is_none() {
        let known = file.fences.iter().map(|known| known.id.as_str());
        return Err(not_stated("fence", &fence, known, &format!("fence {fence} --kind vertical")));
    }
    Ok(placed(MarkAddress::FenceBase { fence, corner }, point))
}

/// A point can be marked only on what was stated.
fn not_stated<'a>(
    kind: &str,
    id: &str,
    known: impl Iterator<Item = &'a str>,
    state: &str,
) -> Failure {
    let known: Vec<String> = known.map(|id| format!("`{id}`")).collect();
    let has = if known.is_empty() { "none".to_owned() } else { known.join(", ") };
    Failure::new(format!("cannot mark {kind} `{id}`: not stated yet (the file has {has})"))
        .hint(format!("state it first, such as `groundline mark MARKS {state}`"))
}

pub(super) fn point(place: &str, point: &PointArgs, file: &MarksFile) -> Result<Edit, Failure> {
    Ok(placed(place_at(place, file)?, point))
}

/// Marks a tie, which is made with its first mark. `--on-ground` holds for known ones too.
pub(super) fn tie(id: String, on_ground: bool, point: &PointArgs, file: &MarksFile) -> Edit {
    let known = file.ties.iter().find(|tie| tie.id == id);
    let stated = match known {
        None => {
            let place = if on_ground { TiePlace::Ground } else { TiePlace::Anywhere };
            Some(ListChange::add(Tie::new(&id, place)))
        }
        Some(tie) if on_ground && tie.place != TiePlace::Ground => {
            Some(ListChange::replace(&id, Tie { place: TiePlace::Ground, ..tie.clone() }))
        }
        Some(_) => None,
    };
    let mark = placed(MarkAddress::Tie { tie: id }, point);
    match stated {
        Some(change) => Edit::Several { edits: vec![Edit::Tie(change), mark] },
        None => mark,
    }
}

fn marks_of(place: &MarkAddress, file: &MarksFile) -> Vec<Mark> {
    let of_place = file.places().into_iter().filter(|(known, _)| known == place);
    of_place.flat_map(|(_, marks)| marks.to_vec()).collect()
}

/// The mark of a place on `frame`, or the only one it has.
fn mark_on(place: &MarkAddress, frame: Option<u32>, file: &MarksFile) -> Result<Mark, Failure> {
    let marks = marks_of(place, file);
    let frames: Vec<String> = marks.iter().map(|mark| mark.frame.0.to_string()).collect();
    let cannot = |why: String| format!("cannot find the mark of the {place}: {why}");
    match (frame, marks.as_slice()) {
        (_, []) => Err(Failure::new(cannot("it is not marked on any frame".into()))),
        (None, [mark]) => Ok(mark.clone()),
        (None, _) => {
            let why = format!("it is marked on frames {}", frames.join(", "));
            Err(Failure::usage(cannot(why)).hint("say which with --frame"))
        }
        (Some(number), marks) => {
            marks.iter().find(|mark| mark.frame.0 == number).cloned().ok_or_else(|| {
                let frames = frames.join(", ");
                let why = format!("it is not marked on frame {number} (only on {frames})");
                Failure::new(cannot(why))
            })
        }
    }
}

pub(super) fn move_mark(args: MoveArgs, file: &MarksFile) -> Result<Edit, Failure> {
    let place = place_at(&args.place, file)?;
    let is_footfall = matches!(place, MarkAddress::Footfall { .. });
    let mut mark = mark_on(&place, if is_footfall { None } else { args.frame }, file)?;
    if let (None, Some(by), None) = (args.at, args.by, args.sd)
        && (!is_footfall || args.frame.is_none())
    {
        return Ok(Edit::NudgeMark { place, frame: mark.frame, dx: by.x, dy: by.y });
    }
    if let Some(Spot { x, y }) = args.at {
        (mark.x, mark.y) = (x, y);
    }
    if let Some(Spot { x, y }) = args.by {
        (mark.x, mark.y) = (mark.x + x, mark.y + y);
    }
    mark.sd_px = args.sd.unwrap_or(mark.sd_px);
    mark.frame = args.frame.map_or(mark.frame, FrameNumber);
    Ok(Edit::PlaceMark { place, mark, at: None })
}

pub(super) fn remove(
    thing: RemovedThing,
    id: &str,
    frame: Option<u32>,
    file: &MarksFile,
) -> Result<Edit, Failure> {
    if frame.is_some() && !matches!(thing, RemovedThing::Mark) {
        return Err(Failure::usage("cannot use --frame here: only a single mark has a frame"));
    }
    if matches!(thing, RemovedThing::Fence) {
        refuse_needed_fence(id, file)?;
    }
    Ok(match thing {
        RemovedThing::Reference => Edit::Reference(ListChange::remove(id)),
        RemovedThing::Tie => Edit::Tie(ListChange::remove(id)),
        RemovedThing::Fence => Edit::Fence(ListChange::remove(id)),
        RemovedThing::Approach => Edit::Approach(ListChange::remove(id)),
        RemovedThing::Footfall | RemovedThing::Mark => match place_at(id, file)? {
            MarkAddress::Footfall { approach, footfall } => {
                Edit::Footfall { approach, change: ListChange::remove(footfall) }
            }
            place if matches!(thing, RemovedThing::Mark) => {
                let frame = mark_on(&place, frame, file)?.frame;
                Edit::RemoveMark { place, frame }
            }
            place => {
                let message = format!("cannot remove the {place} as a footfall: it is none");
                return Err(Failure::new(message).hint("say `remove mark` instead"));
            }
        },
    })
}

/// What belongs to a fence must go before it.
fn refuse_needed_fence(id: &str, file: &MarksFile) -> Result<(), Failure> {
    let approaches = file.approaches.iter().filter(|approach| approach.fence == id);
    let mut things: Vec<(String, String)> = approaches
        .map(|approach| {
            let id = &approach.id;
            (format!("approach `{id}`"), format!("`remove approach {id}`"))
        })
        .collect();
    let of_fence = |known: &&Reference| match &known.kind {
        ReferenceKind::FenceWidth { fence, .. } | ReferenceKind::FenceRails { fence, .. } => {
            fence == id
        }
        _ => false,
    };
    things.extend(file.references.iter().filter(of_fence).map(|known| {
        let (kind, id) = (known.kind.words(), &known.id);
        (format!("{kind} `{id}`"), format!("`remove reference {id}`"))
    }));
    if things.is_empty() {
        return Ok(());
    }
    let (names, commands): (Vec<String>, Vec<String>) = things.into_iter().unzip();
    let names = names.join(", ");
    Err(Failure::new(format!("cannot remove fence `{id}`: the file has {names} of that fence"))
        .hint(format!("first {}", commands.join(", "))))
}
