//! A line: landing + take-off + n × this horse's stride.
//!
//! Landing and take-off are shares of the stride, so that the rule holds for ponies too (that they
//! scale so is common practice, no source). Both together, in strides:
//!
//! - half a stride over poles on the ground (one walked pace each side, R11);
//! - three quarters over fences up to 0.90 m (1.5 paces each side, R11; R3's 57 ft for four strides
//!   up to 3 ft is the same);
//! - a whole one from 1.00 m (2 paces from 0.90–1.00 m, R11; 6 ft + 6 ft, R1, R2, R6; R3's 60 ft);
//!   in between straight, our choice;
//! - in trot at most three quarters, for such lines begin with a low fence (common practice, no
//!   source), less half of the "up to 3 ft" that R21 takes off fences 1–2. With 12 ft that gives
//!   19 ft 6 in and 31 ft 6 in for one and two strides, amid the 18–20 and 30–33 of R1 and R5.
//!
//! The heights are the same for ponies: none was read for them. What a low fence takes off errs short
//! for a pony, to which such a fence is high.
//!
//! Low and high: half the 3 ft between the tables for low and for full fences (R3, R21), each way.
//! Where ground or horse ask for less, the aim moves by that half once.

use super::adjusting::{ADJUSTING_SHARE, Allowance, Version, strides_needed};
use super::asked::{Asked, Gait};
use super::asked_error::AskedError;
use super::beside::{Fitting, beside, envelope, fitting, outside};
use super::convention::conventions;
use super::distance::{Distance, DistanceRange};
use super::exercise::{Exercise, LONGEST_LINE};
use super::provenance::Seen;
use super::published::Published;
use super::rule::Rule;
use super::warning::{PlanWarning, ShortenedBy, Shortening};
use crate::quantity::{Metres, Unit};
use crate::stride::ShownStrides;

/// Landing and take-off over poles, low fences and full ones, strides.
const OVER_POLES: f64 = 0.5;
const OVER_LOW: f64 = 0.75;
const OVER_FULL: f64 = 1.0;
/// Up to here a fence is low, from here it is full, metres (R11).
const LOW_TO_M: f64 = 0.90;
const FULL_FROM_M: f64 = 1.00;
/// Nothing on the ground, metres: a tape laid along it is good to about 2 cm, 95 % (the sd of a taped
/// length is 0.01 m in section 4 of the design page; common practice, no source).
pub(super) const NOTHING_M: f64 = 0.02;
/// 3 ft of a 12-ft stride: what the tables differ by, and what a trot approach takes off at most.
const STEP: f64 = 0.25;

/// The line of `strides` strides (1 to [`LONGEST_LINE`]) for what is asked, beside `published`.
///
/// Errors: a stride, uncertainty, height, slope or number of strides that no plan is made for.
pub fn line(asked: &Asked, strides: u32, published: &Published) -> Result<Distance, AskedError> {
    asked.checked()?;
    if !(1..=LONGEST_LINE).contains(&strides) {
        return Err(AskedError::Strides { found: strides });
    }
    Ok(line_of(asked, strides, published))
}

/// The same for what was checked.
pub(super) fn line_of(asked: &Asked, strides: u32, published: &Published) -> Distance {
    let exercise = Exercise::Line { strides };
    let rows = fitting(exercise, asked, published);
    let allowance = landing_and_take_off(asked);
    let spans = f64::from(strides) + allowance.usual;
    let stride_m = asked.stride.length_m();
    let half_step = STEP / 2.0 * stride_m;
    let plus_minus = spans * asked.stride.plus_minus_m();
    let full = DistanceRange::around(spans * stride_m, [half_step; 2], plus_minus);
    let start_short = Shortening::to_the_short_end(asked, half_step);
    let length =
        if start_short.is_some() { full.started_short(half_step, plus_minus) } else { full };
    let shown = asked.stride.shown();
    let mut warnings: Vec<_> = stride_warning(length.aim_m.get() / spans, shown).collect();
    warnings.extend(table_warnings(&rows, length.aim_m));
    let mut parts = by_the_rule(asked, allowance.usual);
    parts.extend(start_short.clone());
    if !parts.is_empty() {
        warnings.push(PlanWarning::Shortened { parts });
    }
    let version = |factor: f64| {
        let version = length.times(factor);
        let stride = version.aim_m.get() / spans;
        let mut warnings: Vec<_> = stride_warning(stride, shown).collect();
        warnings.extend(table_warnings(&rows, version.aim_m));
        Version { length: version, stride_m: Metres::new(stride), warnings }
    };
    // Started short, a line is as short as it may be, and none that undoes it is offered.
    let is_full = start_short.is_none();
    let longer = version(1.0 + ADJUSTING_SHARE);
    let undoes = !is_full && longer.length.aim_m > full.aim_m;
    Distance {
        conventions: conventions(asked.size, asked.height_m, strides),
        beside: beside(&rows, length.aim_m),
        warnings,
        shorter: is_full.then(|| version(1.0 - ADJUSTING_SHARE)),
        longer: (!undoes).then_some(longer),
        needed: strides_needed(length.aim_m, strides, allowance, shown),
        ..Distance::single(exercise, length, Rule::LandingTakeOffAndStrides)
    }
}

/// What landing and take-off take together, for a line or a measured one that is asked about.
pub(super) fn landing_and_take_off(asked: &Asked) -> Allowance {
    let by_height = by_height(asked.height_m);
    let usual = match asked.gait {
        Gait::Canter => by_height,
        Gait::Trot => by_height.min(OVER_LOW) - STEP / 2.0,
    };
    Allowance { low: usual - STEP / 2.0, usual, high: usual + STEP / 2.0 }
}

/// The same in canter.
fn by_height(height_m: f64) -> f64 {
    let rise = ((height_m - LOW_TO_M) / (FULL_FROM_M - LOW_TO_M)).clamp(0.0, 1.0);
    if height_m == 0.0 { OVER_POLES } else { OVER_LOW + rise * (OVER_FULL - OVER_LOW) }
}

/// What height and gait take off (n+1) strides, each by itself, where landing and take-off take
/// `usual` strides.
fn by_the_rule(asked: &Asked, usual: f64) -> Vec<Shortening> {
    let by_height = by_height(asked.height_m);
    let low =
        if asked.height_m == 0.0 { ShortenedBy::PolesOnGround } else { ShortenedBy::LowFence };
    let all = [(low, OVER_FULL - by_height), (ShortenedBy::TrotApproach, by_height - usual)];
    let part = |(why, share): (ShortenedBy, f64)| Shortening {
        why: vec![why],
        by_m: Metres::new(share * asked.stride.length_m()),
    };
    all.into_iter().filter(|(_, share)| *share > 1e-9).map(part).collect()
}

/// That the horse has never shown a stride, if so.
pub(super) fn stride_warning(
    stride_m: f64,
    shown: Option<&ShownStrides>,
) -> impl Iterator<Item = PlanWarning> {
    let needed_m = Metres::new(stride_m);
    let never = shown.filter(|shown| !shown.may_hold(needed_m));
    let warning = never.cloned().map(|shown| PlanWarning::NeverShown { needed_m, shown });
    warning.into_iter()
}

/// What the rows say against `aim`.
pub(super) fn table_warnings(rows: &[Fitting<'_>], aim: Metres) -> Option<PlanWarning> {
    let Some((low_m, high_m)) = envelope(rows) else {
        let has_memory = rows.iter().any(|(row, _)| row.provenance.seen == Seen::Memory);
        let has_read = rows.iter().any(|(row, _)| row.provenance.seen.is_read());
        return Some(if has_memory && !has_read {
            PlanWarning::MemoryOnly
        } else {
            PlanWarning::NonePublished
        });
    };
    let by_m = outside(aim, Some(low_m), Some(high_m));
    (by_m.get().abs() > NOTHING_M).then_some(PlanWarning::OutsidePublished { low_m, high_m, by_m })
}

#[cfg(test)]
mod tests;
