//! A blurred step from 0 to 1.

/// The share of the light that a point `distance` inside an edge gets, the edge being blurred by
/// a bell curve of standard deviation `blur`.
pub(super) fn step(distance: f64, blur: f64) -> f64 {
    let z = distance / blur;
    if z > 4.0 {
        1.0
    } else if z < -4.0 {
        0.0
    } else {
        0.5 * (1.0 + libm::erf(z * std::f64::consts::FRAC_1_SQRT_2))
    }
}
