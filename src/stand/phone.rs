//! The phone and where it is put.

use schemars::JsonSchema;
use serde::Serialize;

use crate::marks::STEADY_HANDS_M;
use crate::scene::{PictureSize, ScenePoint};

/// Which side of the track, seen the way the horse goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// To its left.
    Left,
    /// To its right.
    Right,
}

/// How the phone is held.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Handling {
    /// On a stand, not touched.
    Fixed,
    /// Turned to follow the horse.
    Turning {
        /// How far its place strays, standard deviation in metres.
        sway_sd_m: f64,
    },
}

impl Handling {
    /// Turned by steady hands, as a marks file believes that is begun for a turning phone.
    pub const STEADY_HANDS: Self = Self::Turning { sway_sd_m: STEADY_HANDS_M };
}

/// From where it is asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Start {
    /// She stands there, or her clip was filmed from there.
    Here(Phone),
    /// From no place yet: of this phone all counts but where it is.
    Open(Phone),
}

impl Start {
    /// The phone, wherever it is.
    pub fn phone(&self) -> &Phone {
        match self {
            Self::Here(phone) | Self::Open(phone) => phone,
        }
    }

    /// The phone in its place, where it has one.
    pub fn here(&self) -> Option<&Phone> {
        match self {
            Self::Here(phone) => Some(phone),
            Self::Open(_) => None,
        }
    }
}

/// A phone in its place.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Phone {
    /// So far before the fence's ground line along the track, metres; negative, beyond it.
    pub before_fence_m: f64,
    /// Away from the track, metres.
    pub distance_m: f64,
    /// Which side of it.
    pub side: Side,
    /// Height of the lens, metres.
    pub height_m: f64,
    /// Where on the track it points, metres before the fence; `None` to point it so that what is
    /// wanted lies in the middle of the picture.
    pub aim_before_fence_m: Option<f64>,
    /// How it is held.
    pub handling: Handling,
    /// The upright picture.
    pub picture: PictureSize,
    /// Horizontal field of view, degrees.
    pub field_deg: f64,
    /// Frames a second at which it records.
    pub frames_per_s: f64,
}

impl Phone {
    /// A phone's main camera while it films, 66° across held wide (common practice, no source; 60 to
    /// 70 occur), 1080 lines at 60 frames a second, on a stand at eye level.
    pub fn usual(before_fence_m: f64, distance_m: f64) -> Self {
        Self {
            before_fence_m,
            distance_m,
            side: Side::Right,
            height_m: 1.6,
            aim_before_fence_m: None,
            handling: Handling::Fixed,
            picture: PictureSize { width: 1920, height: 1080 },
            field_deg: 66.0,
            frames_per_s: 60.0,
        }
    }

    /// A usual phone that has no place yet. Of places that are as good as the best the one nearest to
    /// here is taken: beside the middle of five strides, from where they fit (common practice, no
    /// source).
    pub fn unplaced() -> Self {
        Self::usual(9.0, 18.0)
    }

    /// Where the lens is.
    pub fn place(&self) -> ScenePoint {
        ScenePoint::new(-self.before_fence_m, self.side.sign() * self.distance_m, self.height_m)
    }

    /// Whether it turns with the horse.
    pub fn turns(&self) -> bool {
        self.handling != Handling::Fixed
    }
}

impl Side {
    /// +1 to the left, where y grows.
    pub fn sign(self) -> f64 {
        match self {
            Self::Left => 1.0,
            Self::Right => -1.0,
        }
    }

    /// The other one.
    pub fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }

    /// Its name in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }
}
