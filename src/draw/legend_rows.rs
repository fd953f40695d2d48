//! The entries of a legend in rows that fit its width, each a sign with its words.

use super::area::Spot;
use super::svg::{Anchor, Svg};
use super::text_line::{CAP_HEIGHT, TextLine};

/// Room of an entry's sign, and between two entries, in sizes of the type.
const SIGN: f64 = 2.3;
const GAP: f64 = 1.4;

/// Entries with the width of their words, in rows no wider than `width`; each with where it begins.
pub(super) fn legend_rows<E>(
    entries: impl Iterator<Item = (E, f64)>,
    width: f64,
    text: f64,
) -> Vec<Vec<(E, f64)>> {
    let mut rows: Vec<Vec<(E, f64)>> = vec![Vec::new()];
    let mut at = 0.0;
    for (entry, words) in entries {
        let wide = SIGN * text + words + GAP * text;
        if at > 0.0 && at + wide > width {
            rows.push(Vec::new());
            at = 0.0;
        }
        if let Some(row) = rows.last_mut() {
            row.push((entry, at));
        }
        at += wide;
    }
    rows
}

/// Draws the rows below `top`; `sign` draws an entry's sign about a spot.
pub(super) fn draw_legend_rows<E: Copy>(
    svg: &mut Svg,
    rows: &[Vec<(E, f64)>],
    (top, text): (f64, f64),
    words: impl Fn(E) -> TextLine,
    sign: impl Fn(&mut Svg, E, Spot),
) {
    for (i, row) in rows.iter().enumerate() {
        let middle = top + 0.4 * text + (i as f64 + 0.55) * 1.7 * text;
        for (entry, left) in row {
            sign(svg, *entry, Spot::new(left + 0.9 * text, middle));
            let base = Spot::new(left + SIGN * text, middle + 0.92 * text * CAP_HEIGHT / 2.0);
            svg.text(&words(*entry), base, Anchor::Start);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_does_not_fit_begins_a_row() {
        // Each is 2.3 + 1.4 + its words wide: 6, 6 and 10 in type of size 1.
        let rows = legend_rows([('a', 2.3), ('b', 2.3), ('c', 6.3)].into_iter(), 12.1, 1.0);
        let begins = |row: usize| rows[row].iter().map(|(entry, at)| (*entry, at.round()));
        assert_eq!(begins(0).collect::<Vec<_>>(), [('a', 0.0), ('b', 6.0)]);
        assert_eq!(begins(1).collect::<Vec<_>>(), [('c', 0.0)]);
    }
}
