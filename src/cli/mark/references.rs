//! Stating things of known size. A known id is restated: only what was typed changes, and its
//! marks stay.

use serde_json::Map;

use super::ids;
use super::thing_args::{DistanceArgs, FenceWidthArgs, PolesArgs, RailsArgs, VerticalArgs};
use crate::cli::Failure;
use crate::marks::{
    Edit, ListChange, MarksFile, RailMarks, Reference, ReferenceKind, USUAL_DIAMETER_M,
    USUAL_LEAN_M, free_id,
};
use crate::quantity::Given;

/// How far a taped length may be off, metres, when nobody said.
const TAPED_SD_M: f64 = 0.02;
/// Length of a pole, metres, when nobody said: most are 3 to 4 m.
const USUAL_POLE: Given = Given::new(3.5, 0.1);

/// The id to use, and the reference of that id if there is one.
fn known<'a>(
    typed: Option<String>,
    usual: &str,
    file: &'a MarksFile,
) -> (String, Option<&'a Reference>) {
    let taken = |id: &str| file.references.iter().any(|reference| reference.id == id);
    let id = typed.unwrap_or_else(|| free_id(usual, taken));
    let known = file.references.iter().find(|reference| reference.id == id);
    (id, known)
}

/// Adds the reference, or puts it in the place of the one it restates.
fn stated(id: String, kind: ReferenceKind, known: Option<&Reference>) -> Edit {
    let reference = Reference { id: id.clone(), kind };
    Edit::Reference(match known {
        Some(_) => ListChange::replace(id, reference),
        None => ListChange::add(reference),
    })
}

fn other_kind(id: &str, wanted: &str) -> Failure {
    Failure::new(format!("cannot restate `{id}`: it is a reference of another kind, not {wanted}"))
        .hint("give the new one an id of its own")
}

fn restate(given: &mut Given, value: Option<f64>, sd: Option<f64>) {
    given.value = value.unwrap_or(given.value);
    given.sd = sd.unwrap_or(given.sd);
}

pub(super) fn poles(args: PolesArgs, file: &MarksFile) -> Result<Edit, Failure> {
    let (id, known) = known(args.id, "poles", file);
    let mut kind = match known {
        Some(known) => known.kind.clone(),
        None => ReferenceKind::Poles {
            count: ids::needed(args.count, "count", &format!("poles `{id}`"))?,
            spacing_m: Given::new(
                ids::needed(args.spacing, "spacing", &format!("poles `{id}`"))?,
                TAPED_SD_M,
            ),
            length_m: match args.length {
                Some(length) => Given::new(length, TAPED_SD_M),
                None => USUAL_POLE,
            },
            diameter_m: USUAL_DIAMETER_M,
            ends: Vec::new(),
            other: Map::new(),
        },
    };
    let ReferenceKind::Poles { count, spacing_m, length_m, diameter_m, .. } = &mut kind else {
        return Err(other_kind(&id, "poles"));
    };
    *count = args.count.unwrap_or(*count);
    restate(spacing_m, args.spacing, args.spacing_sd);
    restate(length_m, args.length, args.length_sd);
    *diameter_m = args.diameter.unwrap_or(*diameter_m);
    Ok(stated(id, kind, known))
}

pub(super) fn distance(args: DistanceArgs, file: &MarksFile) -> Result<Edit, Failure> {
    let (id, known) = known(args.id, "distance", file);
    let mut kind = match known {
        Some(known) => known.kind.clone(),
        None => ReferenceKind::Distance {
            length_m: Given::new(
                ids::needed(args.length, "length", &format!("distance `{id}`"))?,
                TAPED_SD_M,
            ),
            at_height_m: 0.0,
            from: Vec::new(),
            to: Vec::new(),
            other: Map::new(),
        },
    };
    let ReferenceKind::Distance { length_m, at_height_m, .. } = &mut kind else {
        return Err(other_kind(&id, "a distance"));
    };
    restate(length_m, args.length, args.length_sd);
    *at_height_m = args.at_height.unwrap_or(*at_height_m);
    Ok(stated(id, kind, known))
}

pub(super) fn vertical(args: VerticalArgs, file: &MarksFile) -> Result<Edit, Failure> {
    let (id, known) = known(args.id, "vertical", file);
    let mut kind = match known {
        Some(known) => known.kind.clone(),
        None => ReferenceKind::Vertical {
            height_m: Given::new(
                ids::needed(args.height, "height", &format!("vertical `{id}`"))?,
                TAPED_SD_M,
            ),
            lean_sd_m: USUAL_LEAN_M,
            foot: Vec::new(),
            top: Vec::new(),
            other: Map::new(),
        },
    };
    let ReferenceKind::Vertical { height_m, lean_sd_m, .. } = &mut kind else {
        return Err(other_kind(&id, "a vertical"));
    };
    restate(height_m, args.height, args.height_sd);
    *lean_sd_m = args.lean_sd.unwrap_or(*lean_sd_m);
    Ok(stated(id, kind, known))
}

pub(super) fn fence_width(args: FenceWidthArgs, file: &MarksFile) -> Result<Edit, Failure> {
    let named = args.id.as_ref().and_then(|id| file.references.iter().find(|r| r.id == *id));
    if let (Some(reference), Some(id)) = (named, args.id.clone()) {
        let mut kind = reference.kind.clone();
        let ReferenceKind::FenceWidth { fence, length_m, .. } = &mut kind else {
            return Err(other_kind(&id, "a fence's width"));
        };
        *fence = args.fence.unwrap_or_else(|| fence.clone());
        restate(length_m, args.width, args.width_sd);
        return Ok(stated(id, kind, named));
    }
    let fence = ids::fence(args.fence, &file.fences)?;
    let (id, _) = known(args.id, &format!("{fence}-width"), file);
    let width = ids::needed(args.width, "width", &format!("fence width `{id}`"))?;
    let length_m = Given::new(width, args.width_sd.unwrap_or(TAPED_SD_M));
    Ok(stated(id, ReferenceKind::FenceWidth { fence, length_m, other: Map::new() }, None))
}

pub(super) fn rails(args: RailsArgs, file: &MarksFile) -> Result<Edit, Failure> {
    let given = |height: &f64| Given::new(*height, args.height_sd);
    let named = args.id.as_ref().and_then(|id| file.references.iter().find(|r| r.id == *id));
    if let (Some(reference), Some(id)) = (named, args.id.clone()) {
        let mut kind = reference.kind.clone();
        let ReferenceKind::FenceRails { fence, rails, .. } = &mut kind else {
            return Err(other_kind(&id, "rails"));
        };
        *fence = args.fence.unwrap_or_else(|| fence.clone());
        rails.truncate(args.heights.len());
        for (rail, height) in rails.iter_mut().zip(&args.heights) {
            rail.height_m = given(height);
        }
        let added = args.heights.iter().skip(rails.len()).map(|h| RailMarks::new(given(h)));
        let added: Vec<RailMarks> = added.collect();
        rails.extend(added);
        return Ok(stated(id, kind, named));
    }
    let fence = ids::fence(args.fence, &file.fences)?;
    let (id, _) = known(args.id, &format!("{fence}-rails"), file);
    let rails = args.heights.iter().map(|height| RailMarks::new(given(height))).collect();
    Ok(stated(id, ReferenceKind::FenceRails { fence, rails, other: Map::new() }, None))
}
