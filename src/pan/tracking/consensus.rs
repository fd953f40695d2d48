//! The map that most of the picture agrees on, and the points that do not.
//!
//! Random samples of four pairs (Fischler & Bolles 1981), scored by truncated squares (Torr &
//! Zisserman 2000, MSAC; both from memory). A pair counts less where many crowd together, so that
//! a horse full of corners does not outvote a plain of sand. The samples come from a seed: the same
//! pairs give the same map.

use rand::seq::IndexedRandom;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::SeedableRng;

use super::picture_map::{Pair, PictureMap};
use super::spread::Cells;
use crate::scene::PictureSize;

/// Samples drawn: with half of the pairs wrong, four right ones come up nine times in 140 on
/// average.
const SAMPLES: usize = 140;
/// Rounds of reweighting after the sample.
const ROUNDS: usize = 5;

/// What was agreed on.
#[derive(Clone, Debug)]
pub(super) struct Consensus {
    pub(super) map: PictureMap,
    /// Whether each pair agrees.
    pub(super) agrees: Vec<bool>,
    /// How many do.
    pub(super) count: usize,
}

/// How pairs are judged.
#[derive(Clone, Copy, Debug)]
pub(super) struct Judge {
    pub(super) size: PictureSize,
    /// Farther off than this does not agree, pixels.
    pub(super) slack_px: f64,
    /// Residuals up to this count in full when the map is fitted to those that agree, pixels.
    pub(super) core_px: f64,
    pub(super) seed: u64,
}

impl Judge {
    /// The map for `pairs`. `guess` stands with the samples. `None` for fewer than eight that
    /// agree.
    pub(super) fn agree(&self, pairs: &[Pair], guess: Option<&PictureMap>) -> Option<Consensus> {
        if pairs.len() < 8 {
            return None;
        }
        let cells = Cells::for_consensus(self.size);
        let homes: Vec<usize> = pairs.iter().map(|pair| cells.of(pair.to)).collect();
        let mut crowd = vec![0.0_f64; cells.count()];
        homes.iter().for_each(|&home| crowd[home] += 1.0);
        let weights: Vec<f64> = homes.iter().map(|&home| crowd[home].powf(-0.6)).collect();
        let mut best = guess.map(|map| (self.cost(map, pairs, &weights, f64::MAX), *map));
        let mut random = ChaCha8Rng::seed_from_u64(self.seed);
        let every: Vec<usize> = (0..pairs.len()).collect();
        for _ in 0..SAMPLES {
            let four: Vec<usize> = every.sample(&mut random, 4).copied().collect();
            let apart = (0..4).all(|a| (0..a).all(|b| homes[four[a]] != homes[four[b]]));
            if !apart {
                continue;
            }
            let sample = four.iter().map(|&i| (&pairs[i], 1.0));
            let Some(map) = PictureMap::fit(sample, self.size) else { continue };
            let limit = best.map_or(f64::MAX, |(cost, _)| cost);
            let cost = self.cost(&map, pairs, &weights, limit);
            if cost < limit {
                best = Some((cost, map));
            }
        }
        self.settle(best?.1, pairs, &weights)
    }

    /// Fits the map again to those that agree, the farther ones with less weight.
    pub(super) fn settle(
        &self,
        start: PictureMap,
        pairs: &[Pair],
        weights: &[f64],
    ) -> Option<Consensus> {
        let mut map = start;
        for _ in 0..ROUNDS {
            let weighed = pairs.iter().zip(weights).filter_map(|(pair, weight)| {
                let off = map.misses(pair);
                (off < self.slack_px).then(|| {
                    let ratio = off / self.core_px;
                    (pair, weight / (1.0 + ratio * ratio))
                })
            });
            map = PictureMap::fit(weighed, self.size).unwrap_or(map);
        }
        let agrees: Vec<bool> = pairs.iter().map(|pair| map.misses(pair) < self.slack_px).collect();
        let count = agrees.iter().filter(|&&agrees| agrees).count();
        (count >= 8).then_some(Consensus { map, agrees, count })
    }

    /// Sum of truncated squares; stops early beyond `limit`.
    fn cost(&self, map: &PictureMap, pairs: &[Pair], weights: &[f64], limit: f64) -> f64 {
        let mut sum = 0.0;
        for (pair, weight) in pairs.iter().zip(weights) {
            let ratio = map.misses(pair) / self.slack_px;
            sum += weight * (ratio * ratio).min(1.0);
            if sum > limit {
                break;
            }
        }
        sum
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::FramePoint;

    #[test]
    fn a_crowd_that_moves_otherwise_is_outvoted() {
        let size = PictureSize { width: 640, height: 360 };
        let still =
            (0..60).map(|i| FramePoint::new(f64::from(i * 97 % 630), f64::from(i * 53 % 350)));
        let horse = (0..90).map(|i| {
            FramePoint::new(280.0 + f64::from(i % 9) * 9.0, 150.0 + f64::from(i / 9) * 9.0)
        });
        let mut pairs: Vec<Pair> = still
            .map(|from| Pair { from, to: FramePoint::new(from.x - 12.0, from.y + 1.0) })
            .collect();
        pairs.extend(horse.map(|from| Pair { from, to: from }));
        let judge = Judge { size, slack_px: 1.0, core_px: 0.3, seed: 5 };
        let found = judge.agree(&pairs, None).unwrap();
        assert_eq!(found.count, 60);
        assert!(found.agrees[..60].iter().all(|&agrees| agrees));
        let again = judge.agree(&pairs, None).unwrap();
        assert_eq!(found.map, again.map);
        assert!(judge.agree(&pairs[..7], None).is_none());
    }
}
