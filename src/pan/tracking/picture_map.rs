//! Maps from one picture to another: what a turning camera does to things far away or flat.

use nalgebra::{Matrix2, Matrix3, SMatrix, SVector, Vector3};

use crate::scene::{FramePoint, PictureSize};

/// A homography between two pictures, pixels to pixels. Scaled to a determinant of one, so that
/// for a pure turn the third coordinate is the depth over the focal length, and what lies behind
/// the camera is known by its sign.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct PictureMap {
    matrix: Matrix3<f64>,
}

/// A pair of places, `from` and `to`, and how much it counts.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair {
    pub(super) from: FramePoint,
    pub(super) to: FramePoint,
}

impl PictureMap {
    /// Nothing moves.
    pub(super) fn identity() -> Self {
        Self { matrix: Matrix3::identity() }
    }

    /// From any invertible matrix of pixel coordinates.
    pub(super) fn of(matrix: Matrix3<f64>) -> Option<Self> {
        let scale = matrix.determinant().cbrt();
        let usable = scale.is_finite() && scale.abs() > 1e-12;
        usable.then(|| Self { matrix: matrix / scale })
    }

    /// `self` after `first`.
    pub(super) fn after(&self, first: &Self) -> Self {
        let matrix = self.matrix * first.matrix;
        Self::of(matrix).unwrap_or(*self)
    }

    /// The way back.
    pub(super) fn inverse(&self) -> Self {
        let back = self.matrix.try_inverse().and_then(Self::of);
        back.unwrap_or_else(Self::identity)
    }

    /// The matrix, pixels to pixels, determinant one.
    pub(super) fn matrix(&self) -> &Matrix3<f64> {
        &self.matrix
    }

    /// Where a place goes; `None` when behind the camera.
    pub(super) fn apply(&self, point: FramePoint) -> Option<FramePoint> {
        let p = self.matrix * Vector3::new(point.x, point.y, 1.0);
        (p.z > 1e-6).then(|| FramePoint::new(p.x / p.z, p.y / p.z))
    }

    /// How a small surrounding of `point` is stretched: the derivative of [`Self::apply`].
    pub(super) fn stretch(&self, point: FramePoint) -> Matrix2<f64> {
        let m = &self.matrix;
        let p = m * Vector3::new(point.x, point.y, 1.0);
        let (x, y) = (p.x / p.z, p.y / p.z);
        Matrix2::new(m.m11 - x * m.m31, m.m12 - x * m.m32, m.m21 - y * m.m31, m.m22 - y * m.m32)
            / p.z
    }

    /// Distance from where a pair's first place goes to its second, pixels; infinite behind the
    /// camera.
    pub(super) fn misses(&self, pair: &Pair) -> f64 {
        self.apply(pair.from).map_or(f64::INFINITY, |to| to.distance(pair.to))
    }

    /// Weighted least squares through at least four pairs, in coordinates about the middle of the
    /// picture (Hartley & Zisserman 2004, section 4.1, with the last entry set to one: pictures of
    /// one clip that overlap never send the middle to infinity).
    pub(super) fn fit<'a>(
        pairs: impl Iterator<Item = (&'a Pair, f64)>,
        size: PictureSize,
    ) -> Option<Self> {
        let centre = size.centre();
        let scale = f64::from(size.width) / 2.0;
        let mut normal = SMatrix::<f64, 8, 8>::zeros();
        let mut right = SVector::<f64, 8>::zeros();
        for (pair, weight) in pairs {
            let (x, y) = ((pair.from.x - centre.x) / scale, (pair.from.y - centre.y) / scale);
            let (u, v) = ((pair.to.x - centre.x) / scale, (pair.to.y - centre.y) / scale);
            let rows = [
                (SVector::from([x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y]), u),
                (SVector::from([0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y]), v),
            ];
            for (row, value) in rows {
                normal.syger(weight, &row, &row, 1.0);
                right += weight * value * row;
            }
        }
        normal.fill_upper_triangle_with_lower_triangle();
        let h = normal.cholesky()?.solve(&right);
        let about = Matrix3::new(h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], 1.0);
        let to_middle = Matrix3::new(
            1.0 / scale,
            0.0,
            -centre.x / scale,
            0.0,
            1.0 / scale,
            -centre.y / scale,
            0.0,
            0.0,
            1.0,
        );
        let from_middle = Matrix3::new(scale, 0.0, centre.x, 0.0, scale, centre.y, 0.0, 0.0, 1.0);
        Self::of(from_middle * about * to_middle)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn turned() -> PictureMap {
        PictureMap::of(Matrix3::new(1.02, -0.03, 40.0, 0.01, 0.99, -7.0, 4e-5, -2e-5, 1.0)).unwrap()
    }

    #[test]
    fn pairs_give_their_map_back() {
        let size = PictureSize { width: 640, height: 360 };
        let map = turned();
        let pairs: Vec<Pair> =
            [(10.0, 20.0), (600.0, 40.0), (580.0, 330.0), (30.0, 300.0), (300.0, 170.0)]
                .map(|(x, y)| FramePoint::new(x, y))
                .map(|from| Pair { from, to: map.apply(from).unwrap() })
                .to_vec();
        for count in [4, 5] {
            let found = PictureMap::fit(pairs[..count].iter().map(|p| (p, 1.0)), size).unwrap();
            assert!(pairs.iter().all(|pair| found.misses(pair) < 1e-6));
        }
        let line: Vec<Pair> = (0..6)
            .map(|i| FramePoint::new(f64::from(i), 2.0 * f64::from(i)))
            .map(|from| Pair { from, to: from })
            .collect();
        assert!(PictureMap::fit(line.iter().map(|p| (p, 1.0)), size).is_none());
    }

    #[test]
    fn the_stretch_is_the_derivative() {
        let (map, at) = (turned(), FramePoint::new(123.0, 77.0));
        let step = 1e-4;
        let stretch = map.stretch(at);
        for (axis, moved) in
            [(0, FramePoint::new(123.0 + step, 77.0)), (1, FramePoint::new(123.0, 77.0 + step))]
        {
            let change =
                (map.apply(moved).unwrap().vector() - map.apply(at).unwrap().vector()) / step;
            assert!((change - stretch.column(axis)).norm() < 1e-6);
        }
        let there_and_back = map.inverse().after(&map);
        assert!(there_and_back.apply(at).unwrap().distance(at) < 1e-9);
    }

    #[test]
    fn what_lies_behind_the_camera_has_no_place() {
        // A turn by 100° about the upright axis, focal length 500, centre (320, 180).
        let k = Matrix3::new(500.0, 0.0, 320.0, 0.0, 500.0, 180.0, 0.0, 0.0, 1.0);
        let turn = nalgebra::Rotation3::from_axis_angle(&Vector3::y_axis(), 1.75);
        let map = PictureMap::of(k * turn.matrix() * k.try_inverse().unwrap()).unwrap();
        assert_eq!(map.apply(FramePoint::new(320.0, 180.0)), None);
        assert!(map.apply(FramePoint::new(-2000.0, 180.0)).is_some());
    }
}
