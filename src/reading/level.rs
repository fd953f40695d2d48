//! Level or not, against the coach's tolerance.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::answer::{Answer, Lack};
use super::settings::Settings;
use crate::quantity::{Metres, Unit};
use crate::stride::{ApproachDraws, ApproachMeasurement, Levelness};

/// How even the strides were, and whether that is level.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LevelReading {
    /// Whether each stride lies within the tolerance of their mean, or of the length that was set.
    pub is_level: Answer,
    /// The coach's tolerance.
    pub within_m: Metres,
    /// The length it lies about; `None` for the mean of the strides.
    pub about_m: Option<Metres>,
    /// The strides, in the order ridden.
    pub strides: Vec<i32>,
    /// The stride that is most often the farthest from it; `None` where nothing was measured.
    pub farthest: Option<i32>,
    /// In what share of the draws it is, 0 to 1.
    pub farthest_probability: f64,
    /// Their numbers; `None` for fewer than three strides.
    pub levelness: Option<Levelness>,
}

/// Reads how level the strides were.
pub(super) fn read_level(
    approach: &ApproachMeasurement,
    draws: &ApproachDraws,
    settings: &Settings,
) -> LevelReading {
    let within = settings.level_within_m.get();
    let about = settings.level_about_m.map(Metres::get);
    let farthest = |lengths: &Vec<f64>| farthest(lengths, about);
    let is_level = |lengths: &Vec<f64>| farthest(lengths).is_some_and(|(_, off)| off <= within);
    let answer = Answer::of(draws.lengths_m.iter().map(is_level), settings.sure);
    let mut counts = vec![0_usize; draws.stride_numbers.len()];
    for (at, _) in draws.lengths_m.iter().filter_map(farthest) {
        counts[at] += 1;
    }
    let most = counts.iter().enumerate().max_by_key(|(_, count)| **count);
    let all = counts.iter().sum::<usize>().max(1) as f64;
    LevelReading {
        is_level: answer.unwrap_or(Answer::Lacks { lack: Lack::Strides }),
        within_m: settings.level_within_m,
        about_m: settings.level_about_m,
        strides: draws.stride_numbers.clone(),
        farthest: most.and_then(|(at, _)| draws.stride_numbers.get(at)).copied(),
        farthest_probability: most.map_or(0.0, |(_, count)| *count as f64 / all),
        levelness: approach.levelness.clone(),
    }
}

/// Which length lies farthest from `about`, or from the mean, and how far, metres.
fn farthest(lengths: &[f64], about: Option<f64>) -> Option<(usize, f64)> {
    let about = about.unwrap_or(lengths.iter().sum::<f64>() / lengths.len() as f64);
    let off = lengths.iter().map(|length| (length - about).abs());
    off.enumerate().max_by(|a, b| a.1.total_cmp(&b.1))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, SEVEN};
    use crate::reading::sample::drawn;

    #[test]
    fn level_is_within_the_tolerance_of_the_mean() {
        // Means of 3.5 m; the last of them 0.28 m off, then 0.32 m.
        let near = [3.54, 3.54, 3.54, 3.54, 3.54, 3.52, 3.28];
        let approach = sample::approach(SEVEN);
        let settings = Settings::default();
        let read =
            |lengths: &[f64], sd| read_level(&approach, &drawn(lengths, sd, 1.8, 0.01), &settings);
        let level = read(&near, 0.01);
        assert!(level.is_level.is_yes(), "{:?}", level.is_level);
        assert_eq!(level.farthest, Some(-1));
        let far = [3.55, 3.55, 3.56, 3.56, 3.56, 3.56, 3.15];
        assert!(matches!(read(&far, 0.01).is_level, Answer::No { .. }));
        assert!(matches!(read(&near, 0.15).is_level, Answer::CannotTell { .. }));
        // About a length of the coach's own the same strides are not level.
        let set = Settings { level_about_m: Some(Metres::new(3.0)), ..settings };
        let read = read_level(&approach, &drawn(&near, 0.01, 1.8, 0.01), &set);
        assert!(matches!(read.is_level, Answer::No { .. }), "{:?}", read.is_level);
        let none = read_level(&approach, &ApproachDraws::default(), &settings);
        assert_eq!(none.is_level, Answer::Lacks { lack: Lack::Strides });
        assert_eq!(none.farthest, None);
    }
}
