//! Lines of two fences: which number of strides the line was built for, and which was ridden.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::poles::{LONGEST_LINE, METRIC_STRIDE_M, metric_line, twelve_foot_line};
use crate::quantity::{Estimate, Metres, Unit};
use crate::stride::{LineMeasurement, ShownStrides};

/// A line read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LineReading {
    /// What was measured.
    pub measured: LineMeasurement,
    /// The number of strides whose (n+1) × 12 ft lies nearest to the distance.
    pub built_for: u32,
    /// The same by (n+1) × 3.50 m.
    pub built_for_by_metric: u32,
    /// Another number that the distance may be of within its ±, by the 12-ft rule.
    pub may_be_for: Option<u32>,
    /// What lines for as many as it was built for, and as were ridden, measure by the two rules.
    pub rules: Vec<LineRule>,
    /// One less, as many and one more than were ridden.
    pub needed: Vec<NeededReading>,
    /// What the horse has shown; `None` where no stride was measured.
    pub shown: Option<ShownStrides>,
}

/// A line by the two rules of thumb.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LineRule {
    /// How many strides.
    pub strides: u32,
    /// (n+1) × 12 ft.
    pub twelve_foot_m: Metres,
    /// (n+1) × 3.50 m.
    pub metric_m: Metres,
}

/// What a number of strides would have needed of this horse.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct NeededReading {
    /// How many strides.
    pub strides: u32,
    /// How long each, in the mean.
    pub stride_m: Estimate<Metres>,
    /// Whether a stride as long or as short may have been among those measured.
    pub is_shown: bool,
}

impl LineReading {
    /// Another number of strides that fits the distance as well: within its ±, or by the other rule.
    pub fn fits_too(&self) -> Option<u32> {
        let by_metric = Some(self.built_for_by_metric).filter(|count| *count != self.built_for);
        let ridden = Some(self.measured.strides_taken);
        let may = [self.may_be_for, by_metric];
        may.into_iter().find(|count| *count == ridden).or(may.into_iter().find(Option::is_some))?
    }

    /// Whether surely another number was ridden than the distance is built for.
    pub fn is_another_number(&self) -> bool {
        let ridden = self.measured.strides_taken;
        ridden != self.built_for && self.fits_too() != Some(ridden)
    }
}

/// Reads a line of a horse that has shown such strides.
pub fn read_line(measured: &LineMeasurement, shown: Option<&ShownStrides>) -> LineReading {
    let needed = measured.needed.iter().map(|needed| NeededReading {
        strides: needed.strides,
        stride_m: needed.stride_m,
        is_shown: shown.is_some_and(|shown| shown.may_hold(needed.stride_m.value)),
    });
    let distance = &measured.distance_m;
    let by_feet = |metres: Metres| nearest(metres, twelve_foot_line);
    let by_metres = |strides: u32| metric_line(Metres::new(METRIC_STRIDE_M), strides);
    let built_for = by_feet(distance.value);
    let ends = [by_feet(distance.low95), by_feet(distance.high95)];
    let mut rules = vec![built_for];
    rules.extend((measured.strides_taken != built_for).then_some(measured.strides_taken));
    let rule = |strides: u32| LineRule {
        strides,
        twelve_foot_m: twelve_foot_line(strides),
        metric_m: by_metres(strides),
    };
    LineReading {
        built_for,
        built_for_by_metric: nearest(distance.value, by_metres),
        may_be_for: ends.into_iter().find(|end| *end != built_for),
        rules: rules.into_iter().map(rule).collect(),
        needed: needed.collect(),
        shown: shown.cloned(),
        measured: measured.clone(),
    }
}

/// The number of strides whose line by a rule lies nearest; 0 is a bounce.
fn nearest(distance: Metres, rule: impl Fn(u32) -> Metres) -> u32 {
    let off = |strides: u32| (rule(strides) - distance).get().abs();
    (0..=LONGEST_LINE).min_by(|a, b| off(*a).total_cmp(&off(*b))).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, SEVEN};
    use crate::quantity::sample::estimate;
    use crate::reading::sample::line;

    #[test]
    fn a_line_is_built_for_the_nearest_of_the_convention() {
        // (n+1) × 12 ft: 60 ft for four, 72 ft for five (R1, R4); 62 ft and 71 ft lie nearest to them.
        let built = |feet: f64| read_line(&line(feet * 0.3048, 4), None).built_for;
        assert_eq!([built(12.0), built(24.0), built(62.0), built(71.0)], [0, 1, 4, 5]);
        let five = read_line(&line(72.0 * 0.3048, 5), None);
        assert!((five.rules[0].twelve_foot_m.get() - 21.946).abs() < 5e-4);
        assert!((five.rules[0].metric_m.get() - 21.0).abs() < 1e-12);
        assert_eq!((five.built_for_by_metric, five.may_be_for, five.rules.len()), (5, None, 1));
        // 19.4 m: 60 ft are 18.29, 72 ft 21.95 m; by 3.50 m a stride 17.5 and 21.0 m.
        let other = read_line(&line(19.4, 5), None);
        assert_eq!((other.built_for, other.built_for_by_metric, other.rules.len()), (4, 5, 2));
        // The middle between the two is 20.12 m.
        assert_eq!(read_line(&line(20.05, 5), None).may_be_for, Some(5));
    }

    #[test]
    fn another_number_is_ridden_only_where_the_distance_says_so() {
        let read = |metres: f64, taken: u32| read_line(&line(metres, taken), None);
        // 60 ft in five: by strides of 3.50 m a five is 21 m.
        assert!(read(18.288, 5).is_another_number());
        // 19.4 m is a four by 12 ft and a five by 3.50 m.
        assert_eq!(read(19.4, 5).fits_too(), Some(5));
        assert!(!read(19.4, 5).is_another_number() && read(19.4, 6).is_another_number());
        // 20.05 ± 0.12 m may be either by 12 ft.
        assert!(!read(20.05, 5).is_another_number() && !read(20.05, 4).is_another_number());
    }

    #[test]
    fn what_this_horse_has_never_shown_is_said() {
        // The sample's strides lie between 3.42 and 3.71 m, ± 0.06.
        let mut measured = line(18.288, 4);
        for (needed, length) in measured.needed.iter_mut().zip([4.9, 3.6, 2.9]) {
            needed.stride_m = estimate(length, 0.1);
        }
        let flags = |shown: Option<ShownStrides>| {
            let read = read_line(&measured, shown.as_ref());
            read.needed.iter().map(|needed| needed.is_shown).collect::<Vec<bool>>()
        };
        let here = ShownStrides::of_approaches(&[sample::approach(SEVEN)]);
        assert_eq!(flags(here.clone()), [false, true, false]);
        assert_eq!(flags(None), [false; 3]);
        // Another round with one of 2.95 ± 0.1 m.
        let other = ShownStrides::of_round([estimate(2.95, 0.1)]).unwrap();
        assert_eq!(flags(here.map(|here| here.and(other))), [false, true, true]);
    }
}
