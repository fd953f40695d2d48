//! The sentence at the head of a sheet: the numbers in plain words.

use crate::quantity::{Estimate, LengthUnits, Metres, Unit, capital, unbroken, written};
use crate::stride::ApproachMeasurement;

/// For example "Seven strides, 3.42 to 3.71 m; take-off 1.78 ± 0.06 m", with no-break spaces that
/// keep each number with its unit and its word.
pub fn headline(approach: &ApproachMeasurement, units: LengthUnits) -> String {
    let mut parts = vec![strides(approach, units)];
    let edges = [("take-off", &approach.take_off), ("landing", &approach.landing)];
    // One of them is enough for a headline; landing only when there is no take-off.
    let first = edges.into_iter().find_map(|(word, edge)| Some((word, edge.as_ref()?)));
    if let Some((word, edge)) = first {
        parts.push(unbroken(&format!("{word} {}", written(&edge.distance_m, units))));
    }
    parts.join(BETWEEN)
}

/// What stands between the parts of a headline.
const BETWEEN: &str = "; ";

/// The headline as the lines it falls into where it does not fit on one.
pub(super) fn headline_lines(approach: &ApproachMeasurement, units: LengthUnits) -> Vec<String> {
    let sentence = headline(approach, units);
    let count = sentence.matches(BETWEEN).count();
    let parts = sentence.split(BETWEEN).enumerate();
    parts.map(|(i, part)| format!("{part}{}", if i < count { ";" } else { "" })).collect()
}

fn strides(approach: &ApproachMeasurement, units: LengthUnits) -> String {
    let count = approach.strides.len();
    let mut lengths: Vec<&Estimate<Metres>> =
        approach.strides.iter().filter_map(|row| row.length_m.as_ref()).collect();
    lengths.sort_by(|a, b| a.value.get().total_cmp(&b.value.get()));
    let noun = if count == 1 { "stride" } else { "strides" };
    let counted = capital(&format!("{} {noun}", in_words(count)));
    let seen = if lengths.len() == count {
        String::new()
    } else {
        format!(", {} measured", in_words(lengths.len()))
    };
    match lengths[..] {
        [] if count == 0 => "No stride was marked".to_owned(),
        [] => format!("{counted}, none measured"),
        [only] => format!("{counted}{seen}, {}", unbroken(&written(only, units).to_string())),
        [shortest, .., longest] => {
            let (low, high) = (written(shortest, units), written(longest, units));
            let longest = format!("{}{}", high.value, high.unit_behind());
            if low.value == high.value {
                format!("{counted}{seen}, all {}", unbroken(&longest))
            } else {
                format!("{counted}{seen}, {}", unbroken(&format!("{} to {longest}", low.value)))
            }
        }
    }
}

/// Numbers up to twelve in words, as in running text.
pub(super) fn in_words(count: usize) -> String {
    const WORDS: [&str; 13] = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
        "eleven", "twelve",
    ];
    WORDS.get(count).map_or_else(|| count.to_string(), |word| (*word).to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, SEVEN, Sample};

    fn said(approach: &ApproachMeasurement, units: LengthUnits) -> String {
        headline(approach, units).replace('\u{a0}', " ")
    }

    #[test]
    fn the_sentence_says_count_range_and_take_off() {
        let mut approach = sample::approach(SEVEN);
        let metres = LengthUnits::Metres;
        assert_eq!(
            said(&approach, metres),
            "Seven strides, 3.42 to 3.71 m; take-off 1.78 ± 0.06 m"
        );
        assert_eq!(
            said(&approach, LengthUnits::Feet),
            "Seven strides, 11 ft 3 in to 12 ft 2 in; take-off 5 ft 10 in ± 2 in"
        );
        approach.take_off = None;
        approach.strides[3].length_m = None;
        assert_eq!(
            said(&approach, metres),
            "Seven strides, six measured, 3.42 to 3.71 m; landing 1.64 ± 0.08 m"
        );
    }

    #[test]
    fn a_number_stays_with_its_unit_and_its_word() {
        let approach = sample::approach(SEVEN);
        for units in [LengthUnits::Metres, LengthUnits::Feet] {
            let lines = headline_lines(&approach, units);
            assert_eq!(lines.len(), 2);
            assert!(lines[0].ends_with(';') && !lines[1].contains(' '), "{lines:?}");
            assert_eq!(lines.join(" "), headline(&approach, units));
        }
    }

    #[test]
    fn one_stride_none_and_many_read_well_too() {
        let metres = LengthUnits::Metres;
        let one = sample::approach(Sample { strides: 1, jump: false, all_limbs: false });
        assert_eq!(said(&one, metres), "One stride, 3.52 ± 0.06 m");
        let many = sample::approach(Sample { strides: 15, jump: false, all_limbs: false });
        assert_eq!(said(&many, metres), "15 strides, 3.18 to 3.71 m");
        let mut none = one.clone();
        none.strides.clear();
        assert_eq!(said(&none, metres), "No stride was marked");
    }
}
