//! Numbers that stay with their unit where a sentence is broken into lines.

/// The same with spaces that do not break between a number, its ± and its unit.
pub fn whole_numbers(text: &str) -> String {
    const UNITS: [&str; 5] = ["m", "%", "ft", "in", "m/min"];
    let is_number = |word: &str| word.chars().any(|c| c.is_ascii_digit());
    let mut whole = String::with_capacity(text.len());
    let mut before = "";
    for word in text.split(' ') {
        let bare = word.trim_end_matches(['.', ',', ';', ':', ')']);
        let belongs = word == "±" || before == "±" || (is_number(before) && UNITS.contains(&bare));
        if !whole.is_empty() {
            whole.push(if belongs { '\u{a0}' } else { ' ' });
        }
        whole.push_str(word);
        before = word;
    }
    whole
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_does_not_break_from_its_unit() {
        let said = whole_numbers("grow by 0.88 ± 0.14 m from stride −4, 2 ft 3 in, over 99 % sure");
        assert_eq!(
            said.replace('\u{a0}', "_"),
            "grow by 0.88_±_0.14_m from stride −4, 2_ft 3_in, over 99_% sure"
        );
    }
}
