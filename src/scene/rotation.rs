//! Small helpers of rotation algebra that nalgebra does not name.

use nalgebra::{Matrix3, Rotation3, UnitQuaternion, Vector3};

/// The matrix that turns a vector into its cross product with `v`: `skew(v) * u = v × u`.
pub fn skew(v: Vector3<f64>) -> Matrix3<f64> {
    Matrix3::new(0.0, -v.z, v.y, v.z, 0.0, -v.x, -v.y, v.x, 0.0)
}

/// The vector along a rotation's axis whose length is its angle: `Rotation3::new` undoes it.
///
/// By way of the quaternion: the matrix itself tells no axis at half a turn (a camera that looks
/// square across from the left), and its trace no angle near nil.
pub fn rotation_vector(turn: &Rotation3<f64>) -> Vector3<f64> {
    UnitQuaternion::from_rotation_matrix(turn).scaled_axis()
}

/// Left Jacobian of the rotation group: `exp(w + d) ≈ exp(J(w) d) exp(w)`.
/// Source: Barfoot, State Estimation for Robotics, eq. 7.77a (from memory).
pub fn left_jacobian(w: Vector3<f64>) -> Matrix3<f64> {
    let angle = w.norm();
    let cross = skew(w);
    if angle < 1e-8 {
        return Matrix3::identity() + 0.5 * cross;
    }
    let a = (1.0 - angle.cos()) / angle.powi(2);
    let b = (angle - angle.sin()) / angle.powi(3);
    Matrix3::identity() + a * cross + b * cross * cross
}

/// The rotation that best carries each `from` direction onto its `to` direction (Kabsch, least
/// squares). `None` for fewer than two directions or when all lie along one line.
pub fn rotation_between_directions(
    pairs: &[(Vector3<f64>, Vector3<f64>)],
) -> Option<Rotation3<f64>> {
    if pairs.len() < 2 {
        return None;
    }
    let mut sum = Matrix3::zeros();
    for (from, to) in pairs {
        sum += to.normalize() * from.normalize().transpose();
    }
    let svd = sum.svd(true, true);
    let (u, v_t) = (svd.u?, svd.v_t?);
    let second = {
        let mut values: Vec<f64> = svd.singular_values.iter().copied().collect();
        values.sort_by(f64::total_cmp);
        values[1]
    };
    if second < 1e-9 * pairs.len() as f64 {
        return None;
    }
    let mut flip = Matrix3::identity();
    if (u * v_t).determinant() < 0.0 {
        // The reflection goes to the direction the data constrain least.
        let least = svd.singular_values.imin();
        flip[(least, least)] = -1.0;
    }
    Some(Rotation3::from_matrix_unchecked(u * flip * v_t))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_skew_matrix_is_the_cross_product() {
        let (a, b) = (Vector3::new(1.0, -2.0, 3.0), Vector3::new(0.5, 4.0, -1.0));
        assert_eq!(skew(a) * b, a.cross(&b));
    }

    /// The turn of a small rotation, from its skew part: its angle's cosine has no digits left.
    fn small(turn: Rotation3<f64>) -> Vector3<f64> {
        let m = turn.matrix();
        Vector3::new(m.m32 - m.m23, m.m13 - m.m31, m.m21 - m.m12) / 2.0
    }

    #[test]
    fn the_left_jacobian_is_how_a_turn_grows() {
        for turn in [Vector3::new(0.3, -0.8, 0.5), Vector3::new(1e-10, 0.0, 2e-10)] {
            for axis in 0..3 {
                let mut step = Vector3::zeros();
                step[axis] = 1e-6;
                let ahead = Rotation3::new(turn + step) * Rotation3::new(turn).inverse();
                let behind = Rotation3::new(turn - step) * Rotation3::new(turn).inverse();
                let found = (small(ahead) - small(behind)) / 2e-6;
                let off = (found - left_jacobian(turn).column(axis)).norm();
                assert!(off < 1e-8, "{turn} {axis}: {off}");
            }
        }
    }

    #[test]
    fn a_rotation_is_that_of_its_vector_even_at_half_a_turn() {
        let half = std::f64::consts::PI;
        for (axis, angle) in [
            (Vector3::new(0.0, 0.6, 0.8), half),
            (Vector3::x(), half),
            (Vector3::new(-0.6, 0.0, 0.8), half - 1e-9),
            (Vector3::new(0.48, 0.6, 0.64), 2.0),
            (Vector3::y(), 1e-9),
            (Vector3::y(), 0.0),
        ] {
            let turn = Rotation3::new(axis * angle);
            let vector = rotation_vector(&turn);
            assert!((vector.norm() - angle).abs() < 1e-9, "{vector}");
            assert!((Rotation3::new(vector).matrix() - turn.matrix()).norm() < 1e-14);
        }
    }

    #[test]
    fn left_and_right_jacobian_are_transposed_and_differ_by_the_turn() {
        // With the right one, J(−w) = J(w)ᵀ, the left one is exp(w) J(w)ᵀ (Barfoot, State Estimation
        // for Robotics, section 7.1.5, from memory); both leave their own axis alone.
        for turn in [Vector3::new(0.3, -0.8, 0.5), Vector3::new(6e-9, -2e-9, 3e-9)] {
            let (left, right) = (left_jacobian(turn), left_jacobian(-turn));
            assert!((right - left.transpose()).norm() < 1e-14);
            assert!((left - Rotation3::new(turn) * right).norm() < 1e-14);
            assert!((left * turn - turn).norm() < 1e-15);
        }
    }

    #[test]
    fn a_turn_is_found_from_two_directions_or_more_whatever_their_length() {
        let turn = Rotation3::new(Vector3::new(0.4, -1.1, 2.0));
        let from = [
            Vector3::new(1.0, 0.2, 0.0),
            Vector3::new(0.0, 3.0, 0.5),
            Vector3::new(-0.3, 0.4, 2.0),
        ];
        let pairs: Vec<_> = from.iter().map(|from| (*from, turn * from * 7.0)).collect();
        for count in [2, 3] {
            let found = rotation_between_directions(&pairs[..count]).unwrap();
            assert!((found.matrix() - turn.matrix()).norm() < 1e-9, "{count}");
        }
        assert!(rotation_between_directions(&pairs[..1]).is_none());
        assert!(rotation_between_directions(&[]).is_none());
    }

    #[test]
    fn directions_along_one_line_leave_the_turn_open() {
        let along = Vector3::new(0.3, -0.2, 0.9);
        let pairs = [(along, Vector3::x()), (2.0 * along, Vector3::x()), (-along, -Vector3::x())];
        assert!(rotation_between_directions(&pairs).is_none());
    }

    #[test]
    fn directions_that_fit_only_a_mirror_give_a_turn_all_the_same() {
        let pairs = [
            (Vector3::x(), Vector3::x()),
            (Vector3::y(), Vector3::y()),
            (Vector3::z(), -Vector3::z()),
        ];
        let found = rotation_between_directions(&pairs).unwrap();
        assert!((found.matrix().determinant() - 1.0).abs() < 1e-12);
    }
}
