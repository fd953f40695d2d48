//! The middle of several values.

/// The middle value, or midway between the middle two, once sorted in place; `None` of nothing.
pub fn median(values: &mut [f64]) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let last = values.len().checked_sub(1)?;
    Some(f64::midpoint(values[last / 2], values[values.len() / 2]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_median_is_the_middle_one_or_between_the_middle_two() {
        assert_eq!(median(&mut [3.0, 1.0, 7.0]), Some(3.0));
        assert_eq!(median(&mut [4.0, 1.0, 3.0, 9.0]), Some(3.5));
        assert_eq!(median(&mut [2.0]), Some(2.0));
        assert_eq!(median(&mut []), None);
    }
}
