//! The sentence at the head of a sheet: the numbers in plain words.

use crate::quantity::{Estimate, LengthUnits, Metres, Unit, written};
use crate::stride::ApproachMeasurement;

/// For example "Seven strides, 3.42 to 3.71 m; take-off 1.78 ± 0.06 m".
pub fn headline(approach: &ApproachMeasurement, units: LengthUnits) -> String {
    let mut parts = vec![strides(approach, units)];
    let edges = [("take-off", &approach.take_off), ("landing", &approach.landing)];
    // One of them is enough for a headline; landing only when there is no take-off.
    let first = edges.into_iter().find_map(|(word, edge)| Some((word, edge.as_ref()?)));
    if let Some((word, edge)) = first {
        parts.push(format!("{word} {}", written(&edge.distance_m, units)));
    }
    parts.join("; ")
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
        [only] => format!("{counted}{seen}, {}", written(only, units)),
        [shortest, .., longest] => {
            let (low, high) = (written(shortest, units), written(longest, units));
            let unit = if high.unit.is_empty() { String::new() } else { format!(" {}", high.unit) };
            if low.value == high.value {
                format!("{counted}{seen}, all {}{unit}", high.value)
            } else {
                format!("{counted}{seen}, {} to {}{unit}", low.value, high.value)
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

/// The same with a capital.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, SEVEN, Sample};

    #[test]
    fn the_sentence_says_count_range_and_take_off() {
        let mut approach = sample::approach(SEVEN);
        let metres = LengthUnits::Metres;
        assert_eq!(
            headline(&approach, metres),
            "Seven strides, 3.42 to 3.71 m; take-off 1.78 ± 0.06 m"
        );
        assert_eq!(
            headline(&approach, LengthUnits::Feet),
            "Seven strides, 11 ft 3 in to 12 ft 2 in; take-off 5 ft 10 in ± 2 in"
        );
        approach.take_off = None;
        approach.strides[3].length_m = None;
        assert_eq!(
            headline(&approach, metres),
            "Seven strides, six measured, 3.42 to 3.71 m; landing 1.64 ± 0.08 m"
        );
    }

    #[test]
    fn one_stride_none_and_many_read_well_too() {
        let metres = LengthUnits::Metres;
        let one = sample::approach(Sample { strides: 1, jump: false, all_limbs: false });
        assert_eq!(headline(&one, metres), "One stride, 3.52 ± 0.06 m");
        let many = sample::approach(Sample { strides: 15, jump: false, all_limbs: false });
        assert_eq!(headline(&many, metres), "15 strides, 3.18 to 3.71 m");
        let mut none = one.clone();
        none.strides.clear();
        assert_eq!(headline(&none, metres), "No stride was marked");
    }
}
