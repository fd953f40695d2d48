//! A smooth curve through values at times that never overshoots them.
//!
//! Monotone piecewise cubic (Fritsch & Carlson 1980; slopes by the harmonic mean, as Fritsch &
//! Butland 1984): a horse's way along its track must not run backwards between two strides.

/// Values at increasing times, with slopes.
#[derive(Clone, Debug)]
pub(super) struct Curve {
    times: Vec<f64>,
    values: Vec<f64>,
    slopes: Vec<f64>,
}

impl Curve {
    /// Through `knots` (time, value) in the order of time. Knots closer than a microsecond to
    /// their predecessor are dropped; at least one is needed (none gives the zero curve).
    pub(super) fn through(knots: impl IntoIterator<Item = (f64, f64)>) -> Self {
        let (mut times, mut values): (Vec<f64>, Vec<f64>) = (Vec::new(), Vec::new());
        for (time, value) in knots {
            if times.last().is_none_or(|last| time > last + 1e-6) {
                times.push(time);
                values.push(value);
            }
        }
        if times.is_empty() {
            (times, values) = (vec![0.0], vec![0.0]);
        }
        let secants: Vec<f64> = (1..times.len())
            .map(|i| (values[i] - values[i - 1]) / (times[i] - times[i - 1]))
            .collect();
        let slopes = (0..times.len())
            .map(|i| match (i.checked_sub(1).and_then(|j| secants.get(j)), secants.get(i)) {
                (Some(&before), Some(&after)) if before * after > 0.0 => {
                    2.0 * before * after / (before + after)
                }
                (Some(_), Some(_)) | (None, None) => 0.0,
                (Some(&only), None) | (None, Some(&only)) => only,
            })
            .collect();
        Self { times, values, slopes }
    }

    /// The value at `time`; straight on beyond the ends.
    pub(super) fn at(&self, time: f64) -> f64 {
        let last = self.times.len() - 1;
        if time <= self.times[0] {
            return self.values[0] + self.slopes[0] * (time - self.times[0]);
        }
        if time >= self.times[last] {
            return self.values[last] + self.slopes[last] * (time - self.times[last]);
        }
        let i = self.times.partition_point(|&t| t <= time) - 1;
        let width = self.times[i + 1] - self.times[i];
        let u = (time - self.times[i]) / width;
        let (u2, u3) = (u * u, u * u * u);
        self.values[i] * (2.0 * u3 - 3.0 * u2 + 1.0)
            + self.slopes[i] * width * (u3 - 2.0 * u2 + u)
            + self.values[i + 1] * (3.0 * u2 - 2.0 * u3)
            + self.slopes[i + 1] * width * (u3 - u2)
    }

    /// Rate of change at `time`.
    pub(super) fn rate(&self, time: f64) -> f64 {
        let step = 1e-4;
        (self.at(time + step) - self.at(time - step)) / (2.0 * step)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_passes_its_knots_and_never_turns_back() {
        let curve = Curve::through([(0.0, 0.0), (0.6, 3.5), (1.2, 6.0), (1.8, 9.9)]);
        for (time, value) in [(0.0, 0.0), (0.6, 3.5), (1.2, 6.0), (1.8, 9.9)] {
            assert!((curve.at(time) - value).abs() < 1e-12);
        }
        assert!((0..200).all(|i| curve.rate(f64::from(i) * 0.01) > 0.0));
    }
}
