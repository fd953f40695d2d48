//! Doubts, notes and small print in words.

use super::direction::set_apart;
use super::free_text::printable;
use super::input::SheetInput;
use crate::draw::Names;
use crate::marks::{Event, MarkAddress, MarksDoubt};
use crate::quantity::{capital, written_percent};
use crate::stride::{ApproachMeasurement, PlacedFootfall, StrideDoubt};
use crate::survey::Suspect;

/// Who and what, for the corner of the page; rider, horse and place only when they may be named.
pub(super) fn about(input: &SheetInput) -> Vec<String> {
    let fence = printable(input, &input.approach.fence.name);
    lines(input, &fence)
}

/// The same for a cover, without a fence.
pub(super) fn about_round(input: &SheetInput) -> Vec<String> {
    lines(input, "")
}

fn lines(input: &SheetInput, fence: &str) -> Vec<String> {
    let round = input.round;
    let mut lines = Vec::new();
    let mut add = |parts: &[&str]| {
        let said = parts.iter().map(|part| part.trim()).filter(|part| !part.is_empty());
        let said: Vec<String> = said.map(set_apart).collect();
        if !said.is_empty() {
            lines.push(said.join(" · "));
        }
    };
    if input.names == Names::Shown {
        add(&[&round.horse, &round.rider]);
    }
    let slope = round.slope_percent.filter(|slope| slope.abs() >= 0.05).map(|slope| {
        let way = if slope > 0.0 { "uphill" } else { "downhill" };
        format!("{} {way}", written_percent(slope.abs()))
    });
    add(&[fence, round.date.as_deref().unwrap_or_default()]);
    let place = if input.names == Names::Shown { round.place.as_str() } else { "" };
    add(&[place, &round.surface, slope.as_deref().unwrap_or_default()]);
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
            let note = set_apart(note);
            notes.push(format!("Stride \u{2212}{}: {note}", row.number.unsigned_abs()));
        }
    }
    notes
}

/// Everything to be doubted on the page of this approach, a sentence each.
pub(super) fn doubts(input: &SheetInput) -> Vec<String> {
    let mut doubts = shared_doubts(input);
    doubts.extend(own_doubts(input));
    doubts
}

/// Doubts about marks and survey, which every approach of the round rests on.
pub(super) fn shared_doubts(input: &SheetInput) -> Vec<String> {
    let marks = input.marks_doubts.iter().filter(|doubt| approach_of(doubt).is_none());
    let suspects = input.suspects.iter();
    let suspects = suspects.filter(|suspect| !matches!(suspect.mark, MarkAddress::Footfall { .. }));
    let doubts = marks
        .map(MarksDoubt::sentence)
        .chain(input.survey_doubts.iter().map(crate::survey::SurveyDoubt::sentence))
        .chain(suspects.filter_map(|one| suspect(input.approach, one)));
    doubts.map(|doubt| on_paper(&doubt)).collect()
}

/// Doubts about this approach only.
pub(super) fn own_doubts(input: &SheetInput) -> Vec<String> {
    let approach = input.approach;
    let marks = input.marks_doubts.iter();
    let marks = marks.filter(|doubt| approach_of(doubt) == Some(approach.approach.as_str()));
    let suspects = input.suspects.iter();
    let suspects = suspects.filter(|suspect| matches!(suspect.mark, MarkAddress::Footfall { .. }));
    let doubts = marks
        .map(MarksDoubt::sentence)
        .chain(approach.doubts.iter().filter_map(|doubt| stride_doubt(input, doubt)))
        .chain(suspects.filter_map(|one| suspect(approach, one)));
    doubts.map(|doubt| on_paper(&doubt)).collect()
}

/// The approach that a doubt about marks is about; `None` when it is about all.
fn approach_of(doubt: &MarksDoubt) -> Option<&str> {
    match doubt {
        MarksDoubt::NoteOnNoStride { approach, .. } => Some(approach),
        MarksDoubt::ConcealedFrame { .. } | MarksDoubt::OtherClip { .. } => None,
    }
}

/// A sentence as the terminal prints it (lower case, no stop, names between backticks) as running
/// text has it: with a capital, a full stop and no backticks.
pub(super) fn on_paper(sentence: &str) -> String {
    let said = capital(sentence.replace('`', "").trim());
    match said.chars().next_back() {
        None | Some('.' | '!' | '?' | '…') => said,
        Some(_) => said + ".",
    }
}

/// A doubt about the approach; a footfall is called by its hoof and stride instead of its id.
fn stride_doubt(input: &SheetInput, doubt: &StrideDoubt) -> Option<String> {
    let StrideDoubt::Hidden { footfall } = doubt else { return Some(doubt.sentence()) };
    let told = |suspect: &Suspect| footfall_of(input.approach, suspect) == Some(footfall.as_str());
    if input.suspects.iter().any(told) {
        // The suspect's own sentence says it, and why.
        return None;
    }
    match hoof(input.approach, footfall) {
        Some(hoof) => Some(format!("the {hoof} was not seen{}", missing(input.approach, footfall))),
        None => Some(doubt.sentence()),
    }
}

/// A suspect in words; `None` for one of another approach, whose numbers are not on this sheet.
fn suspect(approach: &ApproachMeasurement, suspect: &Suspect) -> Option<String> {
    let mark = match (&suspect.mark, footfall_of(approach, suspect)) {
        (MarkAddress::Footfall { .. }, None) => return None,
        (_, Some(footfall)) => hoof(approach, footfall),
        (_, None) => None,
    };
    let mark = mark.unwrap_or_else(|| suspect.mark.to_string());
    let missing = footfall_of(approach, suspect).map(|id| missing(approach, id));
    Some(format!(
        "the mark of the {mark} (frame {}) does not fit the other marks and was left out of the \
         numbers{}",
        suspect.frame.0,
        missing.unwrap_or_default()
    ))
}

/// The footfall of this approach that a suspect is the mark of.
fn footfall_of<'a>(approach: &ApproachMeasurement, suspect: &'a Suspect) -> Option<&'a str> {
    match &suspect.mark {
        MarkAddress::Footfall { approach: of, footfall } if *of == approach.approach => {
            Some(footfall)
        }
        _ => None,
    }
}

/// "leading hind at the end of stride −5".
fn hoof(approach: &ApproachMeasurement, id: &str) -> Option<String> {
    let footfall = approach.footfalls.iter().find(|footfall| footfall.footfall == id)?;
    let at = match footfall.event {
        Event::TakeOff => "at take-off".to_owned(),
        Event::Landing => "at landing".to_owned(),
        Event::Away => "after the fence".to_owned(),
        Event::Stride => in_stride(approach, footfall),
    };
    Some(format!("{} {at}", footfall.limb.words()))
}

fn in_stride(approach: &ApproachMeasurement, footfall: &PlacedFootfall) -> String {
    let id = &footfall.footfall;
    let time = |id: &str| approach.footfall_time_s(id);
    let number = |number: i32| format!("stride \u{2212}{}", number.unsigned_abs());
    let strides = &approach.strides;
    if let Some(row) = strides.iter().find(|row| row.to_footfall == *id) {
        return format!("at the end of {}", number(row.number));
    }
    if let Some(row) = strides.iter().find(|row| row.from_footfall == *id) {
        return format!("at the start of {}", number(row.number));
    }
    let under_way = strides.iter().find(|row| {
        time(&row.from_footfall).is_some_and(|from| from <= footfall.time_s)
            && time(&row.to_footfall).is_some_and(|to| footfall.time_s < to)
    });
    match under_way {
        Some(row) => format!("in {}", number(row.number)),
        None => "outside the strides measured".to_owned(),
    }
}

/// What a footfall without a place costs.
fn missing(approach: &ApproachMeasurement, id: &str) -> &'static str {
    let ends = approach
        .strides
        .iter()
        .filter(|row| row.length_m.is_none() && (row.from_footfall == id || row.to_footfall == id));
    match ends.count() {
        0 => "",
        1 => ": the stride it belongs to has no length",
        _ => ": the strides on either side of it have no length",
    }
}

const PLUS_MINUS: &str = "± is half the width of a 95 % interval: in about nineteen of twenty \
     cases the true value lies within it. It covers the placing of the marks, the poles and the \
     camera.";

/// What the numbers of a cover mean.
pub(super) fn cover_conventions() -> String {
    [
        PLUS_MINUS,
        "Mean, tempo and speed are those of all strides of an approach; level means even from \
         stride to stride, and longest \u{2212} shortest says how far from even they were. Between two \
         approaches, a difference smaller than their ± together is none that can be seen. \
         Take-off is measured to the ground line, landing from the far base, both square to it; \
         the page of each approach says by which hoof. The shaded band is a help for the eye, no \
         published limit exists.",
    ]
    .join(" ")
}

/// What the numbers over the weeks mean.
pub(super) fn weeks_conventions() -> String {
    [
        PLUS_MINUS,
        "Variation is the strides' standard deviation over their mean; level means even from \
         stride to stride. A change of pace is a run of strides that grow or shrink by more than \
         5 % of the mean stride; beside the most likely number stands its probability. \
         Last against first: two surveys, taken as independent; the probability comes from the \
         draws of both, and a difference counts as more than its uncertainty when its 95 % interval \
         leaves out zero. Median and spread hold the marking error too. Take-off is measured to \
         the ground line, landing from the far base, both square to it.",
    ]
    .join(" ")
}

/// What ± means, which hoof and which edge, what else to know.
pub(super) fn conventions(input: &SheetInput) -> String {
    let approach = input.approach;
    let mut said = vec![
        PLUS_MINUS.to_owned(),
        format!(
            "Strides are numbered back from the fence and run from one contact of the {} to its \
             next.",
            approach.reference_limb.words()
        ),
    ];
    if let Some(take_off) = &approach.take_off {
        said.push(format!(
            "Take-off is measured from the place where the {} stands to push off, its last before \
             the fence, square to the ground line.",
            take_off.limb.words()
        ));
    }
    if let Some(landing) = &approach.landing {
        said.push(format!(
            "Landing is measured from the far base to the place where the {} comes down.",
            landing.limb.words()
        ));
    }
    if !input.readings.is_empty() {
        said.push(
            "Readings go by the coach's limits and by common practice; what is said outright is \
             supported by the draws with the share beside it."
                .to_owned(),
        );
    }
    said.push(
        "A time is that of the frame in which a hoof first touches the ground there. Level here \
         means even from stride to stride; the shaded band is a help for the eye, no published \
         limit exists. Hoof prints are drawn larger than life."
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
    use crate::survey::SurveyDoubt;

    #[test]
    fn a_suspect_is_told_in_words() {
        let approach = sample::approach(SEVEN);
        let said = |one: &Suspect| on_paper(&suspect(&approach, one).unwrap());
        // h3 ends stride −5 of seven; e3 is a fore within stride −4.
        for (footfall, hoof) in [
            ("h3", "leading hind at the end of stride −5"),
            ("h0", "leading hind at the start of stride −7"),
            ("e3", "leading fore in stride −4"),
            ("g7", "trailing hind at take-off"),
            ("l1", "trailing fore at landing"),
        ] {
            assert_eq!(
                said(&sample::suspect(footfall)),
                format!(
                    "The mark of the {hoof} (frame 145) does not fit the other marks and was left \
                     out of the numbers."
                )
            );
        }
        let pole = Suspect {
            mark: MarkAddress::PoleEnd {
                reference: "rails".into(),
                pole: 2,
                end: crate::marks::PoleEnd::Left,
            },
            ..sample::suspect("h3")
        };
        assert!(said(&pole).starts_with("The mark of the left end of pole 2 of rails (frame 145)"));
        let elsewhere = MarkAddress::Footfall { approach: "second".into(), footfall: "h3".into() };
        let elsewhere = Suspect { mark: elsewhere, ..sample::suspect("h3") };
        assert_eq!(suspect(&approach, &elsewhere), None);
    }

    #[test]
    fn a_hoof_without_a_place_is_told_once_and_by_its_stride() {
        let mut approach = sample::approach(SEVEN);
        for row in &mut approach.strides[2..4] {
            row.length_m = None;
        }
        approach.doubts = vec![StrideDoubt::Hidden { footfall: "h3".into() }];
        let round = sample::round();
        let input = tests::input(&approach, &round);
        assert_eq!(
            doubts(&input),
            [
                "The leading hind at the end of stride −5 was not seen: the strides on either side of \
              it have no length."
            ]
        );
        let suspects = [sample::suspect("h3")];
        let said = doubts(&SheetInput { suspects: &suspects, ..input });
        assert_eq!(said.len(), 1);
        assert!(said[0].ends_with("the numbers: the strides on either side of it have no length."));
    }

    #[test]
    fn every_doubt_is_a_sentence_with_capital_and_stop() {
        let mut approach = sample::approach(SEVEN);
        approach.doubts =
            vec![StrideDoubt::NoLanding, StrideDoubt::Hidden { footfall: "h5".into() }];
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
