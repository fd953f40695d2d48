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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::marks::{Mark, RailMarks};
    use crate::quantity::{FrameNumber, Given};
    use crate::scene::FramePoint;
    use crate::survey::tests::{marks, scene};
    use serde_json::Map;

    fn file() -> MarksFile {
        marks(&scene(20.0), 0.0, 0.0, 1)
    }

    fn mark() -> Vec<Mark> {
        vec![Mark::new(FrameNumber(0), FramePoint::new(300.0, 200.0), 1.0)]
    }

    fn nominal(gauge: &Gauge) -> Vec<(f64, f64, f64)> {
        gauge.nominal.iter().map(|(_, p)| (p.x, p.y, p.z)).collect()
    }

    fn only(kind: ReferenceKind) -> MarksFile {
        let mut file = file();
        file.references = vec![Reference { id: "only".into(), kind }];
        file
    }

    #[test]
    fn poles_lie_a_spacing_apart_along_x_and_half_a_length_to_either_side() {
        let gauge = Gauge::choose(&file()).unwrap();
        assert_eq!((gauge.id.as_str(), gauge.reference, gauge.free_direction), ("poles", 0, false));
        let expected: Vec<_> = [0.0, 3.0, 6.0, 9.0]
            .into_iter()
            .flat_map(|x| [(x, 1.75, 0.05), (x, -1.75, 0.05)])
            .collect();
        assert_eq!(nominal(&gauge), expected);
        assert!((gauge.middle() - Vector3::new(4.5, 0.0, 0.05)).norm() < 1e-12);
        assert!(!gauge.is_one_line());
    }

    #[test]
    fn what_is_not_marked_is_no_part_of_it() {
        let mut file = file();
        let ReferenceKind::Poles { ends, .. } = &mut file.references[0].kind else {
            unreachable!()
        };
        ends.retain(|end| end.end == PoleEnd::Left);
        let gauge = Gauge::choose(&file).unwrap();
        assert_eq!(nominal(&gauge), [0.0, 3.0, 6.0, 9.0].map(|x| (x, 1.75, 0.05)));
        assert!(gauge.is_one_line());
        let ReferenceKind::Poles { ends, .. } = &mut file.references[0].kind else {
            unreachable!()
        };
        ends.truncate(1);
        let refused = Gauge::choose(&file).unwrap_err();
        let (reference, found, needed) = ("poles".to_owned(), 1, 2);
        assert_eq!(refused, SurveyError::TooFewReferenceMarks { reference, found, needed });
        file.references.clear();
        assert_eq!(Gauge::choose(&file).unwrap_err(), SurveyError::NoReference);
    }

    #[test]
    fn distances_and_uprights_start_at_the_origin() {
        let taped = Gauge::choose(&only(ReferenceKind::Distance {
            length_m: Given::new(5.0, 0.02),
            at_height_m: 0.4,
            from: mark(),
            to: mark(),
            other: Map::new(),
        }))
        .unwrap();
        assert_eq!(nominal(&taped), [(0.0, 0.0, 0.4), (5.0, 0.0, 0.4)]);
        assert!(taped.is_one_line() && !taped.free_direction);
        let post = Gauge::choose(&only(ReferenceKind::Vertical {
            height_m: Given::new(1.7, 0.02),
            lean_sd_m: 0.03,
            foot: mark(),
            top: mark(),
            other: Map::new(),
        }))
        .unwrap();
        assert_eq!(nominal(&post), [(0.0, 0.0, 0.0), (0.0, 0.0, 1.7)]);
        assert!(post.is_one_line() && post.free_direction);
    }

    #[test]
    fn a_fence_has_its_bases_at_half_its_width() {
        let width = ReferenceKind::FenceWidth {
            fence: "A".into(),
            length_m: Given::new(4.0, 0.02),
            other: Map::new(),
        };
        let mut file = only(width);
        let front = [(0.0, 2.0, 0.0), (0.0, -2.0, 0.0)];
        assert_eq!(nominal(&Gauge::choose(&file).unwrap()), front);
        file.fences[0].landing_base.left = mark();
        file.fences[0].landing_base.right = mark();
        assert_eq!(nominal(&Gauge::choose(&file).unwrap()), front, "no spread is stated");
        file.fences[0].spread_m = Some(1.2);
        let both = [front[0], front[1], (1.2, 2.0, 0.0), (1.2, -2.0, 0.0)];
        assert_eq!(nominal(&Gauge::choose(&file).unwrap()), both);
        // Of rails the height is known alone: 3.5 m wide is where the search starts.
        file.references[0].kind = ReferenceKind::FenceRails {
            fence: "A".into(),
            rails: vec![RailMarks::new(Given::new(0.9, 0.01))],
            other: Map::new(),
        };
        let rails = nominal(&Gauge::choose(&file).unwrap());
        assert_eq!(rails[..2], [(0.0, 1.75, 0.0), (0.0, -1.75, 0.0)]);
    }

    #[test]
    fn the_reference_with_the_most_marks_is_chosen_then_the_first() {
        let mut file = file();
        let poles = file.references[0].clone();
        let mut fewer = poles.clone();
        fewer.id = "fewer".into();
        let ReferenceKind::Poles { ends, .. } = &mut fewer.kind else { unreachable!() };
        ends.truncate(4);
        let again = Reference { id: "again".into(), ..poles.clone() };
        file.references = vec![fewer, poles, again];
        let gauge = Gauge::choose(&file).unwrap();
        assert_eq!((gauge.id.as_str(), gauge.reference), ("poles", 1));
    }

    #[test]
    fn five_centimetres_aside_is_still_one_line() {
        // Points along (0.6, 0.8) from (1, 1), the third `aside` of the line.
        let with = |aside: f64| {
            let tie = |id: &str| MarkAddress::Tie { tie: id.into() };
            let at = |along: f64, aside: f64| {
                let (x, y) = (0.6 * along - 0.8 * aside, 0.8 * along + 0.6 * aside);
                ScenePoint::new(1.0 + x, 1.0 + y, 0.0)
            };
            let nominal = vec![
                (tie("a"), at(0.0, 0.0)),
                (tie("b"), at(5.0, aside)),
                (tie("c"), at(10.0, 0.0)),
            ];
            Gauge { reference: 0, id: String::new(), nominal, free_direction: false }
        };
        for aside in [0.0, 0.04, -0.04] {
            assert!(with(aside).is_one_line(), "{aside}");
        }
        for aside in [0.06, -0.06, 3.0] {
            assert!(!with(aside).is_one_line(), "{aside}");
        }
        let nothing = Gauge { nominal: Vec::new(), ..with(0.0) };
        assert!(nothing.is_one_line());
    }
}
