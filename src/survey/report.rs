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

#[cfg(test)]
mod tests {
    use nalgebra::{DMatrix, DVector, Vector2};

    use super::*;
    use crate::survey::model::TrackModel;
    use crate::survey::tests::{marks, scene};

    #[test]
    fn a_curve_is_the_track_with_its_unknowns_put_in() {
        // A frame at (2, −1) that heads 30°; 0.4 m to its left, a slope of 0.1.
        let track =
            TrackModel { origin: Vector2::new(2.0, -1.0), heading: 30f64.to_radians(), first: 1 };
        let x = DVector::from_vec(vec![9.0, 0.4, 0.1, 0.02]);
        let heading = 30f64.to_radians() + 0.1f64.atan();
        let origin = Vector2::new(2.0 - 0.4 * 0.5, -1.0 + 0.4 * 0.75f64.sqrt());
        // Hooves 3 m behind, 5 m ahead and between; what lies aside does not count.
        let hooves = [(1.0, 0.1), (-3.0, 0.2), (5.0, -0.2)].map(|(along, aside): (f64, f64)| {
            let (sin, cos) = heading.sin_cos();
            origin + along * Vector2::new(cos, sin) + aside * Vector2::new(-sin, cos)
        });
        let curve = curve(&x, &track, hooves.into_iter());
        assert!(curve.origin.distance(GroundPoint::new(origin.x, origin.y)) < 1e-12);
        assert!((curve.heading - heading).abs() < 1e-12);
        assert_eq!(curve.bend, 0.02);
        assert!((curve.from_to.0 + 3.0).abs() < 1e-12 && (curve.from_to.1 - 5.0).abs() < 1e-12);
    }

    #[test]
    fn poles_are_told_whose_ends_are_both_placed() {
        let file = marks(&scene(20.0), 0.0, 0.0, 1);
        let end = |pole, end| MarkAddress::PoleEnd { reference: "poles".into(), pole, end };
        let (left, right) = (GroundPoint::new(3.0, 1.75), GroundPoint::new(3.0, -1.75));
        let places = BTreeMap::from([
            (end(1, PoleEnd::Left), GroundPoint::new(0.0, 1.75)),
            (end(2, PoleEnd::Left), left),
            (end(2, PoleEnd::Right), right),
        ]);
        let expected =
            PlacedPole { reference: "poles".into(), pole: 2, left, right, diameter_m: 0.10 };
        assert_eq!(poles(&file, &places), [expected]);
    }

    /// Hooves at these places, each as uncertain as `sd` in every direction.
    fn judged(hooves: &[(f64, f64)], sd: f64) -> Result<(), SurveyError> {
        let file = marks(&scene(20.0), 0.0, 0.0, 1);
        let address = |number: usize| MarkAddress::Footfall {
            approach: "1".into(),
            footfall: format!("h{number}"),
        };
        let places = (0..hooves.len()).map(|number| (address(number), 2 * number)).collect();
        let mean =
            DVector::from_iterator(2 * hooves.len(), hooves.iter().flat_map(|(x, y)| [*x, *y]));
        let covariance = DMatrix::identity(mean.len(), mean.len()) * sd.powi(2);
        refuse_if_too_uncertain(&file, &Posterior::new(mean, covariance, places, BTreeMap::new()))
    }

    #[test]
    fn lengths_more_uncertain_than_two_fifths_are_refused() {
        // 5 m between two hooves of sd s: 1.96 · √2 · s of 5 m are 40 % at s = 0.7215.
        let hooves = [(0.0, 0.0), (0.6, 0.8), (3.0, 4.0)];
        assert_eq!(judged(&hooves, 0.72), Ok(()));
        let refused = judged(&hooves, 0.75).unwrap_err();
        let SurveyError::TooUncertain { percent, most, .. } = refused else { panic!("{refused}") };
        assert_eq!(most, 40.0);
        assert!((percent - 196.0 * 2f64.sqrt() * 0.75 / 5.0).abs() < 1e-9, "{percent}");
        // Hooves that stand within a metre say nothing about lengths, nor does one alone.
        assert_eq!(judged(&hooves[..2], 9.0), Ok(()));
        assert_eq!(judged(&hooves[..1], 9.0), Ok(()));
        assert_eq!(judged(&[], 9.0), Ok(()));
        assert!(judged(&[(0.0, 0.0), (0.9, 0.6)], 9.0).is_err());
    }
}
