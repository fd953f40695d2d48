//! Upright rectangles and points on a drawing: what collides with what.

/// A point on a drawing, x right, y down, in the drawing's own units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

/// An upright rectangle.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Area {
    /// Left edge.
    pub left: f64,
    /// Top edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Bottom edge.
    pub bottom: f64,
}

impl Spot {
    /// The point at (`x`, `y`).
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// Distance to `other`.
    pub fn distance(self, other: Self) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }

    /// This point moved by `by` times the direction (`dx`, `dy`).
    pub fn moved(self, (dx, dy): (f64, f64), by: f64) -> Self {
        Self { x: self.x + dx * by, y: self.y + dy * by }
    }

    /// The point `share` of the way to `other`.
    pub fn towards(self, other: Self, share: f64) -> Self {
        Self::new(self.x + (other.x - self.x) * share, self.y + (other.y - self.y) * share)
    }

    /// Whether both coordinates are numbers.
    pub fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }
}

impl Area {
    /// From its left top corner and its size.
    pub fn at(left: f64, top: f64, width: f64, height: f64) -> Self {
        Self { left, top, right: left + width, bottom: top + height }
    }

    /// Around a middle.
    pub fn around(middle: Spot, width: f64, height: f64) -> Self {
        Self::at(middle.x - width / 2.0, middle.y - height / 2.0, width, height)
    }

    /// The least one that holds all `spots`; `None` for none.
    pub fn holding(spots: &[Spot]) -> Option<Self> {
        let first = spots.first()?;
        let start = Self { left: first.x, top: first.y, right: first.x, bottom: first.y };
        Some(spots.iter().fold(start, |area, spot| Self {
            left: area.left.min(spot.x),
            top: area.top.min(spot.y),
            right: area.right.max(spot.x),
            bottom: area.bottom.max(spot.y),
        }))
    }

    /// Width.
    pub fn width(&self) -> f64 {
        self.right - self.left
    }

    /// Height.
    pub fn height(&self) -> f64 {
        self.bottom - self.top
    }

    /// Its middle.
    pub fn middle(&self) -> Spot {
        Spot::new((self.left + self.right) / 2.0, (self.top + self.bottom) / 2.0)
    }

    /// Larger by `by` on every side (smaller when negative).
    pub fn grown(&self, by: f64) -> Self {
        Self {
            left: self.left - by,
            top: self.top - by,
            right: self.right + by,
            bottom: self.bottom + by,
        }
    }

    /// Whether the two share more than an edge.
    pub fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// Whether `other` lies wholly inside.
    pub fn contains(&self, other: &Self) -> bool {
        self.left <= other.left
            && self.top <= other.top
            && self.right >= other.right
            && self.bottom >= other.bottom
    }

    /// Whether `spot` lies inside or on the edge.
    pub fn holds(&self, spot: Spot) -> bool {
        (self.left..=self.right).contains(&spot.x) && (self.top..=self.bottom).contains(&spot.y)
    }

    /// The point of this area nearest to `spot`.
    pub fn nearest(&self, spot: Spot) -> Spot {
        Spot::new(
            spot.x.max(self.left).min(self.right.max(self.left)),
            spot.y.max(self.top).min(self.bottom.max(self.top)),
        )
    }

    /// How much of the segment from `a` to `b` lies inside, as the pair of shares of its length
    /// where it enters and leaves; `None` when it misses (Liang–Barsky).
    pub fn clip(&self, a: Spot, b: Spot) -> Option<(f64, f64)> {
        let (dx, dy) = (b.x - a.x, b.y - a.y);
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        let sides = [
            (-dx, a.x - self.left),
            (dx, self.right - a.x),
            (-dy, a.y - self.top),
            (dy, self.bottom - a.y),
        ];
        for (speed, room) in sides {
            if speed == 0.0 {
                if room < 0.0 {
                    return None;
                }
            } else if speed < 0.0 {
                enter = enter.max(room / speed);
            } else {
                leave = leave.min(room / speed);
            }
        }
        (enter <= leave).then_some((enter, leave))
    }
}

/// The part of a convex shape inside `area` (Sutherland–Hodgman); empty when there is none.
pub(super) fn clip_shape(shape: &[Spot], area: &Area) -> Vec<Spot> {
    // Each side as a signed distance that is positive inside.
    let sides: [&dyn Fn(Spot) -> f64; 4] =
        [&|s| s.x - area.left, &|s| area.right - s.x, &|s| s.y - area.top, &|s| area.bottom - s.y];
    sides.iter().fold(shape.to_vec(), |kept, inside| {
        let mut next = Vec::with_capacity(kept.len() + 1);
        for (i, &spot) in kept.iter().enumerate() {
            let before = kept[(i + kept.len() - 1) % kept.len()];
            let (a, b) = (inside(before), inside(spot));
            if (a < 0.0) != (b < 0.0) {
                next.push(before.towards(spot, a / (a - b)));
            }
            if b >= 0.0 {
                next.push(spot);
            }
        }
        next
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_segment_is_clipped_where_it_crosses() {
        let area = Area::at(10.0, 20.0, 100.0, 50.0);
        let clipped = area.clip(Spot::new(0.0, 30.0), Spot::new(200.0, 30.0)).unwrap();
        assert!((clipped.0 - 0.05).abs() < 1e-12 && (clipped.1 - 0.55).abs() < 1e-12);
        assert_eq!(area.clip(Spot::new(0.0, 0.0), Spot::new(200.0, 10.0)), None);
        assert_eq!(area.clip(Spot::new(20.0, 30.0), Spot::new(40.0, 60.0)), Some((0.0, 1.0)));
    }

    #[test]
    fn a_shape_is_cut_at_the_edge() {
        let area = Area::at(0.0, 0.0, 10.0, 10.0);
        let diamond = [(5.0, -5.0), (15.0, 5.0), (5.0, 15.0), (-5.0, 5.0)];
        let cut = clip_shape(&diamond.map(|(x, y)| Spot::new(x, y)), &area);
        assert!(cut.len() >= 4 && cut.iter().all(|spot| area.grown(1e-9).holds(*spot)), "{cut:?}");
        assert_eq!(clip_shape(&[Spot::new(20.0, 0.0), Spot::new(30.0, 5.0)], &area), []);
    }

    #[test]
    fn touching_is_not_overlapping() {
        let a = Area::at(0.0, 0.0, 10.0, 5.0);
        assert!(!a.overlaps(&Area::at(10.0, 0.0, 4.0, 5.0)));
        assert!(a.overlaps(&Area::at(9.9, 4.0, 4.0, 5.0)));
    }
}
