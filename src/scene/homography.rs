//! The textbook map between picture and ground plane, kept as a starting point and a yardstick.
//!
//! The survey never measures with it (at a real distance it is several times worse than the
//! camera model); it starts the camera's pose, and accuracy tables set its error beside ours.

use nalgebra::{DMatrix, Matrix3, Vector3};

use super::point::{FramePoint, GroundPoint};

/// Maps picture points to ground points and back.
#[derive(Clone, Copy, Debug)]
pub struct GroundHomography {
    ground_from_frame: Matrix3<f64>,
    frame_from_ground: Matrix3<f64>,
}

/// Why no homography fits.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum HomographyError {
    /// Four points are the least.
    #[error("cannot map the picture to the ground: {given} points were given (4 needed)")]
    TooFew {
        /// How many there were.
        given: usize,
    },
    /// Too many points on one line.
    #[error("cannot map the picture to the ground: the points lie on one line or coincide")]
    Degenerate,
}

impl GroundHomography {
    /// Normalised direct linear transform over all pairs (Hartley & Zisserman 2004, alg. 4.2).
    pub fn fit(pairs: &[(FramePoint, GroundPoint)]) -> Result<Self, HomographyError> {
        if pairs.len() < 4 {
            return Err(HomographyError::TooFew { given: pairs.len() });
        }
        let frame: Vec<_> = pairs.iter().map(|(f, _)| (f.x, f.y)).collect();
        let ground: Vec<_> = pairs.iter().map(|(_, g)| (g.x, g.y)).collect();
        let norm_frame = normaliser(&frame);
        let norm_ground = normaliser(&ground);
        let mut rows = DMatrix::zeros((2 * pairs.len()).max(9), 9);
        for (i, (f, g)) in frame.iter().zip(&ground).enumerate() {
            let f = norm_frame * Vector3::new(f.0, f.1, 1.0);
            let g = norm_ground * Vector3::new(g.0, g.1, 1.0);
            for (j, (sign, row)) in [(g.x, 0), (g.y, 1)].into_iter().enumerate() {
                for k in 0..3 {
                    rows[(2 * i + j, 3 * row + k)] = f[k];
                    rows[(2 * i + j, 6 + k)] = -sign * f[k];
                }
            }
        }
        let svd = rows.svd(false, true);
        let v_t = svd.v_t.ok_or(HomographyError::Degenerate)?;
        let mut order: Vec<usize> = (0..9).collect();
        order.sort_by(|&a, &b| svd.singular_values[a].total_cmp(&svd.singular_values[b]));
        if svd.singular_values[order[1]] < 1e-9 * svd.singular_values[order[8]] {
            return Err(HomographyError::Degenerate);
        }
        let h = v_t.row(order[0]);
        let fitted = Matrix3::from_fn(|r, c| h[3 * r + c]);
        let undo_ground = norm_ground.try_inverse().ok_or(HomographyError::Degenerate)?;
        let ground_from_frame = undo_ground * fitted * norm_frame;
        let frame_from_ground =
            ground_from_frame.try_inverse().ok_or(HomographyError::Degenerate)?;
        Ok(Self { ground_from_frame, frame_from_ground })
    }

    /// The ground point under a picture point.
    pub fn ground_from_frame(&self, point: FramePoint) -> GroundPoint {
        let g = self.ground_from_frame * Vector3::new(point.x, point.y, 1.0);
        GroundPoint::new(g.x / g.z, g.y / g.z)
    }

    /// The picture of a ground point.
    pub fn frame_from_ground(&self, point: GroundPoint) -> FramePoint {
        let f = self.frame_from_ground * Vector3::new(point.x, point.y, 1.0);
        FramePoint::new(f.x / f.z, f.y / f.z)
    }
}

/// Moves points to their centroid and scales their mean distance from it to √2.
fn normaliser(points: &[(f64, f64)]) -> Matrix3<f64> {
    let count = points.len() as f64;
    let (sx, sy) = points.iter().fold((0.0, 0.0), |(x, y), p| (x + p.0, y + p.1));
    let (mx, my) = (sx / count, sy / count);
    let spread = points.iter().map(|p| (p.0 - mx).hypot(p.1 - my)).sum::<f64>() / count;
    let scale = std::f64::consts::SQRT_2 / spread.max(f64::MIN_POSITIVE);
    Matrix3::new(scale, 0.0, -scale * mx, 0.0, scale, -scale * my, 0.0, 0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn four_corners_map_exactly_and_back() {
        let pairs = [
            (FramePoint::new(100.0, 700.0), GroundPoint::new(0.0, 0.0)),
            (FramePoint::new(900.0, 720.0), GroundPoint::new(9.0, 0.0)),
            (FramePoint::new(850.0, 500.0), GroundPoint::new(9.0, 3.5)),
            (FramePoint::new(210.0, 490.0), GroundPoint::new(0.0, 3.5)),
        ];
        let map = GroundHomography::fit(&pairs).unwrap();
        for (frame, ground) in pairs {
            assert!(map.ground_from_frame(frame).distance(ground) < 1e-9);
            assert!(map.frame_from_ground(ground).distance(frame) < 1e-7);
        }
    }

    #[test]
    fn points_are_moved_to_their_middle_and_scaled_to_root_two() {
        let points = [(10.0, 3.0), (14.0, 3.0), (10.0, 9.0), (18.0, 25.0), (-2.0, 0.0)];
        let normal = normaliser(&points);
        let moved: Vec<Vector3<f64>> =
            points.iter().map(|(x, y)| normal * Vector3::new(*x, *y, 1.0)).collect();
        let middle: Vector3<f64> = moved.iter().sum::<Vector3<f64>>() / 5.0;
        assert!(middle.xy().norm() < 1e-12 && (middle.z - 1.0).abs() < 1e-12, "{middle}");
        let mean = moved.iter().map(|point| point.xy().norm()).sum::<f64>() / 5.0;
        assert!((mean - std::f64::consts::SQRT_2).abs() < 1e-12, "{mean}");
    }

    #[test]
    fn points_on_one_line_are_refused() {
        let pairs: Vec<_> = (0..5)
            .map(|i| {
                let x = f64::from(i);
                (FramePoint::new(10.0 * x, 7.0 * x), GroundPoint::new(x, 0.0))
            })
            .collect();
        assert_eq!(GroundHomography::fit(&pairs).unwrap_err(), HomographyError::Degenerate);
        assert_eq!(
            GroundHomography::fit(&pairs[..3]).unwrap_err(),
            HomographyError::TooFew { given: 3 }
        );
    }
}
