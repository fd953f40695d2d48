//! The box beside the bars: take-off, landing, levelness, track, each with its ±.

use serde::Serialize;

use crate::quantity::{Estimate, LengthUnits, Unit, Written, written, written_pace, written_speed};
use crate::stride::{ApproachMeasurement, EdgeDistance, FenceEdge, Levelness, TrackAtFence};

/// A number with what it is and how it was taken.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Fact {
    /// What it is.
    pub label: String,
    /// The value.
    pub value: String,
    /// Its ± with the unit, set smaller.
    pub plus_minus: String,
    /// How it was taken; may be empty.
    pub note: String,
    /// Token of its colour.
    pub colour: &'static str,
}

/// All facts there are.
pub fn facts(approach: &ApproachMeasurement, units: LengthUnits) -> Vec<Fact> {
    let mut facts = Vec::new();
    let edges =
        [("Take-off", &approach.take_off, "take_off"), ("Landing", &approach.landing, "landing")];
    for (label, edge, colour) in edges {
        if let Some(edge) = edge {
            facts.push(fact(label, &written(&edge.distance_m, units), &edge_note(edge), colour));
        }
    }
    if let Some(levelness) = &approach.levelness {
        facts.extend(levelness_facts(levelness, approach.strides.len(), units));
    }
    if let Some(track) = &approach.track {
        facts.extend(track_facts(track, units));
    }
    facts
}

fn fact(label: &str, written: &Written, note: &str, colour: &'static str) -> Fact {
    Fact {
        label: label.to_owned(),
        value: written.value.clone(),
        plus_minus: format!("± {}{}", written.plus_minus, written.unit_behind()),
        note: note.to_owned(),
        colour,
    }
}

/// "leading hind to the ground line".
pub(super) fn edge_note(edge: &EdgeDistance) -> String {
    match edge.edge {
        FenceEdge::GroundLine => format!("{} to the ground line", edge.limb.words()),
        FenceEdge::FarBase => format!("far base to the {}", edge.limb.words()),
    }
}

fn levelness_facts(levelness: &Levelness, strides: usize, units: LengthUnits) -> Vec<Fact> {
    let steady = trend_words(levelness, strides, units);
    let slope = &levelness.trend_m_per_stride;
    let mut trend = written(slope, units);
    if slope.value.get() > 0.0 && has_figure(&trend.value) {
        trend.value.insert(0, '+');
    }
    let speed = &levelness.mean_speed_m_per_s;
    // In feet the unit of course rules is said beside it: riders are timed by it everywhere.
    let of_rules = match units {
        LengthUnits::Metres => String::new(),
        LengthUnits::Feet => format!("{} as course rules count", written_pace(speed)),
    };
    vec![
        fact("Mean stride", &written(&levelness.mean_m, units), "", "ink"),
        fact("Longest − shortest", &written(&levelness.range_m, units), "", "ink"),
        fact("Variation", &written(&levelness.variation_percent, units), "of the mean", "ink"),
        fact("Change per stride", &trend, steady, "ink"),
        fact("Mean tempo", &written(&levelness.mean_tempo_strides_per_min, units), "", "ink"),
        fact("Mean speed", &written_speed(speed, units), &of_rules, "ink"),
    ]
}

/// A trend is claimed only when its interval excludes zero, as printed too, and when it makes up
/// at least half of what lies between the longest and the shortest stride: strides that went up
/// and down have no direction, however well their slope is known.
pub(super) fn trend_words(
    levelness: &Levelness,
    strides: usize,
    units: LengthUnits,
) -> &'static str {
    let trend = &levelness.trend_m_per_stride;
    let (low, high) = (trend.low95.get(), trend.high95.get());
    let printed = written(trend, units);
    let printed_beyond = has_figure(&printed.value)
        && printed.value.trim_start_matches('\u{2212}') != printed.plus_minus;
    let in_all = trend.value.get().abs() * strides.saturating_sub(1) as f64;
    let leads = in_all >= 0.5 * levelness.range_m.value.get();
    if (low > 0.0 || high < 0.0) && printed_beyond && leads {
        if low > 0.0 {
            "strides grow towards the fence"
        } else {
            "strides shrink towards the fence"
        }
    } else {
        "no steady change"
    }
}

/// Whether a number as printed is anything but zero.
fn has_figure(printed: &str) -> bool {
    printed.chars().any(|c| matches!(c, '1'..='9'))
}

fn track_facts(track: &TrackAtFence, units: LengthUnits) -> [Fact; 2] {
    [
        sided("Line at the fence", &track.offset_m, " of the middle", units),
        sided("Angle off square", &track.angle_deg, "", units),
    ]
}

/// A number whose sign is a side: written without sign, the side in words.
fn sided<U: Unit>(label: &str, estimate: &Estimate<U>, of: &str, units: LengthUnits) -> Fact {
    let sign = if estimate.value.get() < 0.0 { -1.0 } else { 1.0 };
    let (a, b) = (sign * estimate.low95.get(), sign * estimate.high95.get());
    let size = Estimate {
        value: U::new(sign * estimate.value.get()),
        sd: estimate.sd,
        low95: U::new(a.min(b)),
        high95: U::new(a.max(b)),
    };
    let side = if sign > 0.0 { "left" } else { "right" };
    let doubtful = if size.low95.get() < 0.0 { ", within its ±" } else { "" };
    fact(label, &written(&size, units), &format!("to the {side}{of}{doubtful}"), "ink")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::sample::{self, SEVEN};
    use crate::quantity::sample::estimate;

    #[test]
    fn a_trend_is_claimed_only_when_its_interval_excludes_zero() {
        let said = |slope: f64, half: f64, range: f64| {
            let levelness = Levelness {
                trend_m_per_stride: estimate(slope, half),
                range_m: estimate(range, 0.1),
                ..sample::approach(SEVEN).levelness.unwrap()
            };
            trend_words(&levelness, 7, LengthUnits::Metres)
        };
        assert_eq!(said(-0.08, 0.03, 0.5), "strides shrink towards the fence");
        assert_eq!(said(0.08, 0.03, 0.5), "strides grow towards the fence");
        assert_eq!(said(-0.03, 0.04, 0.2), "no steady change");
        // −0.0440 ± 0.0436 is printed as −0.04 ± 0.04, which touches zero.
        assert_eq!(said(-0.0440, 0.0436, 0.3), "no steady change");
        // Well known, but the strides went up and down by far more than it.
        assert_eq!(said(-0.05, 0.02, 1.38), "no steady change");
    }

    #[test]
    fn in_feet_every_fact_is_in_feet_and_the_rules_unit_is_said_as_such() {
        let facts = facts(&sample::approach(SEVEN), LengthUnits::Feet);
        let speed = facts.iter().find(|fact| fact.label == "Mean speed").unwrap();
        assert!(speed.plus_minus.ends_with(" ft/s"), "{speed:?}");
        assert!(speed.note.ends_with(" m/min as course rules count"), "{speed:?}");
        for fact in facts.iter().filter(|fact| fact.label != "Mean speed") {
            let said = format!("{} {} {}", fact.value, fact.plus_minus, fact.note);
            assert!(!said.ends_with(" m ") && !said.contains("m/"), "{said}");
        }
    }

    #[test]
    fn each_fact_says_which_hoof_and_edge_or_side() {
        let facts = facts(&sample::approach(SEVEN), LengthUnits::Metres);
        let lines: Vec<String> = facts
            .iter()
            .map(|f| format!("{}: {} {} {}", f.label, f.value, f.plus_minus, f.note))
            .collect();
        assert_eq!(lines[0], "Take-off: 1.78 ± 0.06 m leading hind to the ground line");
        assert_eq!(lines[1], "Landing: 1.64 ± 0.08 m far base to the trailing fore");
        assert_eq!(lines[5], "Change per stride: +0.02 ± 0.02 m no steady change");
        assert_eq!(lines[9], "Angle off square: 2.4 ± 1.3° to the right");
        let level = TrackAtFence {
            angle_deg: estimate(-1.0, 7.0),
            ..sample::approach(SEVEN).track.unwrap()
        };
        let notes = track_facts(&level, LengthUnits::Metres).map(|fact| fact.note);
        assert_eq!(notes, ["to the left of the middle", "to the right, within its ±"]);
    }
}
