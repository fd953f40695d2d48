//! The whole reading of one approach.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::asks::FenceAsks;
use super::fault::{FaultReading, read_faults};
use super::level::{LevelReading, read_level};
use super::pace::{PaceReading, read_pace};
use super::settings::Settings;
use super::track::{TrackReading, read_track};
use super::zone::{ZoneReading, read_zone};
use crate::marks::MarksFile;
use crate::stride::{ApproachDraws, ApproachMeasurement};

/// What the numbers of one approach support.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Reading {
    /// The approach.
    pub approach: String,
    /// What people call its fence.
    pub fence: String,
    /// The coach's settings that decided.
    pub settings: Settings,
    /// Level or not.
    pub level: LevelReading,
    /// Changes of pace.
    pub pace: PaceReading,
    /// Whether the canter died, and whether it was run at from nothing.
    pub faults: [FaultReading; 2],
    /// Take-off against its zone.
    pub take_off: Option<ZoneReading>,
    /// Landing against its zone.
    pub landing: Option<ZoneReading>,
    /// The first stride after the turn, where the coach said when it was left; those before it count for
    /// nothing here.
    pub left_turn_at: Option<i32>,
    /// Line and track.
    pub track: Option<TrackReading>,
    /// What the fence asks.
    pub asks: Option<FenceAsks>,
}

/// Reads one approach of `file`, measured, with its draws.
pub fn read(
    file: &MarksFile,
    approach: &ApproachMeasurement,
    draws: &ApproachDraws,
    settings: &Settings,
) -> Reading {
    let level = read_level(approach, draws, settings);
    let zone = |edge: &Option<_>, draws: &[f64], zone| {
        edge.as_ref().and_then(|edge| read_zone(edge, draws, zone, settings.sure))
    };
    Reading {
        approach: approach.approach.clone(),
        fence: approach.fence.name.clone(),
        settings: *settings,
        pace: read_pace(draws, settings),
        faults: read_faults(draws, settings),
        take_off: zone(&approach.take_off, &draws.take_off_m, settings.take_off_zone),
        landing: zone(&approach.landing, &draws.landing_m, settings.landing_zone),
        left_turn_at: left_turn_at(file, approach),
        track: read_track(approach, draws, settings),
        asks: file.fence(&approach.fence.id).map(|fence| FenceAsks::of(fence, &file.round)),
        level,
    }
}

/// The first stride that begins when the turn was left or after; `None` where that was not stated.
fn left_turn_at(file: &MarksFile, approach: &ApproachMeasurement) -> Option<i32> {
    let left = file.approach(&approach.approach)?.left_turn_frame?;
    approach.strides_from(Some(left)).next().map(|row| row.number)
}
