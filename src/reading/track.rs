//! Line and track: where and how the fence was met, how the track bent, where it became straight.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::answer::Answer;
use super::settings::Settings;
use crate::quantity::{Degrees, Estimate, Metres, Unit};
use crate::stride::{ApproachDraws, ApproachMeasurement};

/// The track as a rider sees it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct TrackReading {
    /// Side offset from the middle of the ground line; positive to the left.
    pub offset_m: Estimate<Metres>,
    /// Angle off square; positive when heading to the left.
    pub angle_deg: Estimate<Degrees>,
    /// How far the track goes aside over the last three strides from where it headed before them;
    /// positive to the left.
    pub drift_m: Estimate<Metres>,
    /// The strides that is over.
    pub drift_strides: u32,
    /// Radius of the bend, metres, without its side; `None` where its side cannot be told.
    pub bend_radius_m: Option<Estimate<Metres>>,
    /// The farthest stride from which the track was surely straight to the fence; `None` where that
    /// cannot be said even of the last.
    pub straight_from: Option<i32>,
    /// Whether that is the first stride of the approach.
    pub is_straight_all_the_way: bool,
    /// Whether the track was straight from the stride before that one on, or, where nothing is surely
    /// straight, from the last one on. `None` where there is no stride before it, or none with a length.
    pub straight_before: Option<Answer>,
    /// Probability that it was straight from `straight_from` on, 0 to 1.
    pub straight_probability: f64,
    /// Straight is within this.
    pub straight_within_m: Metres,
}

/// Strides that drift is looked at over.
const DRIFT_STRIDES: usize = 3;

/// Reads the track; `None` where the fence or the way was not measured.
pub(super) fn read_track(
    approach: &ApproachMeasurement,
    draws: &ApproachDraws,
    settings: &Settings,
) -> Option<TrackReading> {
    let track = approach.track.as_ref()?;
    if draws.track.is_empty() {
        return None;
    }
    // How far before the fence each stride begins, metres, the last first.
    let take_off = approach.take_off.as_ref().map_or(0.0, |edge| edge.distance_m.value.get());
    let mut begins = Vec::new();
    let mut way = take_off.max(0.0);
    for row in approach.strides.iter().rev() {
        let Some(length) = &row.length_m else { break };
        way += length.value.get();
        begins.push((row.number, way));
    }
    // One stride is always straight.
    if begins.len() < 2 {
        return None;
    }
    let drift_strides = begins.len().min(DRIFT_STRIDES);
    let over = begins.get(drift_strides.checked_sub(1)?)?.1;
    let bends: Vec<f64> = draws.track.iter().map(|draw| draw.bend_per_m).collect();
    let aside = |bend: f64, way: f64| bend * way * way / 2.0;
    let drift = bends.iter().map(|bend| aside(*bend, over)).collect();
    let within = settings.straight_within_m.get();
    let straight = |way: f64| {
        Answer::of(bends.iter().map(|bend| aside(*bend, way).abs() <= within), settings.sure)
    };
    let answers: Vec<(i32, Answer)> =
        begins.iter().filter_map(|(number, way)| Some((*number, straight(*way)?))).collect();
    let sure = answers.iter().take_while(|(_, answer)| answer.is_yes()).count();
    let straight_from = sure.checked_sub(1).and_then(|last| answers.get(last));
    let first = approach.strides.first().map(|row| row.number);
    Some(TrackReading {
        offset_m: track.offset_m,
        angle_deg: track.angle_deg,
        drift_m: Estimate::from_draws(aside(track.bend_per_m, over), drift)?,
        drift_strides: drift_strides as u32,
        bend_radius_m: radius(track.bend_per_m, &bends),
        is_straight_all_the_way: straight_from.is_some_and(|(number, _)| Some(*number) == first),
        straight_from: straight_from.map(|(number, _)| *number),
        straight_probability: straight_from
            .and_then(|(_, answer)| answer.probability())
            .unwrap_or_default(),
        straight_before: answers.get(sure).map(|(_, answer)| answer.clone()),
        straight_within_m: settings.straight_within_m,
    })
}

/// The radius, where nearly all draws bend to one side.
fn radius(bend: f64, draws: &[f64]) -> Option<Estimate<Metres>> {
    let same = draws.iter().filter(|one| **one * bend > 0.0).count() as f64;
    if same < 0.975 * draws.len() as f64 {
        return None;
    }
    // A draw that bends hardly at all has a radius beyond any arena.
    const WIDEST_M: f64 = 1000.0;
    let radii = draws
        .iter()
        .map(|one| if *one * bend > 0.0 { one.abs().recip().min(WIDEST_M) } else { WIDEST_M });
    Estimate::from_draws(bend.abs().recip(), radii.collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, SEVEN};
    use crate::stride::TrackDraw;

    fn read(bend: f64, half: f64) -> TrackReading {
        let mut approach = sample::approach(SEVEN);
        approach.track.as_mut().unwrap().bend_per_m = bend;
        let track = (0..201)
            .map(|k| TrackDraw {
                offset_m: 0.2,
                angle_deg: -2.0,
                bend_per_m: bend + half * (f64::from(k) - 100.0) / 100.0,
            })
            .collect();
        let draws = ApproachDraws { track, ..ApproachDraws::default() };
        read_track(&approach, &draws, &Settings::default()).unwrap()
    }

    #[test]
    fn a_bend_is_straight_up_to_where_it_leaves_its_tangent() {
        // Strides of about 3.5 m, take-off 1.78 m: stride −1 begins some 5.3 m before the fence, −2
        // 8.8 m. A bend of 1/100 goes aside 0.30 m over 7.75 m.
        let bent = read(0.01, 0.0001);
        assert_eq!(bent.straight_from, Some(-1));
        assert!(matches!(bent.straight_before, Some(Answer::No { .. })), "{bent:?}");
        assert!((bent.bend_radius_m.unwrap().value.get() - 100.0).abs() < 1e-9);
        // Over three strides, about 12.4 m: 0.77 m to the left.
        assert!((bent.drift_m.value.get() - 0.77).abs() < 0.06, "{:?}", bent.drift_m);
        let straight = read(0.0, 0.0003);
        assert_eq!((straight.straight_from, &straight.straight_before), (Some(-7), &None));
        assert!(straight.is_straight_all_the_way);
        // A radius of 30 m leaves its tangent by 0.47 m over the 5.3 m of the last stride.
        let crooked = read(1.0 / 30.0, 0.0005);
        assert_eq!(crooked.straight_from, None);
        assert!(matches!(crooked.straight_before, Some(Answer::No { .. })), "{crooked:?}");
        // A bend that may be none: from far off nothing can be said.
        let unclear = read(0.004, 0.01);
        assert!(matches!(unclear.straight_before, Some(Answer::CannotTell { .. })), "{unclear:?}");
        assert_eq!(straight.bend_radius_m, None);
    }

    #[test]
    fn without_a_fence_or_draws_there_is_no_track() {
        let mut approach = sample::approach(SEVEN);
        let settings = Settings::default();
        assert_eq!(read_track(&approach, &ApproachDraws::default(), &settings), None);
        approach.track = None;
        assert_eq!(read_track(&approach, &ApproachDraws::default(), &settings), None);
    }
}
