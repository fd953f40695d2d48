//! Where the coach can stand.

use schemars::JsonSchema;
use serde::Serialize;

use super::error::{Checked, CountedIn, StandError};
use super::lesson::Lesson;
use super::phone::{Handling, Phone};

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
    /// Beside the approach, out of the horse's way, as far as a school goes (common practice, no
    /// source).
    ///
    /// A stand of a usual make reaches 1.6 to 2 m and stands firm a little below that. In the hand
    /// the phone is followed on its screen, from before the chest to an arm raised to the top of the
    /// head; and it is held from where one speaks to the rider, not from the far side of the school.
    pub fn usual(handling: Handling) -> Self {
        let before_fence = Within::new(0.0, 15.0);
        let (distance, height) = match handling {
            Handling::Fixed => (Within::new(6.0, 25.0), Within::new(1.0, 1.8)),
            Handling::Turning { .. } => (Within::new(6.0, 15.0), Within::new(1.3, 1.8)),
        };
        Self { distance, before_fence, height }
    }

    /// Whether `phone` is put within them.
    pub(super) fn hold(&self, phone: &Phone) -> bool {
        self.distance.holds(phone.distance_m)
            && self.before_fence.holds(phone.before_fence_m)
            && self.height.holds(phone.height_m)
    }

    /// Errors: reversed ranges, and places nearer than is safe.
    pub(super) fn checked(&self) -> Result<(), StandError> {
        for (what, range, limit) in [
            ("the range of distances", self.distance, DISTANCE),
            ("the range along the track", self.before_fence, ALONG),
            ("the range of heights", self.height, HEIGHT),
        ] {
            let Within { low_m, high_m } = range;
            let in_order = low_m <= high_m;
            // A number that is none is in no order.
            if !in_order && low_m.is_finite() && high_m.is_finite() {
                return Err(StandError::Reversed { what, low_m, high_m });
            }
            limit.take(low_m)?;
            limit.take(high_m)?;
        }
        Ok(())
    }
}

const fn metres(name: &'static str, least: f64, most: f64, hint: &'static str) -> Checked {
    Checked { name, counted_in: CountedIn::Metres, least, most, hint }
}

const fn things(name: &'static str, least: f64, most: f64, hint: &'static str) -> Checked {
    Checked { name, counted_in: CountedIn::Things, least, most, hint }
}

const DISTANCE: Checked = metres(
    "the phone's distance from the track",
    LEAST_DISTANCE_M,
    60.0,
    "a phone is not put nearer to a cantering horse (common practice), and from farther a hoof is \
     too small to mark",
);
const ALONG: Checked = metres(
    "the phone's place along the track",
    -40.0,
    60.0,
    "it counts from the fence, against the way the horse goes; beyond the fence it is negative",
);
const HEIGHT: Checked =
    metres("the phone's height", 0.3, 6.0, "a usual stand reaches 1.6 m, a raised arm about 2 m");
const POLES: Checked = things(
    "the number of poles",
    1.0,
    40.0,
    "lay two at least, better four: metres come from them",
);
const SPACING: Checked = metres(
    "the poles' spacing",
    0.3,
    20.0,
    "from the middle of one pole to the middle of the next; 3 m is usual",
);
const LENGTH: Checked = metres("the poles' length", 0.5, 6.0, "most poles are 2 to 4 m long");
const LAST_POLE: Checked = metres(
    "the last pole's place",
    -30.0,
    60.0,
    "it counts from the fence, against the way the horse goes; beyond the fence it is negative",
);
const ASIDE: Checked = metres(
    "the poles' place beside the track",
    -20.0,
    20.0,
    "it counts from the track to the poles' middles, to the left of the way the horse goes",
);
const FENCE: Checked =
    metres("the fence's width", 0.5, 10.0, "between its uprights; 3.5 m is usual");
const STRIDES: Checked = things(
    "the number of strides",
    1.0,
    20.0,
    "they are counted back from the fence; five are usual",
);
const STRIDE: Checked =
    metres("the stride", 1.0, 8.0, "a horse's stride on a course is about 3.7 m, a pony's shorter");
const TAKE_OFF: Checked = metres(
    "the take-off distance",
    0.3,
    6.0,
    "from the last hind hoof to the fence; 1.8 m is usual",
);
const LANDING: Checked =
    metres("the landing distance", 0.3, 6.0, "from the fence to the first fore; 1.8 m is usual");
const PACE: Checked = Checked {
    name: "the pace",
    counted_in: CountedIn::Other("m/min"),
    least: 100.0,
    most: 1200.0,
    hint: "metres a minute; courses are ridden at 300 to 400",
};
const FIELD: Checked = Checked {
    name: "the field of view",
    counted_in: CountedIn::Degrees,
    least: 15.0,
    most: 110.0,
    hint: "from side to side; a phone's main camera held wide sees about 66° while it films",
};
const FRAME_RATE: Checked = Checked {
    name: "the frame rate",
    counted_in: CountedIn::Other("Hz"),
    least: 10.0,
    most: 1000.0,
    hint: "the rate at which the phone records; 60 is usual",
};
const SIDE: Checked = Checked {
    name: "a side of the picture",
    counted_in: CountedIn::Other("pixels"),
    least: 200.0,
    most: 16_000.0,
    hint: "a usual picture has 1920 by 1080 pixels",
};
const AIM: Checked = metres(
    "where the phone points",
    -40.0,
    60.0,
    "where the middle of the picture meets the track, before the fence; beyond it, negative",
);

/// Refuses a lesson of which nothing sensible could be said.
pub(super) fn checked_lesson(lesson: &Lesson) -> Result<(), StandError> {
    let (poles, strides) = (&lesson.poles, &lesson.strides);
    POLES.take(f64::from(poles.count))?;
    SPACING.take(poles.spacing_m.value)?;
    LENGTH.take(poles.length_m.value)?;
    LAST_POLE.take(poles.before_fence_m)?;
    ASIDE.take(poles.aside_m)?;
    FENCE.take(lesson.fence_width_m)?;
    STRIDES.take(f64::from(strides.count))?;
    STRIDE.take(strides.length_m)?;
    TAKE_OFF.take(strides.take_off_m)?;
    LANDING.take(strides.landing_m)?;
    PACE.take(strides.pace_m_per_min)
}

/// Refuses a phone of which nothing sensible could be said.
pub(super) fn checked_phone(phone: &Phone) -> Result<(), StandError> {
    DISTANCE.take(phone.distance_m)?;
    ALONG.take(phone.before_fence_m)?;
    HEIGHT.take(phone.height_m)?;
    FIELD.take(phone.field_deg)?;
    FRAME_RATE.take(phone.frames_per_s)?;
    for pixels in [phone.picture.width, phone.picture.height] {
        SIDE.take(f64::from(pixels))?;
    }
    phone.aim_before_fence_m.map_or(Ok(()), |aim| AIM.take(aim))
}
