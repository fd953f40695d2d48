//! Line and track.

use super::sentence::Sentence;
use super::text_key::TextKey;
use super::values::{Teller, Values};
use crate::quantity::{Estimate, Unit, written};
use crate::reading::{Answer, TrackReading};

pub(super) fn about_track(teller: &Teller, track: &TrackReading) -> Vec<Sentence> {
    let met = Values::default()
        .with(
            "where",
            sided(teller, &track.offset_m, ["near_middle", "left_of_middle", "right_of_middle"]),
        )
        .with(
            "way",
            sided(teller, &track.angle_deg, ["square", "left_of_square", "right_of_square"]),
        );
    let mut said = vec![teller.say(TextKey::TrackMet, &met, vec![-1])];
    let last_strides: Vec<i32> = (-(track.drift_strides as i32)..0).collect();
    let within = || Values::default().with("within", teller.setting(track.straight_within_m));
    let sure = || within().with("probability", teller.probability(track.straight_probability));
    said.push(match (track.straight_from, &track.straight_before) {
        (Some(from), _) if track.is_straight_all_the_way => {
            teller.say(TextKey::TrackStraight, &sure(), (from..0).collect())
        }
        (Some(from), before) => {
            let key = match before {
                Some(Answer::No { .. }) => TextKey::TrackStraightOnlyFrom,
                _ => TextKey::TrackStraightFrom,
            };
            let values = sure().with("from", teller.stride(from));
            teller.say(key, &values, (from..0).collect())
        }
        (None, Some(Answer::No { probability })) => {
            let values = within().with("probability", teller.probability(1.0 - probability));
            teller.say(TextKey::TrackCrooked, &values, vec![-1])
        }
        (None, _) => teller.say(TextKey::TrackNotStraight, &within(), vec![-1]),
    });
    if let Some(radius) = track.bend_radius_m.filter(|_| !track.is_straight_all_the_way) {
        let values = Values::default()
            .with("side", teller.side(&track.drift_m))
            .with("radius", teller.number(&radius))
            .with("drift", teller.size(&track.drift_m))
            .with("strides", teller.texts.number(track.drift_strides));
        said.push(teller.say(TextKey::TrackBends, &values, last_strides));
    }
    said.into_iter().flatten().collect()
}

/// Where the turn was left, if the coach said so.
pub(super) fn about_turn(teller: &Teller, left_turn_at: Option<i32>) -> Option<Sentence> {
    let from = left_turn_at?;
    let values = Values::default().with("from", teller.stride(from));
    teller.say(TextKey::TurnLeft, &values, vec![from])
}

/// A number that is positive to the left: which side, or that its ± hides the side.
fn sided<U: Unit>(
    teller: &Teller,
    estimate: &Estimate<U>,
    [neither, left, right]: [&str; 3],
) -> String {
    if estimate.low95.get() <= 0.0 && estimate.high95.get() >= 0.0 {
        // How far it may be on either side.
        let most = estimate.high95.get().max(-estimate.low95.get());
        let room = Estimate { value: U::new(most), ..*estimate };
        let written = written(&room, teller.units);
        let written = format!("{}{}", written.value, written.unit_behind());
        return teller.texts.word_with(neither, &written);
    }
    let side = if estimate.value.get() >= 0.0 { left } else { right };
    teller.texts.word_with(side, &teller.size(estimate))
}
