//! A measured pace beside the speeds that courses are ridden at.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::speed_tables::{SpeedRow, SpeedTables};
use crate::quantity::{Estimate, MetresPerSecond};

/// How a pace stands to a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum SpeedVerdict {
    /// Slower by more than the pace's ±.
    Slower,
    /// Slower or faster, but within the pace's ±.
    WithinPlusMinus,
    /// Between the row's ends.
    Within,
    /// Faster by more than the pace's ±.
    Faster,
}

/// A published speed beside a pace.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SpeedBeside {
    /// The row, with its source and grade.
    pub row: SpeedRow,
    /// How far the pace lies outside it, metres a minute: above 0 faster, 0 inside. Its ± is that
    /// of the pace.
    pub outside_m_per_min: f64,
    /// What that means.
    pub verdict: SpeedVerdict,
}

/// `pace` beside every speed that was read; rows from memory are left out.
pub(super) fn beside_speeds(
    pace: &Estimate<MetresPerSecond>,
    tables: &SpeedTables,
) -> Vec<SpeedBeside> {
    let read = tables.rows.iter().filter(|row| row.provenance.seen.is_read());
    read.map(|row| {
        let (outside_m_per_min, verdict) = against(pace, row);
        SpeedBeside { row: row.clone(), outside_m_per_min, verdict }
    })
    .collect()
}

fn against(pace: &Estimate<MetresPerSecond>, row: &SpeedRow) -> (f64, SpeedVerdict) {
    let (low, high) = (row.low_m_per_min, row.high_m_per_min);
    let value = pace.value.metres_per_minute();
    let outside = (value - high).max(0.0) + (value - low).min(0.0);
    // Speeds are printed in whole metres a minute.
    let is_inside = outside.abs() < 0.5;
    let verdict = if is_inside {
        SpeedVerdict::Within
    } else if pace.high95.metres_per_minute() < low {
        SpeedVerdict::Slower
    } else if pace.low95.metres_per_minute() > high {
        SpeedVerdict::Faster
    } else {
        SpeedVerdict::WithinPlusMinus
    };
    (outside, verdict)
}

impl SpeedVerdict {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Slower => "slower",
            Self::WithinPlusMinus => "within the ± of the pace",
            Self::Within => "within",
            Self::Faster => "faster",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::poles::Seen;
    use crate::quantity::sample::estimate;

    fn verdict_on(level: &str, value: f64, half: f64) -> (f64, SpeedVerdict) {
        let tables = SpeedTables::built_in().unwrap();
        let pace = estimate(value / 60.0, half / 60.0);
        let all = beside_speeds(&pace, &tables);
        let found = all.iter().find(|beside| beside.row.level == level).unwrap();
        (found.outside_m_per_min, found.verdict)
    }

    #[test]
    fn a_pace_is_compared_by_its_own_interval() {
        // Luxembourg outdoors: 350 or 375 m/min (R25).
        assert_eq!(verdict_on("outdoors", 360.0, 5.0), (0.0, SpeedVerdict::Within));
        assert_eq!(verdict_on("outdoors", 375.4, 0.1).1, SpeedVerdict::Within);
        let (outside, verdict) = verdict_on("outdoors", 340.0, 15.0);
        assert!((outside + 10.0).abs() < 1e-9);
        assert_eq!(verdict, SpeedVerdict::WithinPlusMinus);
        assert_eq!(verdict_on("outdoors", 340.0, 5.0).1, SpeedVerdict::Slower);
        let (outside, verdict) = verdict_on("outdoors", 400.0, 5.0);
        assert!((outside - 25.0).abs() < 1e-9);
        assert_eq!(verdict, SpeedVerdict::Faster);
    }

    #[test]
    fn speeds_from_memory_are_left_out() {
        let tables = SpeedTables::built_in().unwrap();
        let beside = beside_speeds(&estimate(5.8, 0.1), &tables);
        let memory = tables.rows.iter().filter(|row| row.provenance.seen == Seen::Memory).count();
        assert!(memory > 0);
        assert_eq!(beside.len() + memory, tables.rows.len());
        assert!(beside.iter().all(|beside| beside.row.provenance.seen.is_read()));
    }
}
