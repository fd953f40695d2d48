//! What is believed of the camera before any mark is looked at.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::quantity::Given;

/// How far a camera strays that is turned in steady hands, metres.
pub const STEADY_HANDS_M: f64 = 0.03;

/// How the camera moved while it filmed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Motion {
    /// On a stand, not touched: one pose for all frames.
    Fixed,
    /// Turned to follow the horse: one rotation per marked frame, joined by ties and references
    /// seen in several frames.
    Turning {
        /// How far the camera's place strays from frame to frame, standard deviation in metres:
        /// 0 on a stand, about 0.03 in steady hands.
        sway_sd_m: f64,
    },
}

/// Weak beliefs about the camera; every field may be left out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CameraPrior {
    /// How it moved.
    pub motion: Motion,
    /// Height of the lens above the ground, metres. Default 1.6 ± 0.3: held at eye level.
    #[serde(default = "CameraPrior::default_height")]
    pub height_m: Given,
    /// How far the horizon leans, degrees. Default 0 ± 3.
    #[serde(default = "CameraPrior::default_roll")]
    pub roll_deg: Given,
    /// Focal length in pixels, from the file's lens facts or an earlier survey. Without it the
    /// usual field of a phone is taken, wide enough to be overruled by the marks.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub focal_px: Option<Given>,
    /// Radial distortion k1. Default 0 ± 0.02, what is left after a phone's own correction.
    #[serde(default = "CameraPrior::default_distortion")]
    pub distortion_k1: Given,
    /// Keys of other versions, kept as they are.
    #[serde(flatten)]
    pub other: Map<String, Value>,
}

impl CameraPrior {
    const fn default_height() -> Given {
        Given::new(1.6, 0.3)
    }

    const fn default_roll() -> Given {
        Given::new(0.0, 3.0)
    }

    const fn default_distortion() -> Given {
        Given::new(0.0, 0.02)
    }

    /// The usual beliefs for a camera that moved as `motion` says.
    pub fn usual(motion: Motion) -> Self {
        Self {
            motion,
            height_m: Self::default_height(),
            roll_deg: Self::default_roll(),
            focal_px: None,
            distortion_k1: Self::default_distortion(),
            other: Map::new(),
        }
    }

    /// What is stated, on one line; what nobody would ask for is left out.
    pub fn words(&self) -> String {
        let mut words = match self.motion {
            Motion::Fixed => "fixed".to_owned(),
            Motion::Turning { sway_sd_m } => format!("turning, sway {sway_sd_m} m"),
        };
        let Given { value, sd } = self.height_m;
        words.push_str(&format!(", {value} ± {sd} m above the ground"));
        let usual = Self::usual(self.motion);
        if self.roll_deg != usual.roll_deg {
            let Given { value, sd } = self.roll_deg;
            words.push_str(&format!(", horizon leaning {value} ± {sd}°"));
        }
        if let Some(Given { value, sd }) = self.focal_px {
            words.push_str(&format!(", focal length {value} ± {sd} px"));
        }
        words
    }
}
