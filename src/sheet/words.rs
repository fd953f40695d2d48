//! Doubts, notes and small print in words.

use super::headline::capital;
use super::input::SheetInput;
use crate::draw::Names;
use crate::quantity::written_tick;
use crate::survey::Suspect;

/// Who and what, for the corner of the page; names only when they may be shown.
pub(super) fn about(input: &SheetInput) -> Vec<String> {
    let round = input.round;
    let mut lines = Vec::new();
    let mut add = |parts: &[&str]| {
        let said: Vec<&str> = parts.iter().map(|p| p.trim()).filter(|p| !p.is_empty()).collect();
        if !said.is_empty() {
            lines.push(said.join(" · "));
        }
    };
    if input.names == Names::Shown {
        add(&[&round.horse, &round.rider]);
    }
    let slope = round.slope_percent.filter(|slope| slope.abs() >= 0.05).map(|slope| {
        let way = if slope > 0.0 { "uphill" } else { "downhill" };
        format!("{} % {way}", written_tick(slope.abs(), 0.1))
    });
    add(&[&input.approach.fence.name, round.date.as_deref().unwrap_or_default()]);
    add(&[&round.place, &round.surface, slope.as_deref().unwrap_or_default()]);
    lines
}

/// What the coach wrote: on the round, on the approach, on single strides.
pub(super) fn notes(input: &SheetInput) -> Vec<String> {
    let approach = input.approach;
    let mut notes: Vec<String> = [&input.round.note, &approach.note]
        .into_iter()
        .map(|note| note.trim().to_owned())
        .filter(|note| !note.is_empty())
        .collect();
    for row in &approach.strides {
        let note = row.note.trim();
        if !note.is_empty() {
            notes.push(format!("Stride \u{2212}{}: {note}", row.number.unsigned_abs()));
        }
    }
    notes
}

/// Doubts of marks, survey and approach, then the suspect marks, each a sentence fit for paper.
pub(super) fn doubts(input: &SheetInput) -> Vec<String> {
    let mut doubts: Vec<String> = Vec::new();
    doubts.extend(input.marks_doubts.iter().map(crate::marks::MarksDoubt::sentence));
    doubts.extend(input.survey_doubts.iter().map(crate::survey::SurveyDoubt::sentence));
    doubts.extend(input.approach.doubts.iter().map(crate::stride::StrideDoubt::sentence));
    doubts.extend(input.suspects.iter().map(suspect));
    doubts.iter().map(|doubt| on_paper(doubt)).collect()
}

/// A sentence as the terminal prints it (lower case, no stop, names between backticks) as running
/// text has it: with a capital, a full stop and no backticks.
fn on_paper(sentence: &str) -> String {
    let said = capital(sentence.replace('`', "").trim());
    match said.chars().next_back() {
        None | Some('.' | '!' | '?' | '…') => said,
        Some(_) => said + ".",
    }
}

fn suspect(suspect: &Suspect) -> String {
    format!(
        "the mark of the {} on frame {} does not fit the others and was left out: it lies {} px \
         from where they put it, {} times what placing explains",
        suspect.mark,
        suspect.frame.0,
        written_tick(suspect.off_px, 0.1),
        written_tick(suspect.off_sds, 0.1),
    )
}

/// What ± means, which hoof and which edge, what else to know.
pub(super) fn conventions(input: &SheetInput) -> String {
    let approach = input.approach;
    let mut said = vec![
        "± is half the width of a 95 % interval: in about nineteen of twenty cases the true \
         value lies within it. It covers the placing of the marks, the poles and the camera."
            .to_owned(),
        format!(
            "Strides are numbered back from the fence and run from one contact of the {} to its \
             next.",
            approach.reference_limb.words()
        ),
    ];
    if let Some(take_off) = &approach.take_off {
        said.push(format!(
            "Take-off is measured from the {} at its last contact, square to the ground line of \
             the fence.",
            take_off.limb.words()
        ));
    }
    if let Some(landing) = &approach.landing {
        said.push(format!(
            "Landing is measured from the far base to the {} at its first contact.",
            landing.limb.words()
        ));
    }
    said.push(
        "Level here means even from stride to stride; the band is a setting, no published limit \
         exists. Hoof prints are drawn larger than life."
            .to_owned(),
    );
    said.join(" ")
}

/// The cautions every sheet carries.
pub(super) fn cautions() -> &'static str {
    "Figures from video are estimates and no permit to jump. Treat every distance as a starting \
     point: whoever stands on the ground decides, and shortens for trot, ponies, small fences, \
     uphill, deep or slippery going, tired or green horses. Add one element at a time, with a \
     qualified coach, a helmet to a current standard done up, a body protector for solid fences, \
     safety cups, and no pole where a horse can land on it. This year's rules of your country \
     come first. Stop when strides become uneven or short; where left and right differ steadily, \
     ask a vet. Ask before you film others, above all children."
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, SEVEN};
    use crate::sheet::tests;
    use crate::stride::StrideDoubt;
    use crate::survey::SurveyDoubt;

    #[test]
    fn a_suspect_is_told_in_words() {
        assert_eq!(
            on_paper(&suspect(&sample::suspect("h3"))),
            "The mark of the footfall h3 of approach first on frame 145 does not fit the \
             others and was left out: it lies 14.2 px from where they put it, 6.3 times what \
             placing explains."
        );
    }

    #[test]
    fn every_doubt_is_a_sentence_with_capital_and_stop() {
        let mut approach = sample::approach(SEVEN);
        approach.doubts =
            vec![StrideDoubt::NoLanding, StrideDoubt::Hidden { footfall: "h3".into() }];
        let survey_doubts = [
            SurveyDoubt::ReferencesOnOneLine { reference: "poles".into() },
            SurveyDoubt::MarksFitBadly { ratio: 2.0 },
        ];
        let suspects = [sample::suspect("h3")];
        let round = sample::round();
        let said = doubts(&SheetInput {
            survey_doubts: &survey_doubts,
            suspects: &suspects,
            ..tests::input(&approach, &round)
        });
        assert_eq!(said.len(), 5);
        assert!(said[0].starts_with("All marked points of poles lie on one line: "), "{}", said[0]);
        for doubt in &said {
            assert!(doubt.starts_with(char::is_uppercase) && doubt.ends_with('.'), "{doubt}");
            assert!(!doubt.ends_with("..") && !doubt.contains('`'), "{doubt}");
        }
    }

    #[test]
    fn a_sentence_that_has_its_capital_and_stop_stays() {
        assert_eq!(on_paper("Is it so?"), "Is it so?");
        assert_eq!(on_paper(" éclair "), "Éclair.");
        assert_eq!(on_paper(""), "");
    }

    #[test]
    fn nothing_printed_calls_a_horse_lame_or_unlevel() {
        let printed = cautions().to_lowercase();
        assert!(!printed.contains("unlevel") && !printed.contains("lame"));
    }
}
