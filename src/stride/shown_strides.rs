//! Which stride lengths a horse has shown.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::outcome::ApproachMeasurement;
use super::pace_changes::PACE_TOLERANCE;
use crate::quantity::{Estimate, Metres, Unit};

/// What lies between two shown strides counts as shown where they differ by no more than this share of
/// the shorter one: it is within one change of pace of either. A chip of 2.5 m beside strides of 3.5 m
/// says nothing of 3.0 m.
const BRIDGED: f64 = 2.0 * PACE_TOLERANCE / 100.0;

/// The strides that a horse may have shown, by their 95 % intervals.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ShownStrides {
    /// Spans of length without a gap worth the name, the shortest strides first; at least one.
    pub spans: Vec<StrideSpan>,
    /// How many rounds they are of.
    pub rounds: u32,
    /// How many marks files were looked at and could not be counted.
    pub left_out: u32,
}

/// A span of stride lengths.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct StrideSpan {
    /// Low end of the interval of the shortest.
    pub low_m: Metres,
    /// The shortest itself.
    pub shortest_m: Metres,
    /// The longest.
    pub longest_m: Metres,
    /// High end of its interval.
    pub high_m: Metres,
}

impl ShownStrides {
    /// Of one round; `None` where no stride of it has a length.
    pub fn of_round(lengths: impl IntoIterator<Item = Estimate<Metres>>) -> Option<Self> {
        let one = |length: Estimate<Metres>| StrideSpan {
            low_m: length.low95,
            shortest_m: length.value,
            longest_m: length.value,
            high_m: length.high95,
        };
        let spans = joined(lengths.into_iter().map(one).collect());
        (!spans.is_empty()).then_some(Self { spans, rounds: 1, left_out: 0 })
    }

    /// Of all approaches of a measured round.
    pub fn of_approaches<'a>(
        approaches: impl IntoIterator<Item = &'a ApproachMeasurement>,
    ) -> Option<Self> {
        let rows = approaches.into_iter().flat_map(|approach| &approach.strides);
        Self::of_round(rows.filter_map(|row| row.length_m))
    }

    /// These and those of other rounds of the horse.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            spans: joined([self.spans, other.spans].concat()),
            rounds: self.rounds + other.rounds,
            left_out: self.left_out + other.left_out,
        }
    }

    /// Whether such a stride may be among them.
    pub fn may_hold(&self, stride: Metres) -> bool {
        let holds = |span: &StrideSpan| span.low_m <= stride && stride <= span.high_m;
        self.spans.iter().any(holds)
    }
}

/// Spans whose strides lie close, or whose intervals overlap, as one.
fn joined(mut spans: Vec<StrideSpan>) -> Vec<StrideSpan> {
    spans.sort_by(|a, b| a.shortest_m.get().total_cmp(&b.shortest_m.get()));
    let mut all: Vec<StrideSpan> = Vec::new();
    for span in spans {
        match all.last_mut() {
            Some(last) if last.reaches(&span) => {
                let (least, most) = (f64::min as fn(f64, f64) -> f64, f64::max as _);
                last.low_m = of_both(least, last.low_m, span.low_m);
                last.longest_m = of_both(most, last.longest_m, span.longest_m);
                last.high_m = of_both(most, last.high_m, span.high_m);
            }
            _ => all.push(span),
        }
    }
    all
}

fn of_both(pick: fn(f64, f64) -> f64, one: Metres, other: Metres) -> Metres {
    Metres::new(pick(one.get(), other.get()))
}

impl StrideSpan {
    /// Whether nothing lies between this and a span of longer strides.
    fn reaches(&self, longer: &Self) -> bool {
        let is_near = longer.shortest_m.get() <= self.longest_m.get() * (1.0 + BRIDGED);
        is_near || longer.low_m <= self.high_m
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::sample::estimate;

    fn of(lengths: &[f64]) -> Option<ShownStrides> {
        ShownStrides::of_round(lengths.iter().map(|length| estimate(*length, 0.06)))
    }

    #[test]
    fn rounds_together_show_what_either_shows() {
        assert_eq!(of(&[]), None);
        let (one, other) = (of(&[3.5, 3.4]).unwrap(), of(&[3.7]).unwrap());
        let [span] = one.spans[..] else { panic!("{one:?}") };
        assert!((span.low_m.get() - 3.34).abs() < 1e-9 && (span.high_m.get() - 3.56).abs() < 1e-9);
        assert!(!one.may_hold(Metres::new(3.6)));
        let both = one.and(other);
        assert_eq!((both.spans.len(), both.rounds), (1, 2));
        assert!(both.may_hold(Metres::new(3.6)) && !both.may_hold(Metres::new(3.77)));
        assert!(!both.may_hold(Metres::new(f64::NAN)));
    }

    #[test]
    fn one_chip_does_not_show_what_lies_between() {
        let shown = of(&[3.5, 3.45, 2.5, 3.55]).unwrap();
        assert_eq!(shown.spans.len(), 2);
        let holds = [2.5, 2.6, 3.0, 3.3, 3.5].map(|length| shown.may_hold(Metres::new(length)));
        assert_eq!(holds, [true, false, false, false, true]);
        // A tenth of 3.50 is 0.35 m: between such strides nothing is new to the horse.
        assert_eq!(of(&[3.5, 3.84]).unwrap().spans.len(), 1);
        assert_eq!(of(&[3.5, 3.86]).unwrap().spans.len(), 2);
    }
}
