//! The reference that the ground frame hangs on, and where its points nominally lie.

use nalgebra::Vector3;

use super::error::SurveyError;
use crate::marks::{BaseCorner, MarkAddress, MarksFile, PoleEnd, Reference, ReferenceKind};
use crate::scene::ScenePoint;

/// The reference that defines origin and axes, with the nominal places of its marked points.
#[derive(Clone, Debug)]
pub struct Gauge {
    /// Index into the file's references.
    pub reference: usize,
    /// Its id.
    pub id: String,
    /// Nominal places of its marked points, ground frame.
    pub nominal: Vec<(MarkAddress, ScenePoint)>,
    /// Whether the reference leaves the direction of the axes open (a single vertical).
    pub free_direction: bool,
}

/// Width taken for the start when only a fence's rails are known; the marks correct it.
const USUAL_FENCE_WIDTH_M: f64 = 3.5;

impl Gauge {
    /// Chooses the reference with the most marked points, poles first among equals.
    pub fn choose(file: &MarksFile) -> Result<Self, SurveyError> {
        let marked: Vec<MarkAddress> = file
            .places()
            .into_iter()
            .filter(|(_, marks)| !marks.is_empty())
            .map(|(address, _)| address)
            .collect();
        let candidates = file.references.iter().enumerate().map(|(index, reference)| {
            let (mut nominal, free_direction) = nominal_places(file, reference);
            nominal.retain(|(address, _)| marked.contains(address));
            Self { reference: index, id: reference.id.clone(), nominal, free_direction }
        });
        // `max_by_key` takes the last of equals; reversed, the first of the file wins.
        let best = candidates.rev().max_by_key(|gauge| gauge.nominal.len());
        let best = best.ok_or(SurveyError::NoReference)?;
        if best.nominal.len() < 2 {
            return Err(SurveyError::TooFewReferenceMarks {
                reference: best.id,
                found: best.nominal.len(),
                needed: 2,
            });
        }
        Ok(best)
    }

    /// Middle of its marked points, ground frame.
    pub fn middle(&self) -> Vector3<f64> {
        let sum: Vector3<f64> = self.nominal.iter().map(|(_, place)| place.vector()).sum();
        sum / self.nominal.len() as f64
    }

    /// Whether all its marked points lie on one line on the ground (within 5 cm).
    pub fn is_one_line(&self) -> bool {
        let points: Vec<_> = self.nominal.iter().map(|(_, place)| place.below()).collect();
        let Some(first) = points.first() else { return true };
        let farthest = points
            .iter()
            .max_by(|a, b| first.distance(**a).total_cmp(&first.distance(**b)))
            .unwrap_or(first);
        let length = first.distance(*farthest);
        if length < 0.05 {
            return true;
        }
        points.iter().all(|p| {
            let cross =
                (farthest.x - first.x) * (p.y - first.y) - (farthest.y - first.y) * (p.x - first.x);
            (cross / length).abs() < 0.05
        })
    }
}

fn nominal_places(
    file: &MarksFile,
    reference: &Reference,
) -> (Vec<(MarkAddress, ScenePoint)>, bool) {
    let id = reference.id.clone();
    match &reference.kind {
        ReferenceKind::Poles { count, spacing_m, length_m, diameter_m, .. } => {
            let mut places = Vec::new();
            for pole in 1..=*count {
                for end in PoleEnd::BOTH {
                    let side = if end == PoleEnd::Left { 0.5 } else { -0.5 };
                    let place = ScenePoint::new(
                        f64::from(pole - 1) * spacing_m.value,
                        side * length_m.value,
                        diameter_m / 2.0,
                    );
                    places.push((MarkAddress::PoleEnd { reference: id.clone(), pole, end }, place));
                }
            }
            (places, false)
        }
        ReferenceKind::Distance { length_m, at_height_m, .. } => (
            vec![
                (
                    MarkAddress::DistanceFrom { reference: id.clone() },
                    ScenePoint::new(0.0, 0.0, *at_height_m),
                ),
                (
                    MarkAddress::DistanceTo { reference: id },
                    ScenePoint::new(length_m.value, 0.0, *at_height_m),
                ),
            ],
            false,
        ),
        ReferenceKind::FenceWidth { fence, length_m, .. } => {
            (fence_corners(file, fence, length_m.value), false)
        }
        ReferenceKind::Vertical { height_m, .. } => (
            vec![
                (
                    MarkAddress::VerticalFoot { reference: id.clone() },
                    ScenePoint::new(0.0, 0.0, 0.0),
                ),
                (
                    MarkAddress::VerticalTop { reference: id },
                    ScenePoint::new(0.0, 0.0, height_m.value),
                ),
            ],
            true,
        ),
        ReferenceKind::FenceRails { fence, .. } => {
            (fence_corners(file, fence, USUAL_FENCE_WIDTH_M), false)
        }
    }
}

/// The take-off base of the fence (the landing base too when the spread is stated).
fn fence_corners(file: &MarksFile, fence: &str, width: f64) -> Vec<(MarkAddress, ScenePoint)> {
    let spread = file.fence(fence).and_then(|fence| fence.spread_m);
    BaseCorner::ALL
        .into_iter()
        .filter_map(|corner| {
            let (along, side) = match corner {
                BaseCorner::TakeOffLeft => (0.0, 0.5),
                BaseCorner::TakeOffRight => (0.0, -0.5),
                BaseCorner::LandingLeft => (spread?, 0.5),
                BaseCorner::LandingRight => (spread?, -0.5),
            };
            let address = MarkAddress::FenceBase { fence: fence.to_owned(), corner };
            Some((address, ScenePoint::new(along, side * width, 0.0)))
        })
        .collect()
}
