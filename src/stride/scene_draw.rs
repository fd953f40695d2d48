//! One possible scene: the best one or one draw, asked for places in the same way.

use crate::marks::{BaseCorner, Fence, MarkAddress};
use crate::scene::GroundPoint;
use crate::stride::chance::Chance;
use crate::stride::fence_line::{BaseLine, EdgeSource, corner_address};
use crate::survey::{PlaceDraws, Survey};

/// The best scene or one draw of it.
#[derive(Clone, Copy)]
pub(super) enum SceneDraw<'a> {
    /// The adjusted scene.
    Best(&'a Survey),
    /// A draw of the joint posterior.
    Draw(&'a Survey, &'a PlaceDraws, usize, &'a Chance),
}

/// A track as offset, slope and bend in a fixed frame.
#[derive(Clone, Copy, Debug)]
pub(super) struct Track {
    frame: (GroundPoint, f64),
    offset: f64,
    slope: f64,
    bend: f64,
}

impl SceneDraw<'_> {
    /// A marked ground point.
    pub fn place(&self, address: &MarkAddress) -> Option<GroundPoint> {
        match self {
            Self::Best(survey) => survey.posterior.place(address),
            Self::Draw(_, draws, draw, _) => draws.place(address, *draw),
        }
    }

    /// An approach's track.
    pub fn track(&self, approach: &str) -> Option<Track> {
        let (survey, unknowns) = match self {
            Self::Best(survey) => (*survey, survey.posterior.track(approach)?),
            Self::Draw(survey, draws, draw, _) => (*survey, draws.track(approach, *draw)?),
        };
        let frame = *survey.track_frames.get(approach)?;
        let [offset, slope, bend] = unknowns;
        Some(Track { frame, offset, slope, bend })
    }

    /// How far a base known at one end only stands off square to the track, radians.
    fn off_square(&self) -> f64 {
        match self {
            Self::Best(_) => 0.0,
            Self::Draw(_, _, _, chance) => chance.off_square,
        }
    }

    /// Whether a base faces against the track: its ends were marked for each other.
    pub fn faces_back(&self, line: &BaseLine, approach: &str) -> bool {
        self.track(approach).is_some_and(|track| track.goes_against(line))
    }

    /// An edge of the fence.
    pub fn edge(
        &self,
        fence: &Fence,
        source: EdgeSource,
        corners: (BaseCorner, BaseCorner),
        approach: &str,
    ) -> Option<BaseLine> {
        let corner = |corner| self.place(&corner_address(&fence.id, corner));
        match source {
            EdgeSource::Both => {
                let line = BaseLine::through(corner(corners.0)?, corner(corners.1)?);
                Some(if self.faces_back(&line, approach) { line.turned_about() } else { line })
            }
            EdgeSource::One(known) => {
                let point = corner(known)?;
                let track = self.track(approach)?;
                let heading = track.heading_beside(point) + self.off_square();
                Some(BaseLine::square_to(point, heading))
            }
            EdgeSource::Spread(spread) => {
                let front = (BaseCorner::TakeOffLeft, BaseCorner::TakeOffRight);
                let known = |c| corner(c).is_some();
                let source = super::fence_line::take_off_source(known)?;
                Some(self.edge(fence, source, front, approach)?.moved(spread))
            }
        }
    }
}

impl Track {
    /// Its bend, 1/m; positive to the left.
    pub fn bend_per_m(&self) -> f64 {
        self.bend
    }

    /// Heading beside a point, radians in the ground frame.
    pub fn heading_beside(&self, point: GroundPoint) -> f64 {
        let (sin, cos) = self.frame.1.sin_cos();
        let along = (point.x - self.frame.0.x) * cos + (point.y - self.frame.0.y) * sin;
        self.frame.1 + (self.slope + self.bend * along).atan()
    }

    /// Whether it goes the other way than a line looks.
    fn goes_against(&self, line: &BaseLine) -> bool {
        let (sin, cos) = self.heading_beside(line.point).sin_cos();
        cos * line.ahead.0 + sin * line.ahead.1 < 0.0
    }

    /// The point `along` metres from the frame's origin.
    fn at(&self, along: f64) -> GroundPoint {
        let (sin, cos) = self.frame.1.sin_cos();
        let side = self.offset + self.slope * along + self.bend * along * along / 2.0;
        GroundPoint::new(
            self.frame.0.x + along * cos - side * sin,
            self.frame.0.y + along * sin + side * cos,
        )
    }

    /// Where the track meets a line, and its heading there. `None` for a track along the line.
    pub fn meets(&self, line: &BaseLine) -> Option<(GroundPoint, f64)> {
        let (sin, cos) = self.frame.1.sin_cos();
        let mut along =
            (line.point.x - self.frame.0.x) * cos + (line.point.y - self.frame.0.y) * sin;
        for _ in 0..8 {
            let slope = self.slope + self.bend * along;
            let way = (cos - slope * sin, sin + slope * cos);
            let closing = way.0 * line.ahead.0 + way.1 * line.ahead.1;
            if closing.abs() < 0.05 {
                return None;
            }
            along += line.before(self.at(along)) / closing;
        }
        let heading = self.frame.1 + (self.slope + self.bend * along).atan();
        along.is_finite().then(|| (self.at(along), heading))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Frame at (2, −1), turned by 30°; 0.4 m beside it, a slope of 0.1, a bend of 0.02 per metre.
    fn track() -> Track {
        let frame = (GroundPoint::new(2.0, -1.0), 30f64.to_radians());
        Track { frame, offset: 0.4, slope: 0.1, bend: 0.02 }
    }

    #[test]
    fn a_track_is_a_parabola_in_its_frame() {
        // 5 m on: side 0.4 + 0.5 + 0.25 = 1.15 m; turned by 30° and moved by hand.
        let (sin, cos) = (0.5, 3f64.sqrt() / 2.0);
        let expected =
            GroundPoint::new(2.0 + 5.0 * cos - 1.15 * sin, -1.0 + 5.0 * sin + 1.15 * cos);
        assert!(track().at(5.0).distance(expected) < 1e-12);
        // There it climbs by 0.1 + 0.02 · 5 = 0.2; points beside it share the heading.
        let heading = 30f64.to_radians() + 0.2f64.atan();
        for aside in [-1.0, 0.0, 2.0] {
            let point = GroundPoint::new(expected.x - aside * sin, expected.y + aside * cos);
            assert!((track().heading_beside(point) - heading).abs() < 1e-12);
        }
    }

    #[test]
    fn a_track_meets_a_line_where_both_say_so() {
        let track = track();
        for (along, heading) in [(6.0, 0.4), (9.0, 0.9), (-3.0, 0.7)] {
            let line = BaseLine::square_to(track.at(along), heading);
            // The line is told by another of its points.
            let aside = GroundPoint::new(
                line.point.x - 1.3 * line.ahead.1,
                line.point.y + 1.3 * line.ahead.0,
            );
            let line = BaseLine { point: aside, ..line };
            let (met, found) = track.meets(&line).unwrap();
            assert!(met.distance(track.at(along)) < 1e-9, "{along}: {met:?}");
            let expected = 30f64.to_radians() + (0.1 + 0.02 * along).atan();
            assert!((found - expected).abs() < 1e-9);
        }
    }

    #[test]
    fn of_two_meetings_the_one_on_the_side_of_the_lines_point_counts() {
        // Turned by 60°, side 0.4 · along²: a line along the axis at a side of 20 m is met
        // √50 = 7.07 m before and behind, climbing and falling by 0.8 · 7.07.
        let frame = (GroundPoint::new(2.0, -1.0), 60f64.to_radians());
        let track = Track { frame, offset: 0.0, slope: 0.0, bend: 0.8 };
        let (sin, cos) = frame.1.sin_cos();
        let in_frame = |along: f64, side: f64| {
            GroundPoint::new(2.0 + along * cos - side * sin, -1.0 + along * sin + side * cos)
        };
        for way in [1.0, -1.0] {
            let line = BaseLine::square_to(in_frame(0.8 * way, 20.0), 150f64.to_radians());
            let (met, heading) = track.meets(&line).unwrap();
            let along = way * 50f64.sqrt();
            assert!(met.distance(in_frame(along, 20.0)) < 1e-6, "{met:?}");
            assert!((heading - (60f64.to_radians() + (0.8 * along).atan())).abs() < 1e-6);
        }
    }

    #[test]
    fn a_track_goes_against_lines_that_look_more_than_a_right_angle_away() {
        // It heads 30° + atan 0.1 = 35.7° at its frame.
        let against = |degrees: f64| {
            let line = BaseLine::square_to(GroundPoint::new(2.0, -1.0), degrees.to_radians());
            track().goes_against(&line)
        };
        for degrees in [35.0, 90.0, 125.0, -54.0, 0.0] {
            assert!(!against(degrees), "{degrees}");
        }
        for degrees in [126.0, 180.0, 215.0, -55.0] {
            assert!(against(degrees), "{degrees}");
        }
    }

    #[test]
    fn a_track_along_a_line_does_not_meet_it() {
        let straight = Track { slope: 0.0, bend: 0.0, ..track() };
        let along = BaseLine::square_to(GroundPoint::new(8.0, 8.0), 120f64.to_radians());
        assert!(straight.meets(&along).is_none());
        let nearly = BaseLine::square_to(GroundPoint::new(8.0, 8.0), 115f64.to_radians());
        assert!(straight.meets(&nearly).is_some());
    }
}
