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
        let (a, b) = (a - from, b - to);
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
