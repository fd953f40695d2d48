//! Which strides of a measured approach a plan rests on: the level ones, from leaving the turn on
//! where that frame is stated, as levelness counts them.
//!
//! A stride counts as level when its interval comes within [`LEVEL_PERCENT`] of the median of all:
//! only what is certainly off is left out. Where those are no majority of at least three, all are
//! taken and the plan says that they are uneven. No published limit of "level" exists; this one is
//! the tolerance by which changes of pace are counted.

use super::asked::{Stride, StrideBasis};
use crate::marks::MarksFile;
use crate::quantity::{Estimate, Metres, Unit, median};
use crate::stride::{ApproachMeasurement, PACE_TOLERANCE, ShownStrides, StrideRow};

/// How far from the median of all a level stride may be, per cent.
pub(super) const LEVEL_PERCENT: f64 = PACE_TOLERANCE;
/// Fewer strides have no mean worth planning from.
const LEAST_STRIDES: usize = 3;

/// An approach with too few measured strides.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "cannot plan from this approach: {found} of its strides{} have a length ({LEAST_STRIDES} needed)",
    from_the_turn(*.before_the_turn)
)]
pub struct TooFewStrides {
    /// Strides with a length.
    pub found: usize,
    /// Those that are not counted as they lie before the turn was left.
    pub before_the_turn: usize,
}

fn from_the_turn(before: usize) -> &'static str {
    if before == 0 { "" } else { " from the turn on" }
}

/// The stride of an approach of `file` as a plan takes it. `shown` is what the horse has shown in all
/// that is known of it, this approach included; `None` where nothing else is known.
///
/// Errors: fewer than three strides, from the turn on, have a length.
pub fn measured_stride(
    file: &MarksFile,
    approach: &ApproachMeasurement,
    shown: Option<ShownStrides>,
) -> Result<Stride, TooFewStrides> {
    let left = file.approach(&approach.approach).and_then(|marked| marked.left_turn_frame);
    let with_length = |row: &StrideRow| Some((row.number, row.length_m?));
    let all: Vec<(i32, Estimate<Metres>)> =
        approach.strides_from(left).filter_map(with_length).collect();
    let before_the_turn = approach.strides.iter().filter_map(with_length).count() - all.len();
    let too_few = TooFewStrides { found: all.len(), before_the_turn };
    let levelness = approach.levelness.as_ref().ok_or(too_few)?;
    let strides_m: Vec<Estimate<Metres>> = all.iter().map(|(_, length)| *length).collect();
    let lengths = approach.strides.iter().filter_map(|row| row.length_m);
    let here = ShownStrides::of_round(lengths).ok_or(too_few)?;
    let (basis, level) = basis(&all).ok_or(too_few)?;
    let (mean_m, scatter) = match basis {
        StrideBasis::LevelOnes { .. } => mean_of(&level),
        // The joint mean, and the spread without the errors of marking.
        StrideBasis::AllLevel | StrideBasis::Uneven => {
            let variation = levelness.variation_percent.value.get() / 100.0;
            (levelness.mean_m, variation * levelness.mean_m.value.get())
        }
    };
    Ok(Stride::Measured {
        mean_m,
        scatter_sd_m: Metres::new(scatter),
        shown: shown.unwrap_or(here),
        strides_m,
        before_the_turn: u32::try_from(before_the_turn).unwrap_or(u32::MAX),
        basis,
        pace_m_per_s: Some(levelness.mean_speed_m_per_s),
    })
}

/// Which strides are level; `None` for fewer than three in all.
fn basis(all: &[(i32, Estimate<Metres>)]) -> Option<(StrideBasis, Vec<Estimate<Metres>>)> {
    if all.len() < LEAST_STRIDES {
        return None;
    }
    let mut lengths: Vec<f64> = all.iter().map(|(_, length)| length.value.get()).collect();
    let middle = median(&mut lengths)?;
    let (low, high) =
        (middle * (1.0 - LEVEL_PERCENT / 100.0), middle * (1.0 + LEVEL_PERCENT / 100.0));
    let is_level =
        |length: &Estimate<Metres>| length.high95.get() >= low && length.low95.get() <= high;
    let level: Vec<_> = all.iter().filter(|(_, one)| is_level(one)).map(|(_, one)| *one).collect();
    let left_out: Vec<i32> =
        all.iter().filter(|(_, one)| !is_level(one)).map(|(number, _)| *number).collect();
    let basis = if left_out.is_empty() {
        StrideBasis::AllLevel
    } else if level.len() >= LEAST_STRIDES && level.len() > left_out.len() {
        StrideBasis::LevelOnes { left_out }
    } else {
        StrideBasis::Uneven
    };
    Some((basis, level))
}

/// Mean of some strides and their standard deviation, metres.
///
/// How their errors hang together is in the draws, which are not at hand. Whatever it is, the sd of
/// a mean is at most the mean of the sds (triangle inequality), and that much is stated.
fn mean_of(strides: &[Estimate<Metres>]) -> (Estimate<Metres>, f64) {
    let count = strides.len() as f64;
    let mean = |of: &dyn Fn(&Estimate<Metres>) -> f64| strides.iter().map(of).sum::<f64>() / count;
    let value = mean(&|one| one.value.get());
    let half = mean(&Estimate::plus_minus);
    let squares = mean(&|one| (one.value.get() - value).powi(2));
    let estimate = Estimate {
        value: Metres::new(value),
        sd: Metres::new(mean(&|one| one.sd.get())),
        low95: Metres::new(value - half),
        high95: Metres::new(value + half),
    };
    (estimate, (squares * count / (count - 1.0)).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::sample::estimate;

    fn numbered(lengths: &[f64]) -> Vec<(i32, Estimate<Metres>)> {
        let count = lengths.len() as i32;
        (-count..0).zip(lengths.iter().map(|length| estimate(*length, 0.06))).collect()
    }

    #[test]
    fn a_stride_that_is_certainly_off_is_left_out() {
        // Median 3.50, level from 3.325 to 3.675; 3.30 ± 0.06 may be, 3.00 ± 0.06 is not.
        let (found, level) = basis(&numbered(&[3.5, 3.52, 3.5, 3.3, 3.0])).unwrap();
        assert_eq!(found, StrideBasis::LevelOnes { left_out: vec![-1] });
        let (mean, scatter) = mean_of(&level);
        assert!((mean.value.get() - 3.455).abs() < 1e-9);
        // All errors as if they were one: ± 0.06, not less.
        assert!((mean.plus_minus() - 0.06).abs() < 1e-9);
        // Off the mean by 0.045, 0.065, 0.045, −0.155: squares 0.0323, over 3, root 0.10376.
        assert!((scatter - 0.103_763).abs() < 1e-5, "{scatter}");
    }

    #[test]
    fn level_strides_are_all_taken_and_uneven_ones_said_to_be() {
        assert_eq!(basis(&numbered(&[3.5, 3.6, 3.4])).unwrap().0, StrideBasis::AllLevel);
        // Median 3.3; level from 3.135 to 3.465: none of them is.
        let found = basis(&numbered(&[3.0, 3.6, 3.0, 3.6])).unwrap();
        assert_eq!((found.0, found.1.len()), (StrideBasis::Uneven, 0));
        assert_eq!(basis(&numbered(&[3.5, 3.5])), None);
    }
}
