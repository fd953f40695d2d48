//! Which way the strides went: growing or shrinking by more than a tolerance, from where to where.
//!
//! Small wavering is no move: a turn counts once the length has gone back from its last extreme by
//! more than the tolerance (hysteresis).

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The way a move goes.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Way {
    /// Strides grow.
    Longer,
    /// Strides shrink.
    Shorter,
}

/// A run of strides that grow or shrink, from one extreme to the next; places in the series.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Move {
    /// Which way.
    pub way: Way,
    /// Where it begins: the extreme before it.
    pub from: usize,
    /// Where it ends: its own extreme.
    pub to: usize,
}

/// The moves of a series of lengths (metres, in the order ridden) that exceed `tolerance_percent` of
/// its mean. Two moves that follow one another go opposite ways and share a place.
pub fn moves(lengths: &[f64], tolerance_percent: f64) -> Vec<Move> {
    let mean = lengths.iter().sum::<f64>() / lengths.len().max(1) as f64;
    let back = tolerance_percent / 100.0 * mean;
    let (mut least, mut most) = (0, 0);
    let mut done: Vec<Move> = Vec::new();
    let mut way: Option<Way> = None;
    for (at, &length) in lengths.iter().enumerate() {
        // Of equal extremes the later one: a move begins where its strides begin to change.
        if length <= lengths[least] {
            least = at;
        }
        if length >= lengths[most] {
            most = at;
        }
        let grows = length - lengths[least] > back;
        let shrinks = lengths[most] - length > back;
        let turned = match way {
            None if grows => Some(Move { way: Way::Longer, from: least, to: at }),
            None if shrinks => Some(Move { way: Way::Shorter, from: most, to: at }),
            Some(Way::Longer) if shrinks => Some(Move { way: Way::Shorter, from: most, to: at }),
            Some(Way::Shorter) if grows => Some(Move { way: Way::Longer, from: least, to: at }),
            _ => None,
        };
        if let Some(begun) = turned {
            match begun.way {
                Way::Longer => most = at,
                Way::Shorter => least = at,
            }
            way = Some(begun.way);
            done.push(begun);
        }
        if let Some(under_way) = done.last_mut() {
            under_way.to = match under_way.way {
                Way::Longer => most,
                Way::Shorter => least,
            };
        }
    }
    done
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(lengths: &[f64]) -> Vec<(Way, usize, usize)> {
        moves(lengths, 5.0).into_iter().map(|m| (m.way, m.from, m.to)).collect()
    }

    #[test]
    fn moves_run_from_extreme_to_extreme() {
        use Way::{Longer, Shorter};
        assert_eq!(told(&[3.47, 3.52, 3.50, 3.46, 3.53, 3.50]), []);
        assert_eq!(told(&[3.10, 3.20, 3.30, 3.40, 3.48, 3.56]), [(Longer, 0, 5)]);
        // Eased to the fourth, pushed to the sixth, a short one at the end.
        assert_eq!(
            told(&[3.50, 3.30, 3.05, 2.95, 3.35, 3.80, 2.45]),
            [(Shorter, 0, 3), (Longer, 3, 5), (Shorter, 5, 6)]
        );
        // Level, then shorter: the move begins where the strides begin to change.
        assert_eq!(told(&[3.50, 3.50, 3.50, 3.20, 3.00]), [(Shorter, 2, 4)]);
        // A waver of 0.10 m on the way up is none.
        assert_eq!(told(&[3.10, 3.30, 3.20, 3.50, 3.40, 3.70]), [(Longer, 0, 5)]);
        assert_eq!(told(&[]), []);
        assert_eq!(told(&[3.5]), []);
    }

    #[test]
    fn moves_alternate_and_share_their_turns() {
        let all = moves(&[3.0, 3.5, 3.0, 3.5, 3.0], 5.0);
        for pair in all.windows(2) {
            assert!(pair[0].way != pair[1].way && pair[0].to == pair[1].from);
        }
        assert_eq!(all.len(), 4);
    }
}
