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
    breakable(&input.round.without_names(text))
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
    fn long_strings_can_break() {
        let broken = breakable(&"x".repeat(60));
        assert_eq!(broken.matches('\u{200b}').count(), 2);
        assert_eq!(breakable("two words"), "two words");
    }
}
