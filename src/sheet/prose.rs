//! The sentences beside the table, and how they are cut when the page is full.

use serde::{Serialize, Serializer};

use super::direction::Words;
use super::free_text::printable;
use super::headline::in_words;
use super::input::SheetInput;
use super::words::{doubts, notes, shared_doubts};

/// Sentences under one heading.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct Passage {
    /// The heading.
    pub title: &'static str,
    /// Whether it is set with the sign of a doubt.
    pub doubt: bool,
    /// Whether it stands below the table of strides instead of beside it.
    pub below_table: bool,
    /// A paragraph each.
    #[serde(serialize_with = "as_words")]
    pub sentences: Vec<String>,
}

fn as_words<S: Serializer>(sentences: &[String], to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(sentences.iter().map(Words::new))
}

impl Passage {
    /// Sentences that are no doubts.
    pub fn plain(title: &'static str, sentences: Vec<String>) -> Self {
        Self { title, doubt: false, below_table: false, sentences }
    }

    /// Reasons to trust the numbers less.
    pub fn doubtful(title: &'static str, sentences: Vec<String>) -> Self {
        Self { doubt: true, ..Self::plain(title, sentences) }
    }
}

/// Readings, notes, the next lesson, doubts; those that have something to say.
pub(super) fn passages(input: &SheetInput) -> Vec<Passage> {
    let printed = |sentences: &[String]| -> Vec<String> {
        let all = sentences.iter().map(|sentence| printable(input, sentence));
        all.filter(|sentence| !sentence.is_empty()).collect()
    };
    let passage = |title, sentences: &[String]| Passage::plain(title, printed(sentences));
    let doubts = Passage { doubt: true, ..passage("Doubts", &doubts(input)) };
    [
        passage("Readings", input.readings.get(1..).unwrap_or_default()),
        passage("Notes", &notes(input)),
        Passage { below_table: true, ..passage("Next lesson", input.next_lesson) },
        doubts,
    ]
    .into_iter()
    .filter(|passage| !passage.sentences.is_empty())
    .collect()
}

/// What is said of all approaches of a round: its note, the doubts about marks and survey.
pub(super) fn shared_passages(input: &SheetInput) -> Vec<Passage> {
    let note = printable(input, &input.round.note);
    let doubts = shared_doubts(input).iter().map(|doubt| printable(input, doubt)).collect();
    [Passage::plain("Notes", vec![note]), Passage::doubtful("Doubts about all of them", doubts)]
        .into_iter()
        .filter(|passage| passage.sentences.iter().any(|sentence| !sentence.is_empty()))
        .collect()
}

/// What one paragraph costs beside its letters, for the line it leaves half empty.
const PARAGRAPH: usize = 24;

/// Cuts the passages so that together they take about `room` characters: doubts up to half of
/// it, each other an equal share, and what the short ones leave goes to the long ones.
pub(super) fn within(passages: Vec<Passage>, room: usize) -> Vec<Passage> {
    let size = |passage: &Passage| -> usize {
        passage.sentences.iter().map(|s| s.chars().count() + PARAGRAPH).sum()
    };
    let mut order: Vec<usize> = (0..passages.len()).collect();
    order.sort_by_key(|&i| (!passages[i].doubt, size(&passages[i])));
    let mut shares = vec![0; passages.len()];
    let mut left = room;
    for (done, &i) in order.iter().enumerate() {
        let most = if passages[i].doubt { room / 2 } else { left / (order.len() - done) };
        shares[i] = size(&passages[i]).min(most);
        left -= shares[i];
    }
    passages
        .into_iter()
        .zip(shares)
        .map(|(passage, share)| Passage { sentences: fill(&passage.sentences, share), ..passage })
        .collect()
}

/// The least of a sentence that is worth printing, characters.
const LEAST: usize = 40;

/// All of the sentences, the long ones cut to what `room` leaves them, so that a long note on the
/// round does not cost the short ones on single strides; where `room` is too small for that, the
/// first of them, and how many more there are.
fn fill(sentences: &[String], room: usize) -> Vec<String> {
    let cost = |sentence: &String| sentence.chars().count() + PARAGRAPH;
    if sentences.iter().map(cost).sum::<usize>() <= room {
        return sentences.to_vec();
    }
    let most = longest_share(sentences.iter().map(cost), room).saturating_sub(PARAGRAPH);
    let most = most.max(if sentences.len() == 1 { LEAST } else { 0 });
    if most >= LEAST {
        let mut printed: Vec<String> =
            sentences.iter().map(|sentence| shortened(sentence, most)).collect();
        printed.push("… cut to fit the page.".to_owned());
        return printed;
    }
    let kept = (room / (LEAST + PARAGRAPH)).max(1);
    let more = sentences.len().saturating_sub(kept);
    let mut printed: Vec<String> =
        sentences.iter().take(kept).map(|sentence| shortened(sentence, LEAST)).collect();
    if more > 0 {
        printed.push(format!("And {} more, not printed.", in_words(more)));
    }
    printed
}

/// The size to which those larger must be cut so that all together take `room`.
fn longest_share(sizes: impl Iterator<Item = usize>, room: usize) -> usize {
    let mut sizes: Vec<usize> = sizes.collect();
    sizes.sort_unstable();
    let (mut left, mut count) = (room, sizes.len());
    for size in sizes {
        if size * count > left {
            return left / count;
        }
        left -= size;
        count -= 1;
    }
    left
}

/// `text` cut after about `most` characters, at a word, and says so.
pub(super) fn cut(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    shortened(text, most) + " (cut to fit)"
}

/// The same with only the sign of it.
pub(super) fn shortened(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let kept: String = text.chars().take(most).collect();
    let at_word = kept.rfind(char::is_whitespace).filter(|at| *at > kept.len() / 2);
    // The space does not break: the sign would stand on a line of its own.
    format!("{}\u{a0}…", kept[..at_word.unwrap_or(kept.len())].trim_end())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn passage(title: &'static str, sentences: &[&str]) -> Passage {
        let sentences = sentences.iter().map(|s| (*s).to_owned()).collect();
        Passage::plain(title, sentences)
    }

    #[test]
    fn a_long_note_is_cut_at_a_word_and_says_so() {
        let note = "keep the shoulder up and wait for the fence to come";
        assert_eq!(cut(note, 20), "keep the shoulder\u{a0}… (cut to fit)");
        assert_eq!(cut("short", 20), "short");
    }

    #[test]
    fn short_passages_stay_whole_and_long_ones_take_the_rest() {
        let long = "a b c d ".repeat(100);
        let both = vec![passage("Notes", &[&long, "x", "y"]), passage("Doubts", &["one doubt"])];
        let cut = within(both.clone(), 400);
        assert_eq!(cut[1], both[1]);
        assert!(cut[0].sentences[0].ends_with("\u{a0}…"));
        assert!(cut[0].sentences[0].len() > 200, "{}", cut[0].sentences[0]);
        assert_eq!(cut[0].sentences[1..], ["x", "y", "… cut to fit the page."]);
        assert_eq!(within(both.clone(), 5000), both);
    }

    #[test]
    fn of_too_many_the_first_are_printed_and_the_rest_counted() {
        let many: Vec<String> = (0..20).map(|k| format!("{k} {}", "note ".repeat(30))).collect();
        let printed = fill(&many, 600);
        assert_eq!(printed.len(), 10);
        assert!(printed[8].starts_with("8 note") && printed[8].ends_with("note\u{a0}…"));
        assert_eq!(printed[9], "And eleven more, not printed.");
        // Room for all, each cut.
        let all = fill(&many, 2400);
        assert_eq!(all.len(), 21);
        assert!(all[..20].iter().all(|note| note.ends_with("note\u{a0}…")));
    }
}
