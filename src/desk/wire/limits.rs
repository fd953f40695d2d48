//! The coach's limits of a reading, as the page keeps them.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::quantity::{Metres, Percent, Unit};
use crate::reading::{Settings, Zone};

/// What decides in a reading: her settings, for no published limit exists.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, TS)]
#[serde(default)]
pub struct Limits {
    /// How far a stride may be off the mean and still count as level, metres.
    pub level_within_m: f64,
    /// Strides that grow or shrink by more are a change of pace, per cent of their mean.
    pub pace_tolerance_percent: f64,
    /// Where take-off should be, metres from the ground line.
    pub zone_m: f64,
    /// Where landing should be, metres from the far base.
    pub landing_zone_m: f64,
    /// How far both reach either way, metres.
    pub zone_within_m: f64,
    /// A last stride shorter than the others by this was added, metres.
    pub added_shorter_m: f64,
    /// How far the track may go aside and still be straight, metres.
    pub straight_within_m: f64,
    /// How probable what is said outright must be, per cent.
    pub sure_percent: f64,
}

impl Default for Limits {
    fn default() -> Self {
        let usual = Settings::default();
        Self {
            level_within_m: usual.level_within_m.get(),
            pace_tolerance_percent: usual.pace_tolerance_percent.get(),
            zone_m: usual.take_off_zone.middle_m.get(),
            landing_zone_m: usual.landing_zone.middle_m.get(),
            zone_within_m: usual.take_off_zone.half_m.get(),
            added_shorter_m: usual.added_shorter_m.get(),
            straight_within_m: usual.straight_within_m.get(),
            sure_percent: 100.0 * usual.sure,
        }
    }
}

impl Limits {
    /// As a reading takes them; what makes no sense is as usual.
    pub fn settings(&self) -> Settings {
        let usual = Self::default();
        let sensible = |stated: f64, usual: f64| {
            if stated.is_finite() && stated > 0.0 { stated } else { usual }
        };
        let metres = |stated: f64, usual: f64| Metres::new(sensible(stated, usual));
        let half_m = metres(self.zone_within_m, usual.zone_within_m);
        let zone = |stated: f64, usual: f64| Zone { middle_m: metres(stated, usual), half_m };
        let sure = sensible(self.sure_percent, usual.sure_percent).clamp(50.0, 99.0);
        Settings {
            level_within_m: metres(self.level_within_m, usual.level_within_m),
            level_about_m: None,
            pace_tolerance_percent: Percent::new(sensible(
                self.pace_tolerance_percent,
                usual.pace_tolerance_percent,
            )),
            take_off_zone: zone(self.zone_m, usual.zone_m),
            landing_zone: zone(self.landing_zone_m, usual.landing_zone_m),
            added_shorter_m: metres(self.added_shorter_m, usual.added_shorter_m),
            straight_within_m: metres(self.straight_within_m, usual.straight_within_m),
            sure: sure / 100.0,
        }
    }

    /// As they would be typed after a command.
    pub fn options(&self) -> [(&'static str, String); 8] {
        [
            ("--level-within", self.level_within_m.to_string()),
            ("--pace-tolerance", self.pace_tolerance_percent.to_string()),
            ("--zone", self.zone_m.to_string()),
            ("--landing-zone", self.landing_zone_m.to_string()),
            ("--zone-within", self.zone_within_m.to_string()),
            ("--added-shorter", self.added_shorter_m.to_string()),
            ("--straight-within", self.straight_within_m.to_string()),
            ("--sure", format!("{:.0}", self.sure_percent)),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn unset_limits_are_the_usual_ones_and_nonsense_is_none() {
        let read: Limits = serde_json::from_str(r#"{"zone_m": 1.6}"#).unwrap();
        assert_eq!(read, Limits { zone_m: 1.6, ..Limits::default() });
        assert_eq!(Limits::default().settings(), Settings::default());
        let nonsense = Limits { level_within_m: -1.0, sure_percent: 100.0, ..Limits::default() };
        let settings = nonsense.settings();
        assert_eq!(settings.level_within_m, Settings::default().level_within_m);
        assert!((settings.sure - 0.99).abs() < 1e-12);
    }
}
