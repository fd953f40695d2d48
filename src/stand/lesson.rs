//! What lies on the ground and how the horse is expected to go.

use schemars::JsonSchema;
use serde::Serialize;

use crate::marks::{Event, Limb, PoleEnd, USUAL_DIAMETER_M};
use crate::quantity::Given;
use crate::scene::{GroundPoint, ScenePoint};

/// Poles, fence and strides of the lesson.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Lesson {
    /// The poles of known spacing.
    pub poles: PolesLaid,
    /// Between the fence's uprights at the ground, metres.
    pub fence_width_m: f64,
    /// The strides that are to be measured.
    pub strides: LevelStrides,
}

/// Poles laid parallel on the ground, square to the track.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PolesLaid {
    /// How many.
    pub count: u32,
    /// Centre to centre, metres; the sd is that of one gap.
    pub spacing_m: Given,
    /// Length of each, metres.
    pub length_m: Given,
    /// Diameter, metres.
    pub diameter_m: f64,
    /// The pole nearest to the fence lies so far before its ground line, metres.
    pub before_fence_m: f64,
    /// Their centres lie so far to the left of the track, metres; negative, to the right.
    pub aside_m: f64,
    /// How well an end is marked, standard deviation in pixels.
    pub end_sd_px: f64,
}

/// A level approach: equal strides straight to the middle of the fence.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LevelStrides {
    /// How many, counted back from the fence.
    pub count: u32,
    /// Length of each, metres.
    pub length_m: f64,
    /// Last hind contact before the ground line, metres.
    pub take_off_m: f64,
    /// First fore contact behind it, metres.
    pub landing_m: f64,
    /// Speed, metres a minute.
    pub pace_m_per_min: f64,
}

/// One gap laid by a tape, and by walking, standard deviation in metres; a pole's length by the
/// tape. As the marks file takes them (`design.md`, section 4).
pub(super) const TAPED_SD_M: f64 = 0.01;
const PACED_SD_M: f64 = 0.10;
const POLE_LENGTH_SD_M: f64 = 0.02;
/// How well an end is known that was drawn to the pole's own edges, pixels (`design.md`, section 5:
/// 0.3 to 0.4).
pub(super) const SNAPPED_SD_PX: f64 = 0.4;

/// A footfall that will be marked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LaidFootfall {
    /// The stride it begins; 0 is take-off, 1 the landing.
    pub stride: i32,
    /// Which limb.
    pub limb: Limb,
    /// What it belongs to.
    pub event: Event,
    /// Where it meets the ground.
    pub place: GroundPoint,
    /// When, seconds after the first.
    pub after_s: f64,
}

/// The other hind behind the one nearest to the fence, and the second fore beyond the first, metres
/// (common practice, no source); hardly anything rests on them.
const HINDS_APART_M: f64 = 0.15;
const FORES_APART_M: f64 = 0.6;

impl PolesLaid {
    /// `count` poles of which only these lengths are stated; the rest as is usual in a lesson.
    pub fn usual(count: u32, spacing_m: f64, length_m: f64) -> Self {
        Self {
            count,
            spacing_m: Given::new(spacing_m, TAPED_SD_M),
            length_m: Given::new(length_m, POLE_LENGTH_SD_M),
            diameter_m: USUAL_DIAMETER_M,
            before_fence_m: 4.0,
            aside_m: 2.4,
            end_sd_px: crate::marks::POINT_SD_PX,
        }
    }

    /// The same laid by walking.
    pub fn paced(self) -> Self {
        Self { spacing_m: Given::new(self.spacing_m.value, PACED_SD_M), ..self }
    }

    /// The same with ends drawn to the poles' edges.
    pub fn snapped(self) -> Self {
        Self { end_sd_px: SNAPPED_SD_PX, ..self }
    }

    /// The same laid by the tape.
    pub fn taped(self) -> Self {
        Self { spacing_m: Given::new(self.spacing_m.value, TAPED_SD_M), ..self }
    }

    /// The middle of a pole's end face; pole 1 is the one the horse meets first.
    pub fn end(&self, pole: u32, end: PoleEnd) -> ScenePoint {
        let back = f64::from(self.count.saturating_sub(pole));
        let half = self.length_m.value / 2.0;
        let aside = if end == PoleEnd::Left { half } else { -half };
        let x = -self.before_fence_m - back * self.spacing_m.value;
        GroundPoint::new(x, self.aside_m + aside).at_height(self.diameter_m / 2.0)
    }

    /// Every end with its place, first pole first.
    pub fn ends(&self) -> impl Iterator<Item = (u32, PoleEnd, ScenePoint)> + '_ {
        (1..=self.count).flat_map(move |pole| {
            PoleEnd::BOTH.into_iter().map(move |end| (pole, end, self.end(pole, end)))
        })
    }
}

impl LevelStrides {
    /// Strides of a course: 12 ft (3.66 m), half of it before and behind the fence (common practice,
    /// no source), at 350 m/min (rules of the sport, R25 of the reference values: indoors 300 or
    /// 350 m/min). The last five: what a coach speaks of.
    pub const USUAL: Self =
        Self { count: 5, length_m: 3.66, take_off_m: 1.83, landing_m: 1.83, pace_m_per_min: 350.0 };

    /// Contacts of one hind limb in the order ridden, the last at take-off.
    pub fn contacts(&self) -> impl Iterator<Item = GroundPoint> + '_ {
        (0..=self.count)
            .rev()
            .map(|back| GroundPoint::new(-self.take_off_m - f64::from(back) * self.length_m, 0.0))
    }

    /// The footfalls that a coach marks, in the order of time: one hind limb throughout, the other
    /// hind at take-off as well, both fores at landing. It is the least the program asks for; other
    /// limbs, marked too, make the track a little firmer.
    pub fn footfalls(&self) -> Vec<LaidFootfall> {
        let last = i32::try_from(self.count).unwrap_or(i32::MAX);
        let duration_s = self.duration_s();
        let mut all: Vec<LaidFootfall> = (-last..=0)
            .zip(self.contacts())
            .map(|(stride, place)| LaidFootfall {
                stride,
                limb: Limb::LeadingHind,
                event: if stride < 0 { Event::Stride } else { Event::TakeOff },
                place,
                after_s: f64::from(stride + last) * duration_s,
            })
            .collect();
        let jump_s = f64::from(self.count) * duration_s;
        let beside = |stride, limb, event, x: f64, after_s: f64| LaidFootfall {
            stride,
            limb,
            event,
            place: GroundPoint::new(x, 0.0),
            after_s: jump_s + after_s,
        };
        let behind_x = -self.take_off_m - HINDS_APART_M;
        let beyond_x = self.landing_m + FORES_APART_M;
        let (land_s, apart_s) = (duration_s, 0.15 * duration_s);
        all.extend([
            beside(0, Limb::TrailingHind, Event::TakeOff, behind_x, -apart_s),
            beside(1, Limb::TrailingFore, Event::Landing, self.landing_m, land_s),
            beside(1, Limb::LeadingFore, Event::Landing, beyond_x, land_s + apart_s),
        ]);
        all
    }

    /// How long a stride lasts, seconds.
    pub fn duration_s(&self) -> f64 {
        self.length_m / (self.pace_m_per_min / 60.0)
    }
}

impl Lesson {
    /// Four poles 3 m apart and 3.5 m long beside the track, a fence 3.5 m wide (common practice, no
    /// source).
    pub fn usual() -> Self {
        Self {
            poles: PolesLaid::usual(4, 3.0, 3.5),
            fence_width_m: 3.5,
            strides: LevelStrides::USUAL,
        }
    }

    /// Ends of the fence's ground line, left first.
    pub fn base(&self) -> [GroundPoint; 2] {
        let half = self.fence_width_m / 2.0;
        [GroundPoint::new(0.0, half), GroundPoint::new(0.0, -half)]
    }
}
