//! The edges of the fence as lines on the ground, and distances square to them.

use crate::marks::{BaseCorner, Fence, FenceKind, MarkAddress};
use crate::scene::GroundPoint;

/// A base line: a point on it and the unit vector square to it, the way the horse goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct BaseLine {
    pub point: GroundPoint,
    pub ahead: (f64, f64),
}

/// How an edge of the fence is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum EdgeSource {
    /// Both ends marked.
    Both,
    /// One end marked, square to the track.
    One(BaseCorner),
    /// Behind the ground line by the stated spread, metres.
    Spread(f64),
}

/// Which marks give the take-off edge.
pub(super) fn take_off_source(known: impl Fn(BaseCorner) -> bool) -> Option<EdgeSource> {
    side_source(known, BaseCorner::TakeOffLeft, BaseCorner::TakeOffRight)
}

/// Which marks or statements give the landing edge; a vertical has only one line.
pub(super) fn landing_source(
    fence: &Fence,
    known: impl Fn(BaseCorner) -> bool + Copy,
) -> Option<EdgeSource> {
    let marked = side_source(known, BaseCorner::LandingLeft, BaseCorner::LandingRight);
    if marked == Some(EdgeSource::Both) {
        return marked;
    }
    let one_plane =
        matches!(fence.kind, FenceKind::Vertical | FenceKind::CrossRail | FenceKind::GroundPole);
    let spread = fence.spread_m.or(one_plane.then_some(0.0));
    match (take_off_source(known), spread) {
        (Some(EdgeSource::Both), Some(spread)) => Some(EdgeSource::Spread(spread)),
        (Some(_), Some(spread)) if marked.is_none() => Some(EdgeSource::Spread(spread)),
        _ => marked,
    }
}

fn side_source(
    known: impl Fn(BaseCorner) -> bool,
    left: BaseCorner,
    right: BaseCorner,
) -> Option<EdgeSource> {
    match (known(left), known(right)) {
        (true, true) => Some(EdgeSource::Both),
        (true, false) => Some(EdgeSource::One(left)),
        (false, true) => Some(EdgeSource::One(right)),
        (false, false) => None,
    }
}

impl BaseLine {
    /// Through the two ends of a base, left and right of the way the horse goes.
    pub fn through(left: GroundPoint, right: GroundPoint) -> Self {
        let length = left.distance(right).max(1e-9);
        // Square to right → left, turned clockwise: with the left end on the left, ahead.
        let across = ((left.x - right.x) / length, (left.y - right.y) / length);
        Self {
            point: GroundPoint::new((left.x + right.x) / 2.0, (left.y + right.y) / 2.0),
            ahead: (across.1, -across.0),
        }
    }

    /// Through one end, square to a heading in radians.
    pub fn square_to(point: GroundPoint, heading: f64) -> Self {
        Self { point, ahead: (heading.cos(), heading.sin()) }
    }

    /// The same line seen from the other side.
    pub fn turned_about(self) -> Self {
        Self { ahead: (-self.ahead.0, -self.ahead.1), ..self }
    }

    /// The same line farther ahead.
    pub fn moved(self, ahead: f64) -> Self {
        let point = GroundPoint::new(
            self.point.x + ahead * self.ahead.0,
            self.point.y + ahead * self.ahead.1,
        );
        Self { point, ..self }
    }

    /// How far a point lies before the line (negative: past it), metres.
    pub fn before(&self, point: GroundPoint) -> f64 {
        (self.point.x - point.x) * self.ahead.0 + (self.point.y - point.y) * self.ahead.1
    }
}

/// Address of a base point.
pub(super) fn corner_address(fence: &str, corner: BaseCorner) -> MarkAddress {
    MarkAddress::FenceBase { fence: fence.to_owned(), corner }
}
