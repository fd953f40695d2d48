//! From tracks to the camera's motion: each piece adjusted, each frame between its keys resected.

use super::adjusted::{Adjusted, FoundPoint, Refused, refine};
use super::chain::chain;
use super::choose::{Choice, choose};
use super::error::MotionError;
use super::fit::Piece;
use super::frames_between::frames_of;
use super::misfits::squares;
use super::motion::{CameraMotion, MotionPiece, Residuals};
use super::motion_model::MotionModel;
use super::packed::Packed;
use super::priors::MotionPriors;
use super::sightings::by_point;
use super::tracks::{Held, TrackedFrame, Tracks};
use crate::quantity::{FrameNumber, Given};
use crate::scene::Lens;

/// Times a piece is adjusted anew without the key frames that see too little.
const ATTEMPTS: usize = 6;

/// What was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Adjustment {
    /// How the camera moved.
    pub motion: CameraMotion,
    /// The points it was found from.
    pub points: Vec<FoundPoint>,
}

/// Finds how the camera moved.
///
/// Errors: fewer than two key frames share points of the background, or nothing fits them. What
/// could not be followed in an otherwise good clip is no error: see [`CameraMotion::lost`].
pub fn adjust(tracks: &Tracks, priors: &MotionPriors) -> Result<Adjustment, MotionError> {
    let mut found = Vec::new();
    let mut linked = 0;
    for frames in tracks.frames.chunk_by(|a, b| a.piece == b.piece) {
        let mut open: Vec<&TrackedFrame> =
            frames.iter().filter(|f| f.key && f.held != Held::Lost).collect();
        while open.len() >= 2 {
            let (together, apart) = split(&open, tracks, priors);
            linked = linked.max(together.len());
            if together.len() >= 2
                && let Some((adjusted, choice, keys)) = adjust_piece(together, tracks, priors)
            {
                found.push((motion_of(&adjusted, &choice, &keys), adjusted, frames));
            }
            open = apart;
        }
    }
    if found.is_empty() {
        let frames = linked;
        return Err(if frames < 2 {
            MotionError::TooLittle { frames }
        } else {
            MotionError::NoFit
        });
    }
    Ok(assemble(tracks, found))
}

type FoundPiece<'a> = (MotionPiece, Adjusted, &'a [TrackedFrame]);

fn assemble(tracks: &Tracks, found: Vec<FoundPiece<'_>>) -> Adjustment {
    let mut points = Vec::new();
    let mut pieces: Vec<MotionPiece> = Vec::new();
    for (mut piece, adjusted, frames) in found {
        let taken = |frame: FrameNumber| pieces.iter().any(|p| p.frame(frame).is_some());
        let free: Vec<&TrackedFrame> = frames.iter().filter(|f| !taken(f.frame)).collect();
        piece.frames = frames_of(&adjusted, &piece.keys, &free);
        points.extend(found_points(&adjusted, pieces.len()));
        pieces.push(piece);
    }
    let followed = |frame: FrameNumber| pieces.iter().any(|piece| piece.frame(frame).is_some());
    let lost = tracks.frames.iter().map(|f| f.frame).filter(|&f| !followed(f)).collect();
    let model = pieces.iter().map(|piece| piece.model).max().unwrap_or(MotionModel::Fixed);
    Adjustment { motion: CameraMotion { model, picture: tracks.picture, pieces, lost }, points }
}

/// Key frames that are linked to the first of `open`, and the others.
fn split<'a>(
    open: &[&'a TrackedFrame],
    tracks: &Tracks,
    priors: &MotionPriors,
) -> (Vec<&'a TrackedFrame>, Vec<&'a TrackedFrame>) {
    let lens = Lens {
        focal_px: priors.log_focal.value.exp(),
        centre: tracks.picture.centre(),
        k1: priors.k1.value,
    };
    let turns = chain(&by_point(open), open.len(), &lens);
    let (together, apart): (Vec<_>, Vec<_>) =
        open.iter().zip(turns).partition(|(_, turn)| turn.is_some());
    let frames = |all: Vec<(&&'a TrackedFrame, _)>| all.into_iter().map(|(f, _)| *f).collect();
    (frames(together), frames(apart))
}

/// Adjusts linked key frames; those that see too little are let go.
fn adjust_piece<'a>(
    mut keys: Vec<&'a TrackedFrame>,
    tracks: &Tracks,
    priors: &MotionPriors,
) -> Option<(Adjusted, Choice, Vec<&'a TrackedFrame>)> {
    for _ in 0..ATTEMPTS {
        let points = by_point(&keys);
        let piece = Piece { points: &points, keys: keys.len(), priors };
        let choice = choose(&piece, tracks.picture)?;
        match refine(&piece, &choice.fit) {
            Ok(adjusted) => return Some((adjusted, choice, keys)),
            Err(Refused::Undetermined) => return None,
            Err(Refused::WeakKeys(weak)) => {
                let all = keys.iter().enumerate();
                keys = all.filter(|(i, _)| !weak.contains(i)).map(|(_, key)| *key).collect();
                keys = split(&keys, tracks, priors).0;
                if keys.len() < 2 {
                    return None;
                }
            }
        }
    }
    None
}

/// A piece without its frames.
fn motion_of(adjusted: &Adjusted, choice: &Choice, keys: &[&TrackedFrame]) -> MotionPiece {
    let sd = |column: usize| adjusted.covariance[(column, column)].max(0.0).sqrt();
    MotionPiece {
        model: adjusted.model,
        against: choice.against.clone(),
        keys: keys.iter().map(|key| key.frame).collect(),
        log_focal: Given::new(adjusted.bundle.log_focal, sd(0)),
        k1: Given::new(adjusted.bundle.k1, sd(1)),
        covariance: Packed::of(&adjusted.covariance),
        frames: Vec::new(),
        residuals: residuals(adjusted, keys),
    }
}

fn residuals(adjusted: &Adjusted, keys: &[&TrackedFrame]) -> Residuals {
    let misfits = squares(&adjusted.points, &adjusted.bundle);
    let mut used: Vec<f64> = Vec::new();
    for (point, misfits) in adjusted.points.iter().zip(&misfits) {
        let pairs = point.seen.iter().zip(misfits).filter(|(s, _)| s.used);
        used.extend(pairs.map(|(s, square)| square.sqrt() * s.sd));
    }
    used.sort_by(f64::total_cmp);
    let at = |share: f64| {
        let i = (share * used.len() as f64) as usize;
        used.get(i.min(used.len().saturating_sub(1))).copied().unwrap_or(0.0)
    };
    Residuals {
        seen: keys.iter().map(|key| key.sightings.len() as u32).sum(),
        believed: used.len() as u32,
        median_px: at(0.5),
        p95_px: at(0.95),
        scale: adjusted.scale,
    }
}

fn found_points(adjusted: &Adjusted, piece: usize) -> impl Iterator<Item = FoundPoint> + '_ {
    let places = adjusted.bundle.points.iter().zip(&adjusted.inverses);
    adjusted.points.iter().zip(places).map(move |(point, (place, own))| FoundPoint {
        point: point.point,
        piece: piece as u32,
        toward: place.toward,
        nearness: place.nearness,
        nearness_sd: own[(2, 2)].sqrt(),
    })
}
