//! Who rode which horse, left off what is handed out.

use super::round::Round;

impl Round {
    /// `text` with "the rider" and "the horse" where the round's names stand, in full or in part.
    pub fn without_names(&self, text: &str) -> String {
        let without_horse = without_name(text, &self.horse, "the horse");
        without_name(&without_horse, &self.rider, "the rider")
    }
}

/// Replaces a name, in full and each part of it that stands as a word of its own.
fn without_name(text: &str, name: &str, instead: &str) -> String {
    let name = name.trim();
    if name.is_empty() {
        return text.to_owned();
    }
    let mut left = replace_words(text, name, instead);
    for part in name.split_whitespace().filter(|part| part.chars().count() >= 3) {
        // Only parts written like a name: "of" and "the" stay.
        if part.chars().next().is_some_and(|first| !first.is_lowercase()) {
            left = replace_words(&left, part, instead);
        }
    }
    left
}

fn replace_words(text: &str, word: &str, instead: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(word) {
        let (before, after) = (&rest[..at], &rest[at + word.len()..]);
        let ends = |c: Option<char>| !c.is_some_and(char::is_alphanumeric);
        let preceding = before.chars().next_back().or_else(|| out.chars().next_back());
        let whole = ends(preceding) && ends(after.chars().next());
        out.push_str(before);
        out.push_str(if whole { instead } else { word });
        rest = after;
    }
    out.push_str(rest);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_go_in_full_and_in_parts_but_not_inside_words() {
        let text = "Maren Holt waited; Maren's hand was quiet. Holt! Holtville stays.";
        assert_eq!(
            without_name(text, "Maren Holt", "the rider"),
            "the rider waited; the rider's hand was quiet. the rider! Holtville stays."
        );
        assert_eq!(
            without_name("the best of days", "Best of Days", "the horse"),
            "the best of days"
        );
        assert_eq!(without_name("plain", "  ", "the horse"), "plain");
    }
}
