//! A distance in words that terminal, page and sheet share: metres, feet and inches, walked paces.

use super::distance::{Distance, DistanceRange};
use super::walked_paces::walked_paces;
use crate::quantity::{LengthUnits, Metres, written_bare, written_halves, written_taped};
use crate::stride::ShownStrides;

/// One distance ready to print.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DistanceWords {
    /// What is built.
    pub name: String,
    /// "10.97 m (10.52 to 11.43 m)".
    pub metres: String,
    /// "36 ft (34 ft 6 in to 37 ft 6 in)".
    pub feet: String,
    /// "12 walked paces".
    pub walked: String,
    /// How it was computed.
    pub rule: &'static str,
}

/// A length as a coach lays it: metres to the centimetre, or feet and whole inches.
pub fn laid_words(length: Metres, units: LengthUnits) -> String {
    match units {
        LengthUnits::Metres => written_bare(length, units),
        LengthUnits::Feet => written_taped(length),
    }
}

/// "10.52 to 11.43 m", "34 ft 6 in to 37 ft 6 in"; one length where both ends are the same.
pub fn span_words(low: Metres, high: Metres, units: LengthUnits) -> String {
    let (low, high) = (laid_words(low, units), laid_words(high, units));
    if low == high {
        return high;
    }
    let symbol = format!(" {}", LengthUnits::Metres.symbol());
    format!("{} to {high}", low.strip_suffix(&symbol).unwrap_or(&low))
}

/// "3.30 to 3.70 m", and in how many rounds where there are several.
pub(super) fn shown_words(shown: &ShownStrides, units: LengthUnits) -> String {
    let spans = shown.spans.iter().map(|span| span_words(span.shortest_m, span.longest_m, units));
    let span = spans.collect::<Vec<_>>().join(" and ");
    let rounds = match shown.rounds {
        0 | 1 => String::new(),
        rounds => format!(", in {rounds} rounds"),
    };
    let left_out = match shown.left_out {
        0 => String::new(),
        1 => ", 1 marks file left out".to_owned(),
        count => format!(", {count} marks files left out"),
    };
    format!("{span}{rounds}{left_out}")
}

/// A length in walked paces, to the half pace: nobody walks finer. `None` for a short one that half
/// paces miss by more than a twenty-fifth, which is taped.
pub fn walked_number(length: Metres) -> Option<String> {
    let paces = walked_paces(length);
    let off = (2.0 * paces).round() / 2.0 - paces;
    (off.abs() <= MOST_OFF * paces).then(|| written_halves(paces))
}

/// The same with its noun, or that it is to be taped.
pub fn walked_words(length: Metres) -> String {
    match walked_number(length) {
        Some(number) => paces_words(&number),
        None => "tape it".to_owned(),
    }
}

/// "8 walked paces".
pub(super) fn paces_words(number: &str) -> String {
    format!("{number} walked pace{}", if matches!(number, "½" | "1") { "" } else { "s" })
}

/// As far as half paces may be off, as a share (common practice, no source).
const MOST_OFF: f64 = 0.04;

/// `distance` in words.
pub fn distance_words(distance: &Distance) -> DistanceWords {
    let DistanceRange { low_m, aim_m, high_m } = distance.length;
    let metres = |length| written_bare(length, LengthUnits::Metres);
    let feet = written_taped;
    DistanceWords {
        name: distance.exercise.words(),
        metres: format!("{} ({})", metres(aim_m), span_words(low_m, high_m, LengthUnits::Metres)),
        feet: format!("{} ({} to {})", feet(aim_m), feet(low_m), feet(high_m)),
        walked: walked_words(aim_m),
        rule: distance.rule.words(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;

    #[test]
    fn a_span_of_nothing_is_one_length() {
        let (low, high) = (Metres::new(9.144), Metres::new(10.0584));
        assert_eq!(span_words(low, high, LengthUnits::Metres), "9.14 to 10.06 m");
        assert_eq!(span_words(low, high, LengthUnits::Feet), "30 ft to 33 ft");
        assert_eq!(span_words(low, low, LengthUnits::Metres), "9.14 m");
    }

    #[test]
    fn walked_paces_are_whole_or_half() {
        let of_paces = |paces: f64| walked_words(Metres::new(paces * 0.9144));
        assert_eq!(of_paces(8.0), "8 walked paces");
        assert_eq!(of_paces(19.4), "19½ walked paces");
        assert_eq!([of_paces(1.0), of_paces(0.5)], ["1 walked pace", "½ walked pace"]);
        assert_eq!(of_paces(1.5), "1½ walked paces");
        // 1.22 m, a trot pole distance shortened on purpose: 1½ paces would put 15 cm back on.
        assert_eq!(walked_words(Metres::new(1.22)), "tape it");
        assert_eq!(walked_words(Metres::new(3.07)), "tape it");
    }
}
