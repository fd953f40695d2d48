//! Where the coach can stand.

use schemars::JsonSchema;
use serde::Serialize;

use super::error::StandError;
use super::lesson::Lesson;
use super::phone::Phone;

/// A range of metres.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Within {
    /// Lower end.
    pub low_m: f64,
    /// Upper end.
    pub high_m: f64,
}

/// Places among which the best is sought.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Bounds {
    /// Away from the track.
    pub distance: Within,
    /// Along it, metres before the fence.
    pub before_fence: Within,
    /// Height of the lens.
    pub height: Within,
}

/// Nearer to the track no phone is put (common practice, no source).
pub const LEAST_DISTANCE_M: f64 = 4.0;

impl Within {
    /// From `low_m` to `high_m`.
    pub const fn new(low_m: f64, high_m: f64) -> Self {
        Self { low_m, high_m }
    }

    /// The value of the range nearest to `metres`.
    pub fn nearest(&self, metres: f64) -> f64 {
        metres.clamp(self.low_m, self.high_m)
    }

    /// Whether it holds `metres`, give or take a millimetre.
    pub fn holds(&self, metres: f64) -> bool {
        (self.low_m - 1e-3..=self.high_m + 1e-3).contains(&metres)
    }
}

impl Bounds {
    /// Beside the approach, out of the horse's way, as far as a school goes, and as high as arms
    /// reach (common practice, no source).
    pub const USUAL: Self = Self {
        distance: Within::new(6.0, 25.0),
        before_fence: Within::new(0.0, 15.0),
        height: Within::new(1.0, 2.2),
    };

    /// Errors: reversed ranges, and places nearer than is safe.
    pub(super) fn checked(&self) -> Result<(), StandError> {
        for (what, range) in [
            ("the range of distances", self.distance),
            ("the range along the track", self.before_fence),
            ("the range of heights", self.height),
        ] {
            let in_order = range.low_m <= range.high_m;
            // A number that is none is in no order.
            if !in_order {
                let Within { low_m: low, high_m: high } = range;
                return Err(StandError::Reversed { what, low, high });
            }
        }
        let distances = [self.distance.low_m, self.distance.high_m];
        for distance in distances {
            within("the phone's distance from the track", distance, "m", LEAST_DISTANCE_M, 60.0)?;
        }
        for along in [self.before_fence.low_m, self.before_fence.high_m] {
            within("the phone's place along the track", along, "m", -40.0, 60.0)?;
        }
        for height in [self.height.low_m, self.height.high_m] {
            within("the phone's height", height, "m", 0.3, 6.0)?;
        }
        Ok(())
    }
}

fn within(
    what: &'static str,
    value: f64,
    unit: &str,
    least: f64,
    most: f64,
) -> Result<(), StandError> {
    if (least..=most).contains(&value) {
        return Ok(());
    }
    Err(StandError::OutOfRange { what, found: format!("{value} {unit}"), least, most })
}

/// Refuses a lesson or phone of which nothing sensible could be said.
pub(super) fn checked(lesson: &Lesson, phone: &Phone) -> Result<(), StandError> {
    let (poles, strides) = (&lesson.poles, &lesson.strides);
    within("the number of poles", f64::from(poles.count), "poles", 1.0, 40.0)?;
    within("the poles' spacing", poles.spacing_m.value, "m", 0.3, 20.0)?;
    within("the poles' length", poles.length_m.value, "m", 0.5, 6.0)?;
    within("the last pole before the fence", poles.before_fence_m, "m", -30.0, 60.0)?;
    within("the poles' place beside the track", poles.aside_m, "m", -20.0, 20.0)?;
    within("the fence's width", lesson.fence_width_m, "m", 0.5, 10.0)?;
    within("the number of strides", f64::from(strides.count), "strides", 1.0, 20.0)?;
    within("the stride", strides.length_m, "m", 1.0, 8.0)?;
    within("the take-off distance", strides.take_off_m, "m", 0.3, 6.0)?;
    within("the landing distance", strides.landing_m, "m", 0.3, 6.0)?;
    within("the pace", strides.pace_m_per_min, "m/min", 100.0, 1200.0)?;
    within("the phone's distance from the track", phone.distance_m, "m", LEAST_DISTANCE_M, 60.0)?;
    within("the phone's place along the track", phone.before_fence_m, "m", -40.0, 60.0)?;
    within("the phone's height", phone.height_m, "m", 0.3, 6.0)?;
    within("the field of view", phone.field_deg, "°", 15.0, 110.0)?;
    within("the frame rate", phone.frames_per_s, "frames a second", 10.0, 1000.0)?;
    for pixels in [phone.picture.width, phone.picture.height] {
        within("a side of the picture", f64::from(pixels), "pixels", 200.0, 16_000.0)?;
    }
    match phone.aim_before_fence_m {
        Some(aim) => within("where the phone points", aim, "m", -40.0, 60.0),
        None => Ok(()),
    }
}
