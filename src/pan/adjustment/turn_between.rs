//! The turn between two bundles of directions of which some are wrong.

use nalgebra::{Rotation3, Vector3};
use rand::Rng;

use crate::quantity::seeded;
use crate::scene::rotation_between_directions;

/// Pairs of two that are tried. With a third of the pairs right, one of nine draws is clean: 80
/// draws miss once in ten thousand.
const TRIES: usize = 80;

/// A turn and the pairs that agree with it.
#[derive(Clone, Debug)]
pub(super) struct AgreedTurn {
    /// Carries the first direction of a pair onto the second.
    pub turn: Rotation3<f64>,
    /// How many pairs agree.
    pub agreeing: usize,
}

/// The turn most pairs agree with to `within` radians (random sample consensus on two pairs,
/// then least squares on all that agree). `None` for fewer than three agreeing pairs.
pub(super) fn turn_between(
    pairs: &[(Vector3<f64>, Vector3<f64>)],
    within: f64,
) -> Option<AgreedTurn> {
    if pairs.len() < 3 {
        return None;
    }
    let mut random = seeded(pairs.len() as u64);
    let mut draw = || random.next_u32() as usize % pairs.len();
    let mut best: Option<(f64, Rotation3<f64>)> = None;
    for _ in 0..TRIES {
        let (a, b) = (draw(), draw());
        // Two directions close together leave the turn about them open.
        if pairs[a].0.cross(&pairs[b].0).norm() < 8.0 * within {
            continue;
        }
        let Some(turn) = rotation_between_directions(&[pairs[a], pairs[b]]) else { continue };
        let cost = cost(pairs, &turn, within);
        if best.is_none_or(|(least, _)| cost < least) {
            best = Some((cost, turn));
        }
    }
    let (mut least, mut turn) = best.or_else(|| {
        let all = rotation_between_directions(pairs)?;
        Some((cost(pairs, &all, within), all))
    })?;
    for _ in 0..3 {
        let agreeing: Vec<_> =
            pairs.iter().filter(|pair| off(pair, &turn) < within).copied().collect();
        let Some(refined) = rotation_between_directions(&agreeing) else { break };
        let refined_cost = cost(pairs, &refined, within);
        if refined_cost >= least {
            break;
        }
        (least, turn) = (refined_cost, refined);
    }
    let agreeing = pairs.iter().filter(|pair| off(pair, &turn) < within).count();
    (agreeing >= 3).then_some(AgreedTurn { turn, agreeing })
}

fn off(pair: &(Vector3<f64>, Vector3<f64>), turn: &Rotation3<f64>) -> f64 {
    (turn * pair.0 - pair.1).norm()
}

/// Squared misfits, no larger than that of a pair at the limit.
fn cost(pairs: &[(Vector3<f64>, Vector3<f64>)], turn: &Rotation3<f64>, within: f64) -> f64 {
    pairs.iter().map(|pair| off(pair, turn).min(within).powi(2)).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_turn_is_found_though_half_of_the_pairs_are_wrong() {
        let turn = Rotation3::new(Vector3::new(0.02, -0.3, 0.05));
        let pairs: Vec<_> = (0..40)
            .map(|i| {
                let (x, y) = (f64::from(i % 8) / 8.0 - 0.5, f64::from(i / 8) / 8.0 - 0.3);
                let from = Vector3::new(x, y, 1.0).normalize();
                let wrong =
                    if i % 2 == 0 { Vector3::new(0.1, 0.02 * y, 0.0) } else { Vector3::zeros() };
                let stray = f64::from(i) * 0.002;
                (from, (turn * from + wrong * (1.0 + stray)).normalize())
            })
            .collect();
        let found = turn_between(&pairs, 0.002).unwrap();
        let off = (found.turn.matrix() - turn.matrix()).norm();
        assert!(off < 1e-6, "{off}");
        assert_eq!(found.agreeing, 20);
        assert!(turn_between(&pairs[..2], 0.002).is_none());
    }
}
