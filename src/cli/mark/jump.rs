//! Stating fences, approaches and footfalls. A known id is restated: only what was typed changes.

use super::ids;
use super::thing_args::{ApproachArgs, FenceArgs, FootfallArgs};
use crate::cli::Failure;
use crate::cli::spots::Spot;
use crate::marks::{
    Approach, Edit, Event, Fence, FenceKind, Footfall, HOOF_SD_PX, ListChange, Mark, MarksFile,
    free_id,
};
use crate::quantity::FrameNumber;
use crate::scene::FramePoint;

pub(super) fn fence(args: FenceArgs, file: &MarksFile) -> Edit {
    let usual = match args.kind {
        None | Some(FenceKind::OtherKind) => "fence".to_owned(),
        Some(kind) => kind.words().replace(' ', "-"),
    };
    let taken = |id: &str| file.fence(id).is_some();
    let id = args.id.unwrap_or_else(|| free_id(&usual, taken));
    let known = file.fence(&id);
    let mut fence = known.cloned().unwrap_or_else(|| Fence::new(&id));
    fence.name = args.name.unwrap_or(fence.name);
    fence.kind = args.kind.unwrap_or(fence.kind);
    fence.height_m = args.height.or(fence.height_m);
    fence.spread_m = args.spread.or(fence.spread_m);
    fence.behind = args.behind.unwrap_or(fence.behind);
    fence.around = args.around.unwrap_or(fence.around);
    Edit::Fence(match known {
        Some(_) => ListChange::replace(id, fence),
        None => ListChange::add(fence),
    })
}

pub(super) fn approach(args: ApproachArgs, file: &MarksFile) -> Result<Edit, Failure> {
    let known = restated_approach(&args, file)?;
    let mut approach = match known {
        Some(known) => known.clone(),
        None => {
            let fence = ids::fence(args.fence.clone(), &file.fences)?;
            let id = args.id.unwrap_or_else(|| file.free_approach_id(&fence));
            Approach::new(id, fence)
        }
    };
    approach.fence = args.fence.unwrap_or(approach.fence);
    approach.lead = args.lead.or(approach.lead);
    approach.reference_limb = args.reference_limb.or(approach.reference_limb);
    approach.left_turn_frame = args.left_turn.map(FrameNumber).or(approach.left_turn_frame);
    approach.note = args.note.unwrap_or(approach.note);
    Ok(Edit::Approach(match known {
        Some(known) => ListChange::replace(&known.id, approach),
        None => ListChange::add(approach),
    }))
}

/// The approach of that id; without id and fence the only one, so that nobody gets a second,
/// empty approach who meant the first.
fn restated_approach<'a>(
    args: &ApproachArgs,
    file: &'a MarksFile,
) -> Result<Option<&'a Approach>, Failure> {
    match (&args.id, &args.fence, file.approaches.as_slice()) {
        (Some(id), ..) => Ok(file.approach(id)),
        (None, Some(_), _) | (None, None, []) => Ok(None),
        (None, None, [only]) => Ok(Some(only)),
        (None, None, several) => {
            let ids: Vec<String> = several.iter().map(|a| format!("`{}`", a.id)).collect();
            let (count, ids) = (ids.len(), ids.join(", "));
            let message =
                format!("cannot tell which approach is meant: the file has {count} ({ids})");
            Err(Failure::usage(message).hint("put its id after `approach`"))
        }
    }
}

pub(super) fn footfall(args: FootfallArgs, file: &MarksFile) -> Result<Edit, Failure> {
    let (approach, begun) = approach_of_footfall(args.approach.clone(), file)?;
    let known = file.approach(&approach).and_then(|approach| {
        let id = args.id.as_ref()?;
        approach.footfalls.iter().find(|footfall| footfall.id == *id)
    });
    let change = match known {
        Some(known) => ListChange::replace(&known.id, restated(&args, known.clone())),
        None => ListChange::add(new_footfall(args)?),
    };
    let edit = Edit::Footfall { approach, change };
    Ok(match begun {
        Some(begun) => Edit::Several { edits: vec![begun, edit] },
        None => edit,
    })
}

/// The approach that is meant. The first footfall before the only fence begins its approach.
fn approach_of_footfall(
    typed: Option<String>,
    file: &MarksFile,
) -> Result<(String, Option<Edit>), Failure> {
    match (&typed, file.approaches.as_slice(), file.fences.as_slice()) {
        (None, [], [fence]) => {
            let id = file.free_approach_id(&fence.id);
            let begun = Edit::Approach(ListChange::add(Approach::new(&id, &fence.id)));
            Ok((id, Some(begun)))
        }
        (None, [], []) => Err(Failure::new("cannot mark a footfall: the file has no fence yet")
            .hint("`groundline mark MARKS fence --kind oxer` adds one")),
        _ => Ok((ids::approach(typed, &file.approaches)?, None)),
    }
}

fn restated(args: &FootfallArgs, mut footfall: Footfall) -> Footfall {
    footfall.limb = args.limb.unwrap_or(footfall.limb);
    footfall.event = args.event.unwrap_or(footfall.event);
    let mark = &mut footfall.mark;
    mark.frame = args.frame.map_or(mark.frame, FrameNumber);
    mark.sd_px = args.sd.unwrap_or(mark.sd_px);
    if let Some(Spot { x, y }) = args.at {
        (mark.x, mark.y) = (x, y);
        footfall.hidden = false;
    }
    footfall.hidden |= args.hidden;
    footfall
}

fn new_footfall(args: FootfallArgs) -> Result<Footfall, Failure> {
    let thing = match &args.id {
        Some(id) => format!("footfall `{id}`"),
        None => "a footfall".to_owned(),
    };
    let limb = ids::needed(args.limb, "limb", &thing)?;
    let frame = ids::needed(args.frame, "frame", &thing)?;
    let spot = match args.at {
        // A hidden hoof has no place; 0,0 stands for it.
        None if args.hidden => Spot { x: 0.0, y: 0.0 },
        at => ids::needed(at, "at", &thing)?,
    };
    let sd = args.sd.unwrap_or(HOOF_SD_PX);
    let mark = Mark::new(FrameNumber(frame), FramePoint::new(spot.x, spot.y), sd);
    let id = args.id.unwrap_or_else(|| format!("{}-{frame}", limb.letters()));
    let mut footfall = Footfall::new(id, limb, args.event.unwrap_or(Event::Stride), mark);
    footfall.hidden = args.hidden;
    Ok(footfall)
}
