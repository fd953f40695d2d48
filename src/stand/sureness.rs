//! What a place is judged by: how sure a coach can be of what she acts on.
//!
//! Where a horse chips in or stands off is seen in take-off and in the last strides before it, so the
//! largest ± of these comes first. The strides farther out have the larger ± almost everywhere; were
//! places judged by them, take-off would be given away for a stride nobody corrects. They break ties.

use schemars::JsonSchema;
use serde::Serialize;

use super::expectation::Expectation;
use crate::quantity::{Metres, Unit};

/// So many strides before the fence are judged beside take-off.
pub(super) const NEAR_STRIDES: u32 = 3;
/// A centimetre of the largest ± near the fence counts as much as ten of the root mean square of all.
const TIE_BREAK: f64 = 0.1;

/// How places are compared, in words for terminal and picture.
pub const JUDGED_BY: &str = "places are compared by the largest ± of take-off and the last three \
     strides, and where that is alike by all of them";

/// The ± of one number.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Named {
    /// Which stride; `None` for the take-off.
    pub stride: Option<i32>,
    /// Half the 95 % interval.
    pub plus_minus_m: Metres,
}

/// What a place is judged by.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Sureness {
    /// How many strides are wanted beside the take-off.
    pub strides: u32,
    /// The least sure of take-off and the last three strides: by it places are compared.
    pub judged: Named,
    /// The least sure of all that is wanted.
    pub largest: Named,
}

/// The ± of all that is wanted: take-off first, then the strides from the last one back.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Wanted(Vec<Named>);

impl Wanted {
    /// From one place; `None` unless all of it can be measured there.
    pub fn of(from: &Expectation) -> Option<Self> {
        let take_off = Named { stride: None, plus_minus_m: from.take_off_plus_minus_m? };
        let strides = from.strides.iter().rev().map(|row| {
            let plus_minus_m = row.length_plus_minus_m?;
            Some(Named { stride: Some(row.number), plus_minus_m })
        });
        Some(Self([Some(take_off)].into_iter().chain(strides).collect::<Option<_>>()?))
    }

    /// Take-off and the last strides.
    fn near(&self) -> &[Named] {
        &self.0[..self.0.len().min(NEAR_STRIDES as usize + 1)]
    }

    /// What it comes to.
    pub fn sureness(&self) -> Option<Sureness> {
        let strides = self.0.len() as u32 - 1;
        Some(Sureness { strides, judged: largest(self.near())?, largest: largest(&self.0)? })
    }

    /// What is made small, metres.
    pub fn price_m(&self) -> f64 {
        let near = self.near().iter().map(|named| named.plus_minus_m.get()).fold(0.0, f64::max);
        let squares: f64 = self.0.iter().map(|named| named.plus_minus_m.get().powi(2)).sum();
        near + TIE_BREAK * (squares / self.0.len().max(1) as f64).sqrt()
    }

    /// Whether going there is worth what it costs: no number near the fence may lose as much as
    /// their largest ± gains.
    pub fn is_worth_leaving_for(&self, there: &Self) -> bool {
        let largest_m = |of: &Self| largest(of.near()).map_or(0.0, |n| n.plus_minus_m.get());
        let gain_m = largest_m(self) - largest_m(there);
        let pairs = self.near().iter().zip(there.near());
        let loss_m = pairs
            .map(|(here, there)| there.plus_minus_m.get() - here.plus_minus_m.get())
            .fold(0.0, f64::max);
        gain_m > loss_m
    }
}

/// The first of the largest.
fn largest(of: &[Named]) -> Option<Named> {
    of.iter().copied().reduce(|a, b| if b.plus_minus_m > a.plus_minus_m { b } else { a })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Take-off, then strides −1, −2 … in centimetres.
    fn wanted(cm: &[f64]) -> Wanted {
        let named = |(at, cm): (usize, &f64)| Named {
            stride: (at > 0).then(|| -(at as i32)),
            plus_minus_m: Metres::new(cm / 100.0),
        };
        Wanted(cm.iter().enumerate().map(named).collect())
    }

    #[test]
    fn the_end_of_the_approach_comes_first_and_the_rest_breaks_ties() {
        let of = |cm: &[f64]| wanted(cm).sureness().unwrap();
        let all = of(&[7.0, 11.0, 12.0, 17.0, 24.0, 34.0]);
        assert_eq!((all.judged.stride, all.largest.stride, all.strides), (Some(-3), Some(-5), 5));
        assert_eq!(of(&[14.0, 9.0]).judged.stride, None);
        // A far stride does not buy a near one …
        let sure_near = wanted(&[7.0, 8.0, 9.0, 10.0, 30.0, 40.0]);
        let sure_far = wanted(&[12.0, 13.0, 14.0, 15.0, 18.0, 22.0]);
        assert!(sure_near.price_m() < sure_far.price_m());
        // … but of places alike near the fence the one with the surer far strides is taken.
        let alike = wanted(&[7.0, 8.0, 9.0, 10.0, 20.0, 25.0]);
        assert!(alike.price_m() < sure_near.price_m());
    }

    #[test]
    fn nobody_is_sent_away_for_less_than_it_costs() {
        let here = wanted(&[7.0, 9.0, 12.0, 17.0]);
        assert!(here.is_worth_leaving_for(&wanted(&[9.0, 10.0, 11.0, 13.0])));
        // Four centimetres gained on stride −3, five lost at take-off.
        assert!(!here.is_worth_leaving_for(&wanted(&[12.0, 10.0, 11.0, 13.0])));
        assert!(!here.is_worth_leaving_for(&here));
    }
}
