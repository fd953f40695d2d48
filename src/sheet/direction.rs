//! Scripts that run from the right, beside English that does not.

use serde::Serialize;
use unicode_bidi::{BidiClass, bidi_class};

/// A paragraph and the side it begins at.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct Words {
    text: String,
    from_right: bool,
}

impl Words {
    /// Begins where its first letter does (UAX #9, rules P2 and P3).
    pub fn new(text: impl Into<String>) -> Self {
        let text = text.into();
        let first = text
            .chars()
            .map(bidi_class)
            .find(|class| matches!(class, BidiClass::L | BidiClass::R | BidiClass::AL));
        Self { from_right: first.is_some_and(|class| class != BidiClass::L), text }
    }
}

/// `text` as part of a longer line: where it holds letters that run from the right it is set apart
/// (first strong isolate, UAX #9), or it would turn round the dates and signs beside it.
pub(super) fn set_apart(text: &str) -> String {
    let runs_from_right = |c| matches!(bidi_class(c), BidiClass::R | BidiClass::AL);
    if text.chars().any(runs_from_right) {
        format!("\u{2068}{text}\u{2069}")
    } else {
        text.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_paragraph_begins_where_its_first_letter_does() {
        for (text, from_right) in [
            ("Keep the canter", false),
            ("3.42 ± 0.05 m", false),
            ("«שמור על הקצב»", true),
            ("12. حافظ على الإيقاع", true),
            ("Stride −1: שמור", false),
            ("", false),
        ] {
            assert_eq!(Words::new(text).from_right, from_right, "{text}");
        }
    }

    #[test]
    fn only_what_runs_from_the_right_is_set_apart() {
        assert_eq!(set_apart("Blue oxer"), "Blue oxer");
        assert_eq!(set_apart("סופה"), "\u{2068}סופה\u{2069}");
    }
}
