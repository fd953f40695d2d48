//! The edges of the fence as lines on the ground, and distances square to them.

use crate::marks::{BaseCorner, Fence, FenceKind, MarkAddress};
use crate::scene::GroundPoint;

/// The two ends of the take-off base.
pub(super) const FRONT: (BaseCorner, BaseCorner) =
    (BaseCorner::TakeOffLeft, BaseCorner::TakeOffRight);
/// The two ends of the landing base.
pub(super) const BACK: (BaseCorner, BaseCorner) =
    (BaseCorner::LandingLeft, BaseCorner::LandingRight);

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

#[cfg(test)]
mod tests {
    use super::*;
    use BaseCorner::{LandingLeft, LandingRight, TakeOffLeft, TakeOffRight};

    #[test]
    fn a_base_looks_the_way_the_horse_goes_and_measures_square_to_itself() {
        // Ends at (4, 3) and (1, −1): 5 m long, the way ahead is (0.8, −0.6).
        let line = BaseLine::through(GroundPoint::new(4.0, 3.0), GroundPoint::new(1.0, -1.0));
        assert_eq!(line.point, GroundPoint::new(2.5, 1.0));
        assert!((line.ahead.0 - 0.8).abs() < 1e-12 && (line.ahead.1 + 0.6).abs() < 1e-12);
        // 2 m before the middle and 1 m aside: aside does not count.
        let hoof = GroundPoint::new(2.5 - 2.0 * 0.8 + 0.6, 1.0 + 2.0 * 0.6 + 0.8);
        assert!((line.before(hoof) - 2.0).abs() < 1e-12);
        assert!((line.moved(1.5).before(hoof) - 3.5).abs() < 1e-12);
        assert!((line.turned_about().before(hoof) + 2.0).abs() < 1e-12);
        assert_eq!(line.moved(1.5).ahead, line.ahead);
    }

    #[test]
    fn a_line_square_to_a_heading_looks_along_it() {
        let line = BaseLine::square_to(GroundPoint::new(1.0, 2.0), 0.5);
        let ahead = GroundPoint::new(1.0 + 3.0 * 0.5f64.cos(), 2.0 + 3.0 * 0.5f64.sin());
        assert!((line.before(ahead) + 3.0).abs() < 1e-12);
    }

    #[test]
    fn what_is_marked_or_stated_gives_the_edges() {
        let known = |corners: &'static [BaseCorner]| move |corner| corners.contains(&corner);
        assert_eq!(take_off_source(known(&[])), None);
        assert_eq!(take_off_source(known(&[TakeOffRight])), Some(EdgeSource::One(TakeOffRight)));
        assert_eq!(take_off_source(known(&[TakeOffLeft])), Some(EdgeSource::One(TakeOffLeft)));
        assert_eq!(take_off_source(known(&[TakeOffLeft, TakeOffRight])), Some(EdgeSource::Both));
        let mut fence = Fence::new("A");
        fence.kind = FenceKind::Vertical;
        let front: &[_] = &[TakeOffLeft, TakeOffRight];
        assert_eq!(landing_source(&fence, known(front)), Some(EdgeSource::Spread(0.0)));
        assert_eq!(landing_source(&fence, known(&[])), None);
        fence.kind = FenceKind::Oxer;
        assert_eq!(landing_source(&fence, known(front)), None);
        fence.spread_m = Some(1.2);
        assert_eq!(landing_source(&fence, known(front)), Some(EdgeSource::Spread(1.2)));
        assert_eq!(landing_source(&fence, known(&[TakeOffLeft])), Some(EdgeSource::Spread(1.2)));
        // A marked far end is believed before a stated spread, unless the front is known whole.
        let one_each: &[_] = &[TakeOffLeft, LandingLeft];
        assert_eq!(landing_source(&fence, known(one_each)), Some(EdgeSource::One(LandingLeft)));
        let three: &[_] = &[TakeOffLeft, TakeOffRight, LandingLeft];
        assert_eq!(landing_source(&fence, known(three)), Some(EdgeSource::Spread(1.2)));
        let all: &[_] = &[TakeOffLeft, TakeOffRight, LandingLeft, LandingRight];
        assert_eq!(landing_source(&fence, known(all)), Some(EdgeSource::Both));
    }
}
