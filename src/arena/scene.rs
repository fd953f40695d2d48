//! A synthetic scene as plain data: what stands where, who rides how, who films with what.
//!
//! Ground frame of the arena: origin at the middle of the fence's ground line, x the way the
//! horse goes (the approach lies at negative x), y to the left, z up from the ground plane. The
//! fence is square to x. With a slope the frame leans with the ground; the camera stays level.
//!
//! Invariant: everything random follows from `seed`; a scene is its own JSON.

use serde::{Deserialize, Serialize};

use super::filming::Filming;
use super::track::Track;
use crate::marks::{FenceKind, Lead};

/// A whole scene. Start from a story ([`Scene::level`] and its siblings) and change fields.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Scene {
    /// Feeds everything random: laying errors, hoof scatter, the hand that holds the camera,
    /// sensor noise, the look of the ground.
    pub seed: u64,
    /// What is ridden on.
    pub ground: Ground,
    /// The poles of known spacing.
    pub poles: Poles,
    /// The fence.
    pub fence: FenceBuild,
    /// The way to it.
    pub track: Track,
    /// Who goes.
    pub horse: Horse,
    /// How it goes.
    pub ride: Ride,
    /// Who films.
    pub filming: Filming,
}

/// The ground.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Ground {
    /// Rise towards the fence, per cent of the way; downhill is negative.
    pub slope_percent: f64,
    /// The going.
    pub surface: Surface,
}

/// The going.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Surface {
    /// Harrowed sand.
    Sand,
    /// Mown grass.
    Grass,
}

/// Poles laid parallel on the ground, square to x.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Poles {
    /// How many.
    pub count: u32,
    /// Centre to centre as the coach states it, metres.
    pub spacing_m: f64,
    /// Length, metres.
    pub length_m: f64,
    /// Diameter, metres.
    pub diameter_m: f64,
    /// Place of the pole nearest to the fence: its x, metres (negative: before the fence).
    pub last_x_m: f64,
    /// How far the poles' centres lie to the left of y = 0, metres. Poles beside the track are
    /// references that do not rule the horse's stride.
    pub aside_m: f64,
    /// How badly they were laid.
    pub laying: LayingErrors,
}

/// How far the poles lie from where the coach says; drawn from the scene's seed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct LayingErrors {
    /// Standard deviation of the error that all gaps share (a long pace, a wrong tape), metres.
    pub spacing_sd_m: f64,
    /// Standard deviation of each pole's own shift along x, metres.
    pub along_sd_m: f64,
    /// Standard deviation of its shift along y, metres.
    pub sideways_sd_m: f64,
    /// Standard deviation of its turn, degrees.
    pub turn_sd_deg: f64,
}

impl LayingErrors {
    /// Laid to a tape. Common practice, no source.
    pub const TAPED: Self =
        Self { spacing_sd_m: 0.004, along_sd_m: 0.006, sideways_sd_m: 0.05, turn_sd_deg: 0.4 };
    /// Paced out: a person's paces err alike. Common practice, no source.
    pub const PACED: Self =
        Self { spacing_sd_m: 0.08, along_sd_m: 0.04, sideways_sd_m: 0.10, turn_sd_deg: 1.0 };
    /// Without any error, for tests.
    pub const NONE: Self =
        Self { spacing_sd_m: 0.0, along_sd_m: 0.0, sideways_sd_m: 0.0, turn_sd_deg: 0.0 };
}

/// The fence. Its ground line lies on x = 0; an oxer's far base on x = `spread_m`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct FenceBuild {
    /// Vertical, oxer or cross-rail; other kinds are built as a vertical.
    pub kind: FenceKind,
    /// Height of the highest rail, metres.
    pub height_m: f64,
    /// Front base to back base, metres; used by an oxer only.
    pub spread_m: f64,
    /// Between the wings, metres.
    pub width_m: f64,
    /// Wings beside the uprights.
    pub wings: bool,
    /// A pole on the ground along the ground line.
    pub ground_line: bool,
}

impl FenceBuild {
    /// x of the far base.
    pub fn far_x(&self) -> f64 {
        if self.kind == FenceKind::Oxer { self.spread_m } else { 0.0 }
    }
}

/// The horse.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Horse {
    /// Horse or pony.
    pub size: HorseSize,
    /// Coat colour.
    pub coat: Coat,
}

/// How large.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HorseSize {
    /// 1.65 m at the withers.
    Horse,
    /// 1.32 m at the withers.
    Pony,
}

impl HorseSize {
    /// Height at the withers, metres.
    pub fn withers_m(self) -> f64 {
        match self {
            Self::Horse => 1.65,
            Self::Pony => 1.32,
        }
    }

    /// Size against a horse of 1.65 m.
    pub fn scale(self) -> f64 {
        self.withers_m() / Self::Horse.withers_m()
    }
}

/// Coat colours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Coat {
    /// Brown with black points.
    Bay,
    /// Reddish, mane and tail alike.
    Chestnut,
    /// Nearly white with darker points.
    Grey,
    /// Black.
    Black,
    /// Golden with pale mane and tail.
    Palomino,
}

/// How the horse goes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Ride {
    /// Leading pair.
    pub lead: Lead,
    /// Stride lengths of the leading hind along the track, metres, in the order ridden: the last
    /// one ends at take-off.
    pub strides_m: Vec<f64>,
    /// How fast.
    pub pace: Pace,
    /// Leading hind at take-off to the ground line, square to the fence, metres.
    pub take_off_m: f64,
    /// Far base to the first fore hoof, square to the fence, metres.
    pub landing_m: f64,
    /// Strides filmed after landing.
    pub away_strides: u32,
    /// How far left hooves meet the ground to the left of the track, metres.
    pub left_hooves_m: f64,
    /// The same for right hooves; negative, to the right.
    pub right_hooves_m: f64,
    /// Standard deviation of a hoof's sideways scatter about that, metres.
    pub scatter_sd_m: f64,
}

/// How stride durations are set.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "by", rename_all = "snake_case")]
pub enum Pace {
    /// As published for the length.
    Length,
    /// One speed for all strides, m/s.
    Speed {
        /// Metres a second.
        m_per_s: f64,
    },
    /// One duration a stride, in the order ridden; too short a list repeats its last.
    Durations {
        /// Seconds.
        s: Vec<f64>,
    },
}
