//! How the page wants things written, drawn and judged: the coach's settings in the address.

use serde::Deserialize;

use crate::draw::{Theme, Tolerance};
use crate::quantity::{LengthUnits, Metres, Unit};
use crate::reading::{Audience, Settings, Zone};

/// How numbers and overlays are drawn.
#[derive(Deserialize)]
pub(in crate::desk) struct LookQuery {
    #[serde(default)]
    feet: u8,
    #[serde(default)]
    dark: u8,
    /// What the coach calls level, metres to either side of the mean.
    within: Option<f64>,
    /// Where she wants take-off and landing, metres from the fence.
    zone: Option<f64>,
    /// How far that reaches either way, metres.
    zone_within: Option<f64>,
    /// Sentences are for the rider.
    #[serde(default)]
    rider: u8,
}

impl LookQuery {
    pub fn units(&self) -> LengthUnits {
        if self.feet == 1 { LengthUnits::Feet } else { LengthUnits::Metres }
    }

    pub fn tolerance(&self) -> Option<Tolerance> {
        let half = self.within.filter(|half| half.is_finite() && *half > 0.0)?;
        Some(Tolerance { middle: None, half: Metres::new(half) })
    }

    pub fn settings(&self) -> Settings {
        let usual = Settings::default();
        let metres = |stated: Option<f64>, usual: Metres| {
            let stated = stated.filter(|metres| metres.is_finite() && *metres > 0.0);
            stated.map_or(usual, Metres::new)
        };
        let zone = Zone {
            middle_m: metres(self.zone, usual.take_off_zone.middle_m),
            half_m: metres(self.zone_within, usual.take_off_zone.half_m),
        };
        Settings {
            level_within_m: metres(self.within, usual.level_within_m),
            take_off_zone: zone,
            landing_zone: zone,
            ..usual
        }
    }

    pub fn audience(&self) -> Audience {
        if self.rider == 1 { Audience::Rider } else { Audience::Coach }
    }

    pub fn theme(&self) -> Theme {
        if self.dark == 1 { Theme::DARK } else { Theme::LIGHT }
    }
}
