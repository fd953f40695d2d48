//! The approach as one frame sees it: ground places turned into spots on the picture.

use super::area::{Area, Spot};
use super::hoof_print::{PrintPlace, Trust};
use super::theme::PictureSizes;
use crate::marks::MarkAddress;
use crate::scene::{GroundPoint, PictureSize, Projection, ScenePoint};
use crate::stride::{ApproachMeasurement, PlacedFootfall, StrideRow};
use crate::survey::{PlacedPole, Suspect};

/// A hoof print on the picture.
#[derive(Clone, Debug)]
pub(super) struct SeenPrint<'a> {
    pub footfall: &'a PlacedFootfall,
    pub place: PrintPlace,
    pub trust: Trust,
}

/// What took one picture and the sizes of its picture.
#[derive(Clone, Copy, Debug)]
pub(super) struct View<'a> {
    pub camera: &'a dyn Projection,
    pub picture: PictureSize,
    pub sizes: PictureSizes,
}

impl View<'_> {
    /// The whole picture.
    pub fn frame(&self) -> Area {
        Area::at(0.0, 0.0, f64::from(self.picture.width), f64::from(self.picture.height))
    }

    /// The part labels may use.
    pub fn inside(&self) -> Area {
        self.frame().grown(-self.sizes.margin)
    }

    /// A ground point on the picture, or up to five pictures beside it.
    pub fn spot(&self, place: GroundPoint) -> Option<Spot> {
        self.spot_above(place.at_height(0.0))
    }

    fn spot_above(&self, place: ScenePoint) -> Option<Spot> {
        let point = self.camera.project(place).ok()?;
        let reach = 5.0 * self.frame().width().max(self.frame().height());
        let spot = Spot::new(point.x, point.y);
        self.frame().grown(reach).holds(spot).then_some(spot)
    }

    /// The parts of a ground line that lie before the camera, bent as the lens bends them.
    pub fn ground_line(&self, from: GroundPoint, to: GroundPoint) -> Vec<Vec<Spot>> {
        const PIECES: u32 = 24;
        let mut parts: Vec<Vec<Spot>> = vec![Vec::new()];
        for piece in 0..=PIECES {
            let share = f64::from(piece) / f64::from(PIECES);
            let at = GroundPoint::new(
                from.x + (to.x - from.x) * share,
                from.y + (to.y - from.y) * share,
            );
            match (self.spot(at), parts.last_mut()) {
                (Some(spot), Some(part)) => part.push(spot),
                _ => parts.push(Vec::new()),
            }
        }
        parts.retain(|part| part.len() > 1);
        parts
    }

    /// Where a print lies on the picture.
    pub fn print(&self, approach: &ApproachMeasurement, place: GroundPoint) -> Option<PrintPlace> {
        let heading = heading_at(approach, place);
        PrintPlace::seen(self.camera, place, heading, self.sizes.print)
            .filter(|print| self.spot(place).is_some() && print.middle.is_finite())
    }

    /// Outline of something upright on `ground`, `height` metres high: the hull of those of its
    /// corners that lie before the camera.
    pub fn upright(&self, ground: &[GroundPoint], height: f64) -> Option<Vec<Spot>> {
        let corners = ground.iter().flat_map(|at| [at.at_height(0.0), at.at_height(height)]);
        let outline = hull(corners.filter_map(|corner| self.spot_above(corner)).collect());
        (outline.len() >= 3).then_some(outline)
    }

    /// Outline of a pole lying on the ground, as the hull of its box; `None` when part of it is
    /// behind the camera.
    pub fn pole(&self, pole: &PlacedPole) -> Option<Vec<Spot>> {
        let (dx, dy) = (pole.right.x - pole.left.x, pole.right.y - pole.left.y);
        let length = dx.hypot(dy).max(1e-9);
        let half = pole.diameter_m / 2.0;
        let (nx, ny) = (-dy / length * half, dx / length * half);
        let mut corners = Vec::with_capacity(8);
        for end in [pole.left, pole.right] {
            for sign in [-1.0, 1.0] {
                for height in [0.0, pole.diameter_m] {
                    let at = ScenePoint::new(end.x + sign * nx, end.y + sign * ny, height);
                    corners.push(self.spot_above(at)?);
                }
            }
        }
        Some(hull(corners))
    }
}

/// The suspect mark of a footfall, when it has one.
pub(super) fn is_left_out(
    approach: &ApproachMeasurement,
    footfall: &str,
    suspects: &[Suspect],
) -> bool {
    trust_of(approach, footfall, suspects) == Trust::Suspect
}

/// Why a stride has no length, in the words that stand in its place.
pub fn why_no_length(
    approach: &ApproachMeasurement,
    stride: &StrideRow,
    suspects: &[Suspect],
) -> &'static str {
    let ends = [&stride.from_footfall, &stride.to_footfall];
    if ends.into_iter().any(|end| is_left_out(approach, end, suspects)) {
        "mark left out"
    } else {
        "not seen"
    }
}

/// The prints of all footfalls up to `until` (capture time, seconds), earliest first.
pub(super) fn prints_until<'a>(
    view: &View,
    approach: &'a ApproachMeasurement,
    suspects: &[Suspect],
    until: f64,
) -> Vec<SeenPrint<'a>> {
    approach
        .footfalls
        .iter()
        .filter(|footfall| footfall.time_s <= until + 1e-9)
        .filter_map(|footfall| {
            let place = view.print(approach, footfall.place?)?;
            let trust = trust_of(approach, &footfall.footfall, suspects);
            Some(SeenPrint { footfall, place, trust })
        })
        .collect()
}

/// Whether the survey left the mark of this footfall out.
pub(super) fn trust_of(
    approach: &ApproachMeasurement,
    footfall: &str,
    suspects: &[Suspect],
) -> Trust {
    let suspect = suspects.iter().any(|suspect| {
        matches!(&suspect.mark, MarkAddress::Footfall { approach: a, footfall: f }
            if *a == approach.approach && f == footfall)
    });
    if suspect { Trust::Suspect } else { Trust::Fits }
}

/// The way the horse goes at `place`: along the track, else along its hooves, else along x.
/// Radians from the ground's x axis, to the left.
pub(super) fn heading_at(approach: &ApproachMeasurement, place: GroundPoint) -> f64 {
    let angle = |a: GroundPoint, b: GroundPoint| (b.y - a.y).atan2(b.x - a.x);
    let nearest = approach.track_line.windows(2).min_by(|a, b| {
        let far = |pair: &[GroundPoint]| pair[0].distance(place) + pair[1].distance(place);
        far(a).total_cmp(&far(b))
    });
    if let Some([a, b]) = nearest
        && a.distance(*b) > 1e-6
    {
        return angle(*a, *b);
    }
    let mut places = approach.footfalls.iter().filter_map(|footfall| footfall.place);
    match (places.next(), places.next_back()) {
        (Some(first), Some(last)) if first.distance(last) > 1e-6 => angle(first, last),
        _ => 0.0,
    }
}

/// The point of a fence's base line straight across from `place`, as the horse goes. With one
/// end only, the base is taken square to the track.
pub(super) fn across_to_base(
    approach: &ApproachMeasurement,
    base: [Option<GroundPoint>; 2],
    place: GroundPoint,
) -> Option<GroundPoint> {
    let (on_base, (dx, dy)) = match base {
        [Some(left), Some(right)] if left.distance(right) > 1e-6 => {
            let length = left.distance(right);
            (left, ((right.x - left.x) / length, (right.y - left.y) / length))
        }
        [Some(only), _] | [_, Some(only)] => {
            let (sin, cos) = heading_at(approach, place).sin_cos();
            (only, (sin, -cos))
        }
        [None, None] => return None,
    };
    let along = (place.x - on_base.x) * dx + (place.y - on_base.y) * dy;
    Some(GroundPoint::new(on_base.x + along * dx, on_base.y + along * dy))
}

/// Convex hull, counted round (Andrew's monotone chain).
fn hull(mut spots: Vec<Spot>) -> Vec<Spot> {
    spots.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let half = |ordered: &mut dyn Iterator<Item = Spot>| {
        let mut chain: Vec<Spot> = Vec::new();
        for spot in ordered {
            while let [.., a, b] = chain[..]
                && (b.x - a.x) * (spot.y - a.y) - (b.y - a.y) * (spot.x - a.x) <= 0.0
            {
                chain.pop();
            }
            chain.push(spot);
        }
        chain.pop();
        chain
    };
    let mut lower = half(&mut spots.iter().copied());
    lower.extend(half(&mut spots.iter().rev().copied()));
    lower
}
