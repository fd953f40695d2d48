//! Words that a spreadsheet would take for a formula.

/// What a formula can begin with, in some spreadsheet; the wide forms are those of East Asian
/// keyboards, and the blanks are skipped before a formula.
const BEGINNINGS: [char; 11] = ['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];

/// Whether some spreadsheet may take `words` for a formula.
pub(super) fn looks_like_formula(words: &str) -> bool {
    words.starts_with(BEGINNINGS)
}

/// `words` as a CSV cell holds them: an apostrophe stands before what could be taken for a formula,
/// and before what begins with an apostrophe, so that taking one away always gives the words back.
///
/// CSV has no types, so nothing but the words themselves can say that they are words.
pub(super) fn guarded(words: &str) -> String {
    if looks_like_formula(words) || words.starts_with('\'') {
        format!("'{words}")
    } else {
        words.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_guard_can_be_taken_away() {
        for words in ["=1+1", "+4", "-4", "@x", "\t=1", "＝1", "'quoted'", "''", "plain", "", "a=b"]
        {
            let cell = guarded(words);
            assert_eq!(cell.strip_prefix('\'').unwrap_or(&cell), words);
            assert!(!looks_like_formula(&cell), "{cell}");
        }
        assert_eq!(guarded("it's"), "it's");
    }
}
