//! Small helpers of rotation algebra that nalgebra does not name.

use nalgebra::{Matrix3, Rotation3, Vector3};

/// The matrix that turns a vector into its cross product with `v`: `skew(v) * u = v × u`.
pub fn skew(v: Vector3<f64>) -> Matrix3<f64> {
    Matrix3::new(0.0, -v.z, v.y, v.z, 0.0, -v.x, -v.y, v.x, 0.0)
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
