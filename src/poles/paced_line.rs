//! Lines by walked paces: two to land, two to take off, four for each stride between.

/// Walked paces of a line: 4 n + 4 (R2, R11).
pub fn walked_paces_of_line(strides: u32) -> u32 {
    4 * strides + 4
}

/// Strides that fit a line of so many walked paces: the inverse, (paces − 4) / 4. Whole when the
/// line is built for whole strides; below 0 where not even landing and take-off fit.
pub fn strides_of_walked(walked_paces: f64) -> f64 {
    (walked_paces - 4.0) / 4.0
}

/// The same line walked on a curve: one pace fewer (R11, printed for five strides: about 23
/// instead of 24).
pub fn walked_on_a_curve(strides: u32) -> u32 {
    walked_paces_of_line(strides) - 1
}
