//! What people wrote, made fit to print: names left off when asked, long unbroken strings given
//! places to break.

use super::input::SheetInput;
use crate::draw::{Names, Weight, width_of};

/// A run of letters longer than this gets places to break; no word of a language is.
const LONGEST_RUN: usize = 28;

/// `text` as it may be printed on this sheet.
pub(super) fn printable(input: &SheetInput, text: &str) -> String {
    let text = text.trim();
    if input.names == Names::Shown {
        return breakable(text);
    }
    let round = input.round;
    let without_horse = without_name(text, &round.horse, "the horse");
    breakable(&without_name(&without_horse, &round.rider, "the rider"))
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

/// The same text with zero-width spaces inside strings too long for a column.
pub(super) fn breakable(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut run = 0;
    for letter in text.chars() {
        run = if letter.is_whitespace() { 0 } else { run + 1 };
        if run > LONGEST_RUN {
            out.push('\u{200b}');
            run = 1;
        }
        out.push(letter);
    }
    out
}

/// The same with zero-width spaces inside every word wider than `room` at that size.
pub(super) fn breakable_to(text: &str, room: f64, size: f64, weight: Weight) -> String {
    let mut out = String::with_capacity(text.len());
    let mut across = 0.0;
    for letter in text.chars() {
        if letter.is_whitespace() || letter == '\u{200b}' {
            across = 0.0;
        } else {
            let wide = width_of(letter.encode_utf8(&mut [0; 4]), size, weight);
            if across > 0.0 && across + wide > room {
                out.push('\u{200b}');
                across = 0.0;
            }
            across += wide;
        }
        out.push(letter);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_word_is_wider_than_its_column() {
        let name = "Wilhelmina-Wilhelmine MMMMMMMMMMMMMMMMMMMMMMMMMMMM of the Marsh";
        for (room, size) in [(160.0, 9.6), (170.0, 6.6), (40.0, 8.0)] {
            let broken = breakable_to(name, room, size, Weight::Bold);
            let words = broken.split(|c: char| c.is_whitespace() || c == '\u{200b}');
            for word in words {
                assert!(width_of(word, size, Weight::Bold) <= room, "{word} in {room}");
            }
            assert_eq!(broken.replace('\u{200b}', ""), name);
        }
    }

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

    #[test]
    fn long_strings_can_break() {
        let broken = breakable(&"x".repeat(60));
        assert_eq!(broken.matches('\u{200b}').count(), 2);
        assert_eq!(breakable("two words"), "two words");
    }
}
