//! Everything to be careful about, in one order for all tables.

use super::input::TablesInput;
use super::wording::suspect_sentence;
use crate::marks::MarksDoubt;
use crate::stride::StrideDoubt;
use crate::survey::{SurveyDoubt, Suspect};

/// A suspect or a doubt in words.
pub(super) struct Said<'a> {
    /// `doubt` or `suspect`.
    pub kind: &'static str,
    pub sentence: String,
    /// The suspect's numbers.
    pub suspect: Option<&'a Suspect>,
}

fn doubt<'a>(sentence: String) -> Said<'a> {
    Said { kind: "doubt", sentence, suspect: None }
}

/// Of one approach.
pub(super) fn said_of_approach(doubts: &[StrideDoubt]) -> impl Iterator<Item = Said<'_>> {
    doubts.iter().map(|one| doubt(one.sentence()))
}

/// Of the marks and the survey: suspects first.
pub(super) fn said_of_all<'a>(input: &TablesInput<'a>) -> impl Iterator<Item = Said<'a>> {
    let suspects = input.measurement.suspects.iter().map(|suspect| Said {
        kind: "suspect",
        sentence: suspect_sentence(suspect),
        suspect: Some(suspect),
    });
    let of_marks = input.marks_doubts.iter().map(MarksDoubt::sentence);
    let of_survey = input.measurement.doubts.iter().map(SurveyDoubt::sentence);
    suspects.chain(of_marks.chain(of_survey).map(doubt))
}
