//! A distance in words that terminal, page and sheet share: metres, feet and inches, walked paces.

use super::distance::{Distance, DistanceRange};
use super::walked_paces::walked_paces;
use crate::quantity::{LengthUnits, METRES_PER_FOOT, Metres, Unit, written_bare};

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

/// A length in feet and whole inches at any length, as a tape is read. (Charts write lengths from 30
/// ft on in decimal feet.)
pub fn feet_and_inches(length: Metres) -> String {
    let inches = (length.get() / METRES_PER_FOOT * 12.0).round() as i64;
    match (inches / 12, inches % 12) {
        (0, inch) => format!("{inch} in"),
        (foot, 0) => format!("{foot} ft"),
        (foot, inch) => format!("{foot} ft {inch} in"),
    }
}

/// A length in walked paces, to the half pace: nobody walks finer.
pub fn walked_words(length: Metres) -> String {
    let halves = (2.0 * walked_paces(length)).round() as i64;
    let number = match (halves / 2, halves % 2) {
        (0, 1) => "½".to_owned(),
        (whole, 0) => whole.to_string(),
        (whole, _) => format!("{whole}½"),
    };
    format!("{number} walked pace{}", if halves <= 2 { "" } else { "s" })
}

/// `distance` in words.
pub fn distance_words(distance: &Distance) -> DistanceWords {
    let DistanceRange { low_m, aim_m, high_m } = distance.length;
    let metres = |length| written_bare(length, LengthUnits::Metres);
    let low = metres(low_m);
    let low = low.strip_suffix(" m").unwrap_or(&low);
    let feet = feet_and_inches;
    DistanceWords {
        name: distance.exercise.words(),
        metres: format!("{} ({low} to {})", metres(aim_m), metres(high_m)),
        feet: format!("{} ({} to {})", feet(aim_m), feet(low_m), feet(high_m)),
        walked: walked_words(aim_m),
        rule: distance.rule.words(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn feet_come_with_inches_at_any_length() {
        let of_feet = |feet: f64| feet_and_inches(Metres::new(feet * METRES_PER_FOOT));
        assert_eq!([of_feet(57.5), of_feet(84.0), of_feet(0.5)], ["57 ft 6 in", "84 ft", "6 in"]);
        // Half an inch short of a foot is a foot, never 12 in.
        assert_eq!(of_feet(11.97), "12 ft");
    }

    #[test]
    fn walked_paces_are_whole_or_half() {
        let of_paces = |paces: f64| walked_words(Metres::new(paces * 0.9144));
        assert_eq!(of_paces(8.0), "8 walked paces");
        assert_eq!(of_paces(19.4), "19½ walked paces");
        assert_eq!([of_paces(1.0), of_paces(0.5)], ["1 walked pace", "½ walked pace"]);
        assert_eq!(of_paces(1.5), "1½ walked paces");
    }
}
