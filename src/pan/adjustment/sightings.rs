//! The tracks of one piece turned round: by point, the key frames that see it.

use std::collections::BTreeMap;

use nalgebra::Vector2;

use super::tracks::TrackedFrame;

/// Sightings claimed to be better than this are not believed: pixels have a grain.
const LEAST_SD_PX: f64 = 0.03;

/// One point in one key frame.
#[derive(Clone, Copy, Debug)]
pub(super) struct KeySighting {
    /// Index of the key frame in the piece.
    pub key: usize,
    /// Where, pixels.
    pub at: Vector2<f64>,
    /// Standard deviation, pixels.
    pub sd: f64,
    /// Whether it is believed.
    pub used: bool,
}

/// One point.
#[derive(Clone, Debug)]
pub(super) struct PointSightings {
    /// Its number in the tracks.
    pub point: u32,
    /// The key frames that see it, in order; two or more.
    pub seen: Vec<KeySighting>,
}

impl PointSightings {
    /// The sightings that are believed.
    pub fn used(&self) -> impl Iterator<Item = &KeySighting> {
        self.seen.iter().filter(|sighting| sighting.used)
    }
}

/// The standard deviation a sighting is given.
pub(super) fn believed_sd(stated: f32) -> f64 {
    f64::from(stated).max(LEAST_SD_PX)
}

/// Points of `keys`, in the order of their numbers; a point seen once ties nothing together and
/// is left out.
pub(super) fn by_point(keys: &[&TrackedFrame]) -> Vec<PointSightings> {
    let mut points: BTreeMap<u32, Vec<KeySighting>> = BTreeMap::new();
    for (key, frame) in keys.iter().enumerate() {
        for sighting in &frame.sightings {
            let seen = points.entry(sighting.point).or_default();
            // A frame that lists a point twice is not asked which of the two is right.
            if seen.last().is_some_and(|last| last.key == key) {
                continue;
            }
            seen.push(KeySighting {
                key,
                at: sighting.at.vector(),
                sd: believed_sd(sighting.sd_px),
                used: true,
            });
        }
    }
    points
        .into_iter()
        .filter(|(_, seen)| seen.len() >= 2)
        .map(|(point, seen)| PointSightings { point, seen })
        .collect()
}
