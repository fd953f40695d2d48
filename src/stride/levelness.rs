//! How even the strides were: range, coefficient of variation, trend, means.

use nalgebra::{DMatrix, DVector};

use super::approach::Work;
use super::chance::Chance;
use super::outcome::{Levelness, StrideRow};
use super::pace_changes::{PACE_TOLERANCE, PaceChanges};
use super::scene_draw::SceneDraw;
use super::series::draw_true_lengths;
use crate::marks::Footfall;
use crate::quantity::{Estimate, MetresPerSecond, StridesPerMinute, seeded};

/// Fewer strides have no evenness to speak of.
const LEAST_STRIDES: usize = 3;

/// Levelness with the draws behind it, and what is counted on the same draws.
pub(super) struct Evenness {
    pub levelness: Levelness,
    pub pace_changes: PaceChanges,
    /// Numbers of its strides, in the order ridden.
    pub numbers: Vec<i32>,
    /// True lengths of those, metres, a draw each.
    pub length_draws: Vec<Vec<f64>>,
    /// Metres.
    pub mean_draws: Vec<f64>,
    /// Metres.
    pub range_draws: Vec<f64>,
    /// Per cent.
    pub variation_draws: Vec<f64>,
}

impl Work<'_> {
    /// Of the strides that begin when the turn is left or after; `None` for fewer than three of them
    /// with a length.
    pub(super) fn evenness(&self, strides: &[StrideRow]) -> Option<Evenness> {
        let rows: Vec<(i32, (&Footfall, &Footfall))> = strides
            .iter()
            .filter(|row| row.length_m.is_some())
            .filter_map(|row| {
                let find = |id: &str| self.approach.footfalls.iter().find(|f| f.id == id);
                Some((row.number, (find(&row.from_footfall)?, find(&row.to_footfall)?)))
            })
            .filter(|(_, (from, _))| {
                self.approach.left_turn_frame.is_none_or(|left| from.mark.frame >= left)
            })
            .collect();
        let lengths = |scene: SceneDraw<'_>| -> Option<Vec<(i32, f64)>> {
            rows.iter().map(|(number, pair)| Some((*number, self.length(scene, *pair)?))).collect()
        };
        let spread = |scene: SceneDraw<'_>| spread_of(&lengths(scene)?);
        let time = |late: Option<&Chance>| -> Option<f64> {
            rows.iter().map(|(_, pair)| self.duration(*pair, late)).sum()
        };
        let count = rows.len() as f64;
        let spread_behind = self.true_spread(&lengths)?;
        let range_draws: Vec<f64> = spread_behind.draws.iter().map(|s| s.range).collect();
        let variation_draws: Vec<f64> =
            spread_behind.draws.iter().map(|s| s.variation_percent).collect();
        let change_draws: Vec<f64> = spread_behind.draws.iter().map(|s| s.change).collect();
        let trend_draws: Vec<f64> = spread_behind.draws.iter().map(|s| s.trend).collect();
        let mean = |scene: SceneDraw<'_>, _: Option<&Chance>| Some(spread(scene)?.mean);
        let mean_draws = self.draws_of(mean)?;
        let levelness = Levelness {
            // The middle of the draws: the best guess of a spread, which has no number below zero to be
            // drawn about. The spread of the measured lengths themselves holds their errors as well, and
            // taking those off leaves nothing at all for a level approach.
            range_m: Estimate::about_median(range_draws.clone())?,
            variation_percent: Estimate::about_median(variation_draws.clone())?,
            change_m: Estimate::about_median(change_draws)?,
            trend_m_per_stride: Estimate::about_median(trend_draws)?,
            mean_m: Estimate::from_draws(mean(self.best(), None)?, mean_draws.clone())?,
            mean_speed_m_per_s: self.estimate::<MetresPerSecond>(|scene, late| {
                Some(count * spread(scene)?.mean / time(late)?)
            })?,
            mean_tempo_strides_per_min: self
                .estimate::<StridesPerMinute>(|_, late| Some(60.0 * count / time(late)?))?,
        };
        Some(Evenness {
            levelness,
            pace_changes: spread_behind.pace_changes,
            numbers: rows.iter().map(|(number, _)| *number).collect(),
            length_draws: spread_behind.lengths,
            mean_draws,
            range_draws,
            variation_draws,
        })
    }

    /// The spread of the true lengths behind the measured ones.
    fn true_spread(
        &self,
        lengths: &impl Fn(SceneDraw<'_>) -> Option<Vec<(i32, f64)>>,
    ) -> Option<TrueSpread> {
        let best = lengths(self.best())?;
        if best.len() < LEAST_STRIDES {
            return None;
        }
        let measured = DVector::from_iterator(best.len(), best.iter().map(|(_, length)| *length));
        let draws: Option<Vec<DVector<f64>>> = (0..self.places.count())
            .map(|draw| {
                let drawn = lengths(self.draw(draw))?;
                Some(DVector::from_iterator(drawn.len(), drawn.iter().map(|(_, length)| *length)))
            })
            .collect();
        let draws = DMatrix::from_columns(&draws?);
        let middle = draws.column_mean();
        let mut off = draws;
        for mut column in off.column_iter_mut() {
            column -= &middle;
        }
        let errors = &off * off.transpose() / (off.ncols() as f64 - 1.0);
        let mut random = seeded(self.seed);
        let truths = draw_true_lengths(&measured, &errors, off.ncols(), &mut random);
        let draws: Option<Vec<Spread>> = truths
            .column_iter()
            .map(|column| {
                let numbered = best.iter().zip(column.iter());
                spread_of(
                    &numbered.map(|((number, _), length)| (*number, *length)).collect::<Vec<_>>(),
                )
            })
            .collect();
        // Columns lie one after the other in memory.
        let pace_changes =
            PaceChanges::counted(truths.as_slice().chunks_exact(best.len()), PACE_TOLERANCE)?;
        let lengths = truths.column_iter().map(|column| column.iter().copied().collect()).collect();
        Some(TrueSpread { pace_changes, lengths, draws: draws? })
    }
}

/// The spread behind the measured one.
struct TrueSpread {
    /// Draws of the spread.
    draws: Vec<Spread>,
    /// The lengths they are the spread of, metres.
    lengths: Vec<Vec<f64>>,
    pace_changes: PaceChanges,
}

/// The numbers of one set of lengths; `None` for fewer than three strides.
pub(super) fn spread_of(lengths: &[(i32, f64)]) -> Option<Spread> {
    if lengths.len() < LEAST_STRIDES {
        return None;
    }
    let count = lengths.len() as f64;
    let mean = lengths.iter().map(|(_, length)| length).sum::<f64>() / count;
    let middle = lengths.iter().map(|(number, _)| f64::from(*number)).sum::<f64>() / count;
    let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
    let (mut squares, mut cross, mut numbers) = (0.0, 0.0, 0.0);
    let changes = lengths.windows(2).map(|pair| (pair[1].1 - pair[0].1).abs());
    let change = changes.sum::<f64>() / (count - 1.0);
    for (number, length) in lengths {
        least = least.min(*length);
        most = most.max(*length);
        let step = f64::from(*number) - middle;
        squares += (length - mean).powi(2);
        // The steps add up to nothing, so that it does not matter whence the lengths count.
        cross += step * length;
        numbers += step * step;
    }
    Some(Spread {
        range: most - least,
        variation_percent: 100.0 * (squares / (count - 1.0)).sqrt() / mean,
        change,
        trend: cross / numbers,
        mean,
    })
}

/// Spread of a set of stride lengths.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Spread {
    /// Longest minus shortest, metres.
    pub range: f64,
    /// Sample standard deviation over mean, per cent.
    pub variation_percent: f64,
    /// Mean change from one stride to the next, without its sign, metres.
    pub change: f64,
    /// Least-squares slope over stride number, metres a stride.
    pub trend: f64,
    /// Mean, metres.
    pub mean: f64,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spread_of_a_known_series() {
        // 3, 4, 5 m on strides −3, −2, −1: range 2, mean 4, sd 1 (25 %), slope 1 m a stride.
        let spread = spread_of(&[(-3, 3.0), (-2, 4.0), (-1, 5.0)]).unwrap();
        let expected =
            Spread { range: 2.0, variation_percent: 25.0, change: 1.0, trend: 1.0, mean: 4.0 };
        assert_eq!(spread, expected);
        assert_eq!(spread_of(&[(-2, 3.5), (-1, 3.6)]), None);
    }

    #[test]
    fn a_falling_series_has_a_trend_below_nothing() {
        // 4.0, 3.6, 3.5, 3.3 m on −4 … −1: mean 3.6; squares 0.16 + 0 + 0.01 + 0.09 = 0.26;
        // slope (−1.5·0.4 − 0.5·0 + 0.5·−0.1 + 1.5·−0.3) / 5 = −0.22.
        let spread = spread_of(&[(-4, 4.0), (-3, 3.6), (-2, 3.5), (-1, 3.3)]).unwrap();
        assert!((spread.mean - 3.6).abs() < 1e-12 && (spread.range - 0.7).abs() < 1e-12);
        assert!((spread.trend + 0.22).abs() < 1e-12, "{}", spread.trend);
        // 0.4, 0.1, 0.2 from one to the next.
        assert!((spread.change - 0.7 / 3.0).abs() < 1e-12);
        let variation = 100.0 * (0.26f64 / 3.0).sqrt() / 3.6;
        assert!((spread.variation_percent - variation).abs() < 1e-12);
    }
}
