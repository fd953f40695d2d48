//! From the adjustment to what the rest of the program reads.

use std::collections::BTreeMap;

use super::adjust::{Adjusted, place_columns, residuals};
use super::error::SurveyError;
use super::outcome::{PlacedPole, Survey, TrackCurve};
use super::place::Place;
use super::posterior::Posterior;
use crate::marks::{MarkAddress, MarksFile, PoleEnd, ReferenceKind};
use crate::scene::{GroundPoint, ScenePoint};

/// Lengths less certain than this (half of the 95 % interval, per cent) are refused.
const MOST_UNCERTAIN_PERCENT: f64 = 40.0;

/// Gathers the outcome, or refuses it when its lengths mean nothing.
pub(super) fn report(file: &MarksFile, adjusted: Adjusted) -> Result<Survey, SurveyError> {
    let residuals = residuals(&adjusted);
    let Adjusted { model, solution, covariance, suspects, doubts, .. } = adjusted;
    let x = &solution.x;
    let places: BTreeMap<MarkAddress, GroundPoint> = model
        .places
        .iter()
        .filter(|(_, place)| !matches!(place, Place::Towards { .. }))
        .map(|(address, place)| (address.clone(), ScenePoint::from(place.locate(x).point).below()))
        .collect();
    let mut cameras = BTreeMap::new();
    for click in &model.clicks {
        cameras.insert(click.frame, model.camera_at(x, click.pose));
    }
    let tracks = model
        .tracks
        .iter()
        .map(|(id, track)| {
            let hooves = model.relations.iter().filter_map(|relation| match relation {
                super::model::Relation::BesideTrack { hoof, track: of, .. }
                    if model.tracks[*of].0 == *id =>
                {
                    Some(model.places[*hoof].1.locate(x).point.xy())
                }
                _ => None,
            });
            (id.clone(), curve(x, track, hooves))
        })
        .collect();
    let track_columns = model.tracks.iter().map(|(id, track)| (id.clone(), track.first)).collect();
    let track_frames = model
        .tracks
        .iter()
        .map(|(id, track)| {
            (id.clone(), (GroundPoint::new(track.origin.x, track.origin.y), track.heading))
        })
        .collect();
    let posterior = Posterior::new(x.clone(), covariance, place_columns(&model), track_columns);
    refuse_if_too_uncertain(file, &posterior)?;
    Ok(Survey {
        cameras,
        poles: poles(file, &places),
        places,
        tracks,
        track_frames,
        residuals,
        suspects,
        doubts,
        posterior,
    })
}

fn curve(
    x: &nalgebra::DVector<f64>,
    track: &super::model::TrackModel,
    hooves: impl Iterator<Item = nalgebra::Vector2<f64>>,
) -> TrackCurve {
    let (offset, heading, bend) = (x[track.first], x[track.first + 1], x[track.first + 2]);
    let (sin, cos) = track.heading.sin_cos();
    let origin = GroundPoint::new(track.origin.x - offset * sin, track.origin.y + offset * cos);
    let heading = track.heading + heading.atan();
    let (sin, cos) = heading.sin_cos();
    let along = |p: nalgebra::Vector2<f64>| (p.x - origin.x) * cos + (p.y - origin.y) * sin;
    let (mut from, mut to) = (f64::INFINITY, f64::NEG_INFINITY);
    for hoof in hooves {
        from = from.min(along(hoof));
        to = to.max(along(hoof));
    }
    TrackCurve { origin, heading, bend, from_to: (from, to) }
}

fn poles(file: &MarksFile, places: &BTreeMap<MarkAddress, GroundPoint>) -> Vec<PlacedPole> {
    let mut poles = Vec::new();
    for reference in &file.references {
        let ReferenceKind::Poles { count, diameter_m, .. } = &reference.kind else { continue };
        for pole in 1..=*count {
            let end = |end| {
                let reference = reference.id.clone();
                places.get(&MarkAddress::PoleEnd { reference, pole, end }).copied()
            };
            if let (Some(left), Some(right)) = (end(PoleEnd::Left), end(PoleEnd::Right)) {
                poles.push(PlacedPole {
                    reference: reference.id.clone(),
                    pole,
                    left,
                    right,
                    diameter_m: *diameter_m,
                });
            }
        }
    }
    poles
}

/// Judges the longest distance between two hooves of each approach.
fn refuse_if_too_uncertain(file: &MarksFile, posterior: &Posterior) -> Result<(), SurveyError> {
    for approach in &file.approaches {
        let hooves: Vec<(MarkAddress, GroundPoint)> = approach
            .footfalls
            .iter()
            .filter_map(|footfall| {
                let address = MarkAddress::Footfall {
                    approach: approach.id.clone(),
                    footfall: footfall.id.clone(),
                };
                let place = posterior.place(&address)?;
                Some((address, place))
            })
            .collect();
        let Some((first, start)) = hooves.first() else { continue };
        let Some((last, end)) =
            hooves.iter().max_by(|a, b| start.distance(a.1).total_cmp(&start.distance(b.1)))
        else {
            continue;
        };
        let length = start.distance(*end);
        let Some(sd) = posterior.distance_sd(first, last) else { continue };
        let percent = 196.0 * sd / length.max(1e-9);
        if length > 1.0 && percent > MOST_UNCERTAIN_PERCENT {
            return Err(SurveyError::TooUncertain {
                percent,
                most: MOST_UNCERTAIN_PERCENT,
                reason: "the references are too small in the picture, too few, or all on one line"
                    .into(),
            });
        }
    }
    Ok(())
}
