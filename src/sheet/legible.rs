//! Letters that can be printed: those that no font has are stood for by a sign, and told.
//!
//! Every word of a sheet passes here on its way into `sheet.json`, so that no name, note or
//! doubt needs to be thought of. Charts hold digits and our own words only.

use std::collections::BTreeSet;

use serde_json::Value;
use typst::text::FontBook;

/// Stands for a letter that no font has (Unicode's own sign for this).
const STAND_IN: char = '\u{fffd}';

/// Replaces in all strings of `value` what `fonts` cannot print, and adds it to `missing`. Control
/// characters but line ends are dropped: no font prints them and no PDF may name them.
pub(super) fn legible(value: &mut Value, fonts: &FontBook, missing: &mut BTreeSet<char>) {
    match value {
        Value::String(text) => {
            let printable = |letter: char| {
                letter.is_ascii_graphic()
                    || is_layout(letter)
                    || (!is_unprintable(letter) && has(fonts, letter))
            };
            if !text.chars().all(printable) {
                *text = replaced(text, printable, missing);
            }
        }
        Value::Array(parts) => parts.iter_mut().for_each(|part| legible(part, fonts, missing)),
        Value::Object(parts) => {
            parts.values_mut().for_each(|part| legible(part, fonts, missing));
        }
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

fn replaced(text: &str, printable: impl Fn(char) -> bool, missing: &mut BTreeSet<char>) -> String {
    let replace = |letter: char| {
        if printable(letter) {
            return Some(letter);
        }
        if is_unprintable(letter) {
            return None;
        }
        missing.insert(letter);
        Some(STAND_IN)
    };
    text.chars().filter_map(replace).collect()
}

/// What steers machines; some fonts have a glyph for it all the same.
fn is_unprintable(letter: char) -> bool {
    letter.is_control() || letter == '\u{feff}'
}

/// Spaces, line ends, joiners, marks of direction and variation selectors: they shape other
/// letters and print nothing themselves.
fn is_layout(letter: char) -> bool {
    (letter.is_whitespace() && !matches!(letter, '\u{b}' | '\u{c}' | '\u{85}'))
        || matches!(letter, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}'
            | '\u{2060}'..='\u{2069}' | '\u{fe00}'..='\u{fe0f}' | '\u{e0020}'..='\u{e007f}'
            | '\u{e0100}'..='\u{e01ef}')
}

/// Whether any font has the letter. The embedded ones come first, so that this is quick for most.
fn has(fonts: &FontBook, letter: char) -> bool {
    let infos = (0..).map_while(|index| fonts.info(index));
    infos.into_iter().any(|info| info.coverage.contains(u32::from(letter)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::Fonts;

    fn printed(text: &str) -> (String, String) {
        let mut value = serde_json::json!({ "deep": [{ "words": text }] });
        let mut missing = BTreeSet::new();
        legible(&mut value, Fonts::embedded().book(), &mut missing);
        let words = value["deep"][0]["words"].as_str().unwrap().to_owned();
        (words, missing.into_iter().collect())
    }

    #[test]
    fn scripts_of_the_embedded_font_stay_as_they_are() {
        for text in ["Žofie Ångström", "Ίππος Θύελλα", "Жеребец Буран", "3.42 ± 0.05 m, −1"]
        {
            assert_eq!(printed(text), (text.to_owned(), String::new()));
        }
    }

    #[test]
    fn a_letter_that_no_font_has_is_stood_for_and_told_once() {
        let (words, missing) = printed("馬 Blue 馬!");
        assert_eq!(words, "\u{fffd} Blue \u{fffd}!");
        assert_eq!(missing, "馬");
        assert!(has(Fonts::embedded().book(), STAND_IN), "or the stand-in were a box itself");
    }

    #[test]
    fn what_shapes_letters_stays_and_what_controls_machines_goes() {
        let shaped = "a\u{200b}b\u{2068}c\u{2069} d\ne";
        assert_eq!(printed(shaped), (shaped.to_owned(), String::new()));
        assert_eq!(printed("a\u{7}b\u{feff}\u{0}c"), ("abc".to_owned(), String::new()));
    }
}
