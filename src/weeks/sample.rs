//! Invented approaches of several weeks: what tests here, of drawing and of the sheet use.

use rand_distr::{Distribution, StandardNormal};

use super::{ComparedDraws, DatedApproach, NumberedStride, WeeksEntry};
use crate::marks::{Fence, Limb, Round};
use crate::quantity::sample::estimate;
use crate::quantity::{Percent, ThinnedDraws, Unit, seeded};
use crate::reading::FenceAsks;
use crate::stride::{EdgeDistance, FenceEdge, Levelness, PACE_TOLERANCE, PaceChanges};

/// Half of the 95 % interval of the sample's lengths, metres.
const HALF: f64 = 0.08;

/// Six strides about `length`, metres.
pub fn evenly(length: f64) -> [f64; 6] {
    [-0.03, 0.02, 0.0, -0.04, 0.03, 0.0].map(|off| length + off)
}

/// An approach with these strides, in the order ridden, and a take-off of 1.80 ± 0.08 m.
pub fn entry(file: &str, date: Option<&str>, fence: &str, lengths: &[f64]) -> WeeksEntry {
    let count = lengths.len() as i32;
    let mean = lengths.iter().sum::<f64>() / f64::from(count);
    let most = lengths.iter().copied().fold(f64::MIN, f64::max);
    let least = lengths.iter().copied().fold(f64::MAX, f64::min);
    let squares = lengths.iter().map(|length| (length - mean).powi(2)).sum::<f64>();
    let variation = 100.0 * (squares / f64::from(count - 1)).sqrt() / mean;
    let edge = |value, limb, edge| EdgeDistance {
        distance_m: estimate(value, HALF),
        limb,
        edge,
        footfall: "h".into(),
    };
    let numbered = lengths
        .iter()
        .zip(-count..)
        .map(|(length, number)| NumberedStride { number, length_m: Some(estimate(*length, HALF)) });
    WeeksEntry {
        approach: DatedApproach {
            file: file.into(),
            approach: "A-1".into(),
            date: date.map(Into::into),
            rider: "Maren Holt".into(),
            horse: "Juniper".into(),
            fence: fence.into(),
            fence_named: true,
            asks: FenceAsks::of(&Fence::new(fence), &Round::default()),
            strides: numbered.collect(),
            levelness: Some(Levelness {
                range_m: estimate(most - least, HALF),
                variation_percent: estimate(variation, 1.0),
                change_m: estimate((most - least) / 2.0, HALF),
                trend_m_per_stride: estimate(0.0, 0.02),
                mean_m: estimate(mean, HALF / 2.0),
                mean_speed_m_per_s: estimate(mean / 0.61, 0.1),
                mean_tempo_strides_per_min: estimate(98.0, 0.8),
            }),
            pace_changes: Some(PaceChanges {
                count: 1,
                probability: 0.8,
                probabilities: vec![0.2, 0.8],
                tolerance_percent: Percent::new(PACE_TOLERANCE),
            }),
            take_off: Some(edge(1.80, Limb::LeadingHind, FenceEdge::GroundLine)),
            landing: Some(edge(1.95, Limb::TrailingFore, FenceEdge::FarBase)),
            notes: Vec::new(),
            doubts: Vec::new(),
        },
        draws: ComparedDraws {
            mean_m: drawn(mean, HALF / 2.0),
            range_m: drawn(most - least, HALF),
            variation_percent: drawn(variation, 1.0),
            take_off_m: drawn(1.80, HALF),
        },
    }
}

fn drawn(value: f64, half: f64) -> Option<ThinnedDraws> {
    let mut random = seeded(3);
    let normal = |random: &mut _| -> f64 { StandardNormal.sample(random) };
    ThinnedDraws::of((0..2000).map(|_| value + half / 1.96 * normal(&mut random)).collect())
}
