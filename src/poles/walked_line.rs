//! Lines by walked paces: two to land, two to take off, four for each stride between.

use super::adjusting::{StrideNeeded, strides_needed};
use super::adjusting_words::needed_words;
use super::asked::{Asked, Size};
use super::asked_error::AskedError;
use super::exercise::LONGEST_LINE;
use super::line::landing_and_take_off;
use super::walked_paces::WALKED_PACE_M;
use super::wording::{laid_words, paces_words};
use crate::quantity::{LengthUnits, Metres, Unit, written_halves};

/// Walked paces for landing and take-off, and for each stride (R2, R6, R11).
const BOTH_ENDS: u32 = 4;
const A_STRIDE: u32 = 4;

/// Fewest and most walked paces that are counted: landing and take-off alone, and what still counts
/// as the longest line that is planned.
pub(super) const LEAST_WALKED: u32 = BOTH_ENDS;
pub(super) const MOST_WALKED: u32 = BOTH_ENDS + A_STRIDE * (LONGEST_LINE + 1) - 1;

/// How well a walked distance is known at best, metres (common practice, no source).
const WALKED_WITHIN_M: f64 = 0.10;

/// Walked paces of a line: 4 n + 4 (R2, R11).
pub(super) fn walked_paces_of_line(strides: u32) -> u32 {
    A_STRIDE * strides + BOTH_ENDS
}

/// Strides that fit a line of so many walked paces: the inverse, (paces − 4) / 4.
pub(super) fn strides_of_walked(walked_paces: f64) -> f64 {
    (walked_paces - f64::from(BOTH_ENDS)) / f64::from(A_STRIDE)
}

/// The same line walked on a curve: one pace fewer (R11, printed for five strides: about 23
/// instead of 24).
pub(super) fn walked_on_a_curve(strides: u32) -> u32 {
    walked_paces_of_line(strides) - 1
}

/// A line that was walked, by the 12-ft count.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WalkedLine {
    /// Paces of 3 ft.
    pub walked_paces: f64,
    /// The same length.
    pub length_m: Metres,
    /// Whole strides that fit; 0 is a bounce.
    pub strides: u32,
    /// Paces left over, fewer than a stride takes.
    pub over: f64,
}

impl WalkedLine {
    /// Of so many paces.
    ///
    /// Errors: fewer than landing and take-off take, more than the longest line.
    pub fn of(walked_paces: f64) -> Result<Self, AskedError> {
        if !(f64::from(LEAST_WALKED)..=f64::from(MOST_WALKED)).contains(&walked_paces) {
            return Err(AskedError::Walked { found: walked_paces });
        }
        let strides = strides_of_walked(walked_paces).floor() as u32;
        let over = walked_paces - f64::from(walked_paces_of_line(strides));
        Ok(Self {
            walked_paces,
            length_m: Metres::new(walked_paces * WALKED_PACE_M),
            strides,
            over,
        })
    }

    /// What the count says, a sentence each.
    pub fn sentences(&self, units: LengthUnits) -> Vec<String> {
        let laid = |units| laid_words(self.length_m, units);
        let walked = paces_words(&written_halves(self.walked_paces));
        let built = match self.strides {
            0 => "a bounce".to_owned(),
            1 => "1 stride".to_owned(),
            strides => format!("{strides} strides"),
        };
        let mut said = vec![format!(
            "{walked}, {} ({}): {built} by the 12-ft count, {A_STRIDE} paces a stride, 2 to land and 2 \
             to take off (R2, R6, R11).",
            laid(units),
            laid(units.other())
        )];
        let number = |paces: f64| written_halves(paces);
        if self.over >= 0.25 {
            let (over, short) = (number(self.over), number(f64::from(A_STRIDE) - self.over));
            said.push(format!(
                "{over} over, {short} short of {}.",
                strides_words(self.strides + 1)
            ));
        } else {
            said.push("Nothing left over.".to_owned());
        }
        let next = self.strides + 1;
        if (self.walked_paces - f64::from(walked_on_a_curve(next))).abs() < 0.25 {
            said.push(format!(
                "Walked on a curve it is {}: one pace fewer (R11, printed for 5 strides).",
                strides_words(next)
            ));
        }
        let within = laid_words(Metres::new(WALKED_WITHIN_M), units);
        said.push(format!("A walked distance is known to ±{within} at best: tape what is built."));
        said
    }

    /// What a horse of that stride would need to ride it in one stride less, as many, and one more,
    /// with how far off its stride that is, a line each.
    pub fn of_this_horse(&self, asked: &Asked, units: LengthUnits) -> Vec<String> {
        let stride_m = Metres::new(asked.stride.length_m());
        let allowance = landing_and_take_off(asked);
        let shown = asked.stride.shown();
        let needed = strides_needed(self.length_m, self.strides.max(1), allowance, shown);
        let off = |one: &StrideNeeded| {
            let off = (one.stride_m - stride_m).get();
            let by = laid_words(Metres::new(off.abs()), units);
            if by == laid_words(Metres::new(0.0), units) {
                return "its own stride".to_owned();
            }
            format!("{by} {} than its own", if off > 0.0 { "longer" } else { "shorter" })
        };
        let mut said: Vec<String> = needed
            .iter()
            .map(|one| format!("{}, {}", needed_words(one, units), off(one)))
            .collect();
        if asked.size != Size::Horse {
            said.push(
                "the 12-ft count is for horses: a pony's line takes the pony's stride".into(),
            );
        }
        said
    }
}

fn strides_words(strides: u32) -> String {
    format!("{strides} stride{}", if strides == 1 { "" } else { "s" })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::poles::sample::{measured, typed};

    fn said(paces: f64) -> Vec<String> {
        WalkedLine::of(paces).unwrap().sentences(LengthUnits::Metres)
    }

    #[test]
    fn walked_paces_are_counted_back_to_strides() {
        // R2, R11 (read): 20 paces are four strides, 60 ft.
        let twenty = said(20.0);
        assert_eq!(
            twenty[0],
            "20 walked paces, 18.29 m (60 ft): 4 strides by the 12-ft count, 4 paces a stride, 2 to \
             land and 2 to take off (R2, R6, R11)."
        );
        assert_eq!((twenty[1].as_str(), twenty.len()), ("Nothing left over.", 3));
        // R11 (read): five strides walk about 23 on a curve.
        let curve = said(23.0);
        assert_eq!(curve[1], "3 over, 1 short of 5 strides.");
        assert!(curve[2].starts_with("Walked on a curve it is 5 strides"), "{curve:?}");
        assert_eq!(said(21.5)[1], "1½ over, 2½ short of 5 strides.");
        assert!(said(4.0)[0].contains(": a bounce by") && said(8.0)[0].contains(": 1 stride by"));
    }

    #[test]
    fn what_is_no_line_is_refused() {
        for paces in [0.0, 3.9, 56.0, f64::NAN, f64::INFINITY] {
            let refused = WalkedLine::of(paces);
            assert!(matches!(refused, Err(AskedError::Walked { .. })), "{paces}");
        }
        assert_eq!(WalkedLine::of(55.0).unwrap().strides, 12);
    }

    #[test]
    fn a_horse_needs_other_strides_for_one_more_or_less() {
        // 60 ft in 3, 4 and 5 strides with half a stride at either end: 15, 12 and 10 ft.
        let line = WalkedLine::of(20.0).unwrap();
        let found = line.of_this_horse(&typed(3.6576), LengthUnits::Feet);
        assert_eq!(
            found,
            [
                "3 strides would be 15 ft each, 3 ft longer than its own",
                "4 strides would be 12 ft each, its own stride",
                "5 strides would be 10 ft each, 2 ft shorter than its own"
            ]
        );
        let measured = line.of_this_horse(&measured(3.6, &[3.5, 3.7]), LengthUnits::Metres);
        assert!(
            measured[0].contains("each, not among those measured of this horse, 0.97 m longer")
        );
        assert!(!measured[1].contains("not among"), "{measured:?}");
    }
}
