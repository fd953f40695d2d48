//! How even the strides were: range, coefficient of variation, trend, means.

/// The five numbers of one set of lengths; `None` for fewer than three strides.
pub(super) fn spread_of(lengths: &[(i32, f64)]) -> Option<Spread> {
    if lengths.len() < 3 {
        return None;
    }
    let count = lengths.len() as f64;
    let mean = lengths.iter().map(|(_, length)| length).sum::<f64>() / count;
    let middle = lengths.iter().map(|(number, _)| f64::from(*number)).sum::<f64>() / count;
    let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
    let (mut squares, mut cross, mut numbers) = (0.0, 0.0, 0.0);
    for (number, length) in lengths {
        least = least.min(*length);
        most = most.max(*length);
        let step = f64::from(*number) - middle;
        squares += (length - mean).powi(2);
        cross += step * (length - mean);
        numbers += step * step;
    }
    Some(Spread {
        range: most - least,
        variation_percent: 100.0 * (squares / (count - 1.0)).sqrt() / mean,
        trend: cross / numbers,
        mean,
    })
}

/// Spread of a set of stride lengths.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Spread {
    /// Longest minus shortest, metres.
    pub range: f64,
    /// Sample standard deviation over mean, per cent.
    pub variation_percent: f64,
    /// Least-squares slope over stride number, metres a stride.
    pub trend: f64,
    /// Mean, metres.
    pub mean: f64,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spread_of_a_known_series() {
        // 3, 4, 5 m on strides −3, −2, −1: range 2, mean 4, sd 1 (25 %), slope 1 m a stride.
        let spread = spread_of(&[(-3, 3.0), (-2, 4.0), (-1, 5.0)]).unwrap();
        let expected = Spread { range: 2.0, variation_percent: 25.0, trend: 1.0, mean: 4.0 };
        assert_eq!(spread, expected);
        assert_eq!(spread_of(&[(-2, 3.5), (-1, 3.6)]), None);
    }
}
