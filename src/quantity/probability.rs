//! How a probability is written.

/// A probability, 0 to 1, in whole per cent; never as certain: 2,000 draws cannot tell 0.999 from 1.
pub fn written_probability(probability: f64) -> String {
    if probability > 0.9949 {
        "over 99 %".to_owned()
    } else if probability < 0.0051 {
        "under 1 %".to_owned()
    } else {
        format!("{:.0} %", 100.0 * probability)
    }
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
