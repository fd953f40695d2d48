//! How a probability is written.

/// A probability in whole per cent; never as certain: 2,000 draws cannot tell 0.999 from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WrittenProbability {
    /// Over 99 %.
    Over99,
    /// Under 1 %.
    Under1,
    /// In between.
    Percent(u8),
}

impl WrittenProbability {
    /// Of a probability, 0 to 1.
    pub fn of(probability: f64) -> Self {
        // The bounds lie a little inside half a per cent, so that 1 − 0.995 is told as 0.005 is.
        if probability > 0.9949 {
            Self::Over99
        } else if probability < 0.0051 {
            Self::Under1
        } else {
            Self::Percent((100.0 * probability).round_ties_even() as u8)
        }
    }
}

impl std::fmt::Display for WrittenProbability {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Over99 => out.write_str("over 99 %"),
            Self::Under1 => out.write_str("under 1 %"),
            Self::Percent(percent) => write!(out, "{percent} %"),
        }
    }
}

/// A probability, 0 to 1, in English.
pub fn written_probability(probability: f64) -> String {
    WrittenProbability::of(probability).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_certain() {
        let all = [1.0, 0.995, 0.994, 0.5, 0.006, 0.005, 0.0].map(written_probability);
        let said = ["over 99 %", "over 99 %", "99 %", "50 %", "1 %", "under 1 %", "under 1 %"];
        assert_eq!(all, said);
    }
}
