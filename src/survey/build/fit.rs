//! First fits of layouts and lines to points on the ground.

use nalgebra::Vector2;

/// Rotation and shift that carry the first of each pair onto the second, least squares.
pub(super) fn rigid_fit(pairs: &[(Vector2<f64>, Vector2<f64>)]) -> (f64, Vector2<f64>) {
    if pairs.is_empty() {
        return (0.0, Vector2::zeros());
    }
    let count = pairs.len() as f64;
    let from = pairs.iter().map(|p| p.0).sum::<Vector2<f64>>() / count;
    let to = pairs.iter().map(|p| p.1).sum::<Vector2<f64>>() / count;
    let (mut sin, mut cos) = (0.0, 0.0);
    for (a, b) in pairs {
        // These add up to nothing, so that it does not matter whence the first ones count.
        let b = b - to;
        cos += a.dot(&b);
        sin += a.x * b.y - a.y * b.x;
    }
    let heading = sin.atan2(cos);
    let turned = nalgebra::Rotation2::new(heading) * from;
    (heading, to - turned)
}

/// Middle and heading of the line through points, pointing from the first to the last.
pub(super) fn line_through(points: &[Vector2<f64>]) -> (Vector2<f64>, f64) {
    let middle = points.iter().sum::<Vector2<f64>>() / points.len() as f64;
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for point in points {
        let d = point - middle;
        xx += d.x * d.x;
        xy += d.x * d.y;
        yy += d.y * d.y;
    }
    let axis = 0.5 * f64::atan2(2.0 * xy, xx - yy);
    let way = points[points.len() - 1] - points[0];
    let along = Vector2::new(axis.cos(), axis.sin()).dot(&way);
    (middle, if along < 0.0 { axis + std::f64::consts::PI } else { axis })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn turned(point: Vector2<f64>, by: f64) -> Vector2<f64> {
        let (sin, cos) = by.sin_cos();
        Vector2::new(cos * point.x - sin * point.y, sin * point.x + cos * point.y)
    }

    #[test]
    fn a_turn_and_a_shift_are_found_again() {
        let layout =
            [(0.0, 0.0), (3.0, 0.5), (7.0, -2.0), (1.0, 4.0)].map(|(x, y)| Vector2::new(x, y));
        for turn in [0.7, -2.4, 3.1] {
            let shift = Vector2::new(3.0, -2.0);
            let pairs = layout.map(|point| (point, turned(point, turn) + shift));
            let (heading, found) = rigid_fit(&pairs);
            assert!((heading - turn).abs() < 1e-12, "{heading}");
            assert!((found - shift).norm() < 1e-12, "{found}");
        }
        assert_eq!(rigid_fit(&[]), (0.0, Vector2::zeros()));
    }

    #[test]
    fn a_turn_is_the_least_squares_one() {
        // No turn near the one found lies nearer to the pairs in all, with the middles matched.
        let pairs = [((0.0, 0.0), (1.0, 1.0)), ((4.0, 0.0), (4.6, 3.1)), ((2.0, 3.0), (1.1, 4.6))]
            .map(|(a, b)| (Vector2::new(a.0, a.1), Vector2::new(b.0, b.1)));
        let (heading, shift) = rigid_fit(&pairs);
        let off = |turn: f64, shift: Vector2<f64>| -> f64 {
            pairs.iter().map(|(a, b)| (turned(*a, turn) + shift - b).norm_squared()).sum()
        };
        let least = off(heading, shift);
        for by in [-1e-3, 1e-3] {
            assert!(off(heading + by, shift) > least);
            assert!(off(heading, shift + Vector2::new(by, 0.0)) > least);
            assert!(off(heading, shift + Vector2::new(0.0, by)) > least);
        }
    }

    #[test]
    fn a_line_points_from_the_first_to_the_last() {
        // 0.2 m to the left and right of a line through (2, 5), evenly, whichever way it goes.
        for heading in [0.4f64, 2.5, -1.2, -2.9] {
            let at = |along: f64, aside: f64| {
                Vector2::new(2.0, 5.0) + turned(Vector2::new(along, aside), heading)
            };
            let points = [at(-4.0, 0.2), at(-1.0, -0.2), at(1.0, -0.2), at(4.0, 0.2)];
            let (middle, found) = line_through(&points);
            assert!((middle - Vector2::new(2.0, 5.0)).norm() < 1e-12);
            let off = (found - heading).rem_euclid(std::f64::consts::TAU);
            assert!(off.min(std::f64::consts::TAU - off) < 1e-12, "{heading}: {found}");
        }
        // Sums of squares about the middle 5, 1 and of products 1: tan 2θ = 2 · 1 / (5 − 1).
        let zigzag =
            [(0.0, 0.0), (1.0, 1.0), (2.0, 0.0), (3.0, 1.0)].map(|(x, y)| Vector2::new(x, y));
        let (_, found) = line_through(&zigzag);
        assert!(((2.0 * found).tan() - 0.5).abs() < 1e-12, "{found}");
    }
}
