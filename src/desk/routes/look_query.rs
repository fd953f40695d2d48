//! How the page wants things written, drawn and judged: the coach's settings in the address.

use serde::Deserialize;

use crate::desk::wire::Limits;
use crate::draw::{Theme, Tolerance};
use crate::quantity::LengthUnits;
use crate::reading::{Audience, Settings};

/// How numbers and overlays are drawn.
#[derive(Deserialize)]
pub(in crate::desk) struct LookQuery {
    #[serde(default)]
    feet: u8,
    #[serde(default)]
    dark: u8,
    /// The coach's limits, as JSON.
    limits: Option<String>,
    /// Sentences are for the rider.
    #[serde(default)]
    rider: u8,
}

impl LookQuery {
    pub fn units(&self) -> LengthUnits {
        if self.feet == 1 { LengthUnits::Feet } else { LengthUnits::Metres }
    }

    pub fn tolerance(&self) -> Option<Tolerance> {
        Some(Tolerance { middle: None, half: self.settings().level_within_m })
    }

    /// What the page keeps of an older program may not be limits: then they are the usual ones.
    pub fn settings(&self) -> Settings {
        let stated = self.limits.as_deref().and_then(|json| serde_json::from_str(json).ok());
        let stated: Limits = stated.unwrap_or_default();
        stated.settings()
    }

    pub fn audience(&self) -> Audience {
        if self.rider == 1 { Audience::Rider } else { Audience::Coach }
    }

    pub fn theme(&self) -> Theme {
        if self.dark == 1 { Theme::DARK } else { Theme::LIGHT }
    }
}
