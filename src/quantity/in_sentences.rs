//! Words with numbers in running text: how a sentence begins and ends, and which spaces of it do
//! not break, so that a number stays beside what it is of.

const NO_BREAK: char = '\u{a0}';

/// The same with a capital.
pub fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// With a capital and a full stop.
pub fn as_sentence(words: &str) -> String {
    capital(words) + "."
}

/// A number with its ± and its unit, or a few words, that no line breaks.
pub fn unbroken(words: &str) -> String {
    words.replace(' ', &NO_BREAK.to_string())
}

/// Running text whose lines break nowhere between a number, its ± and its unit.
pub fn whole_numbers(text: &str) -> String {
    const UNITS: [&str; 5] = ["m", "%", "ft", "in", "m/min"];
    let is_number = |word: &str| word.chars().any(|c| c.is_ascii_digit());
    joined(text, |before, word| {
        let bare = word.trim_end_matches(['.', ',', ';', ':', ')']);
        word == "±" || before == "±" || (is_number(before) && UNITS.contains(&bare))
    })
}

/// Running text whose lines may break before a ±, as narrow columns need, but not behind it.
pub fn whole_plus_minus(text: &str) -> String {
    joined(text, |before, word| before.ends_with('±') || word.starts_with("cm"))
}

/// Running text whose lines break behind no number, whatever is counted: "4 strides", "12 ft 3 in".
pub fn whole_counts(text: &str) -> String {
    joined(text, |before, _| before.ends_with(|c: char| c.is_ascii_digit()))
}

/// The words of `text`, those that belong to the one before them joined to it.
fn joined(text: &str, belongs: impl Fn(&str, &str) -> bool) -> String {
    let mut words = text.split(' ');
    let mut before = words.next().unwrap_or_default();
    let mut whole = before.to_owned();
    for word in words {
        whole.push(if belongs(before, word) { NO_BREAK } else { ' ' });
        whole.push_str(word);
        before = word;
    }
    whole
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sentence_begins_with_a_capital_and_ends_with_a_stop() {
        assert_eq!(as_sentence("übt noch"), "Übt noch.");
        assert_eq!([capital("4 strides"), capital("")], ["4 strides", ""]);
    }

    #[test]
    fn a_number_does_not_break_from_its_unit() {
        let seen = |text: String| text.replace(NO_BREAK, "_");
        let said = whole_numbers("grow by 0.88 ± 0.14 m from stride −4, 2 ft 3 in, over 99 % sure");
        assert_eq!(seen(said), "grow by 0.88_±_0.14_m from stride −4, 2_ft 3_in, over 99_% sure");
        let said = whole_plus_minus("stand 12 m away: ± 6 cm instead of ± 9 cm");
        assert_eq!(seen(said), "stand 12 m away: ±_6_cm instead of ±_9_cm");
        let said = whole_counts("no more than 4 strides (12 ft 3 in)");
        assert_eq!(seen(said), "no more than 4_strides (12_ft 3_in)");
        assert_eq!(seen(unbroken("take-off 1.78 ± 0.06 m")), "take-off_1.78_±_0.06_m");
    }
}
