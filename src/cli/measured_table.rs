//! The table of strides on the terminal.

use std::io::{Result, Write};

use super::measured_round::MeasuredRound;
use crate::draw::why_no_length;
use crate::quantity::{
    Estimate, LengthUnits, MetresPerSecond, Unit, written, written_pace, written_speed,
};
use crate::stride::{ApproachMeasurement, LineMeasurement};
use crate::survey::Suspect;
use crate::tables::{edge_words, suspect_sentence};

/// Prints every approach, then what to be careful about.
pub(super) fn print_table(
    round: &MeasuredRound,
    units: LengthUnits,
    out: &mut dyn Write,
) -> Result<()> {
    let measurement = &round.measurement;
    for approach in &measurement.approaches {
        print_approach(approach, &measurement.suspects, units, out)?;
        writeln!(out)?;
    }
    for line in &measurement.lines {
        print_line(line, units, out)?;
    }
    for suspect in &measurement.suspects {
        writeln!(out, "suspect: {}", suspect_sentence(suspect))?;
    }
    for doubt in &round.doubts {
        writeln!(out, "doubt: {}", doubt.sentence())?;
    }
    for doubt in &measurement.doubts {
        writeln!(out, "doubt: {}", doubt.sentence())?;
    }
    writeln!(
        out,
        "± is half of the 95 % interval. Figures from video are estimates, not a permit to jump: \
         the person on the ground decides."
    )
}

fn print_approach(
    approach: &ApproachMeasurement,
    suspects: &[Suspect],
    units: LengthUnits,
    out: &mut dyn Write,
) -> Result<()> {
    writeln!(
        out,
        "approach `{}` to {}, strides from contact to contact of the {}",
        approach.approach,
        approach.fence.name,
        approach.reference_limb.words()
    )?;
    print_strides(approach, suspects, units, out)?;
    for (name, distance) in [("take-off", &approach.take_off), ("landing", &approach.landing)] {
        if let Some(distance) = distance {
            let length = written(&distance.distance_m, units);
            writeln!(out, "  {name:<10} {length}, {}", edge_words(distance))?;
        }
    }
    if let Some(level) = &approach.levelness {
        writeln!(
            out,
            "  levelness  range {}, variation {}, trend {} a stride",
            written(&level.range_m, units),
            written(&level.variation_percent, units),
            written(&level.trend_m_per_stride, units)
        )?;
        writeln!(
            out,
            "  mean       {}, {}, {}, {}",
            written(&level.mean_m, units),
            written(&level.mean_tempo_strides_per_min, units),
            speed_text(&level.mean_speed_m_per_s, units),
            written_pace(&level.mean_speed_m_per_s)
        )?;
    }
    if let Some(track) = &approach.track {
        let side = if track.offset_m.value.get() >= 0.0 { "left" } else { "right" };
        writeln!(
            out,
            "  track      meets the ground line {} from its middle (positive is left; here \
             {side}), {} off square",
            written(&track.offset_m, units),
            written(&track.angle_deg, units)
        )?;
    }
    for doubt in &approach.doubts {
        writeln!(out, "  doubt: {}", doubt.sentence())?;
    }
    Ok(())
}

fn print_line(line: &LineMeasurement, units: LengthUnits, out: &mut dyn Write) -> Result<()> {
    writeln!(
        out,
        "line from {} to {}: {} between far base and ground line, {} strides taken",
        line.first_fence,
        line.second_fence,
        text(&line.distance_m, units),
        line.strides_taken
    )?;
    writeln!(
        out,
        "  landing {}, take-off {}{}",
        text(&line.landing_m, units),
        text(&line.take_off_m, units),
        line.mean_stride_m
            .as_ref()
            .map(|mean| format!(", mean stride {}", text(mean, units)))
            .unwrap_or_default()
    )?;
    let needed = line.needed.iter();
    let needed = needed.map(|n| format!("{} strides of {}", n.strides, text(&n.stride_m, units)));
    writeln!(out, "  would be {}", needed.collect::<Vec<_>>().join(", or "))?;
    for doubt in &line.doubts {
        writeln!(out, "  doubt: {}", doubt.sentence())?;
    }
    writeln!(out)
}

/// A line a stride, each column as wide as its widest cell.
fn print_strides(
    approach: &ApproachMeasurement,
    suspects: &[Suspect],
    units: LengthUnits,
    out: &mut dyn Write,
) -> Result<()> {
    let heads = ["stride", "length", "duration", "strides/min", "speed", "pace"];
    let mut lines = vec![(heads.map(str::to_owned), "")];
    for row in &approach.strides {
        let speed = row.speed_m_per_s.as_ref();
        let none = || why_no_length(approach, row, suspects).to_owned();
        let cells = [
            format!("\u{2212}{}", row.number.unsigned_abs()),
            row.length_m.as_ref().map_or_else(none, |length| text(length, units)),
            text(&row.duration_s, units),
            text(&row.tempo_strides_per_min, units).replace(" strides/min", ""),
            speed.map_or_else(none, |speed| speed_text(speed, units)),
            speed.map_or_else(none, |speed| written_pace(speed).to_string()),
        ];
        lines.push((cells, row.note.as_str()));
    }
    let widths: Vec<usize> = (0..heads.len())
        .map(|column| lines.iter().map(|(cells, _)| cells[column].chars().count()).max())
        .map(Option::unwrap_or_default)
        .collect();
    for (cells, note) in lines {
        let cells: Vec<String> =
            cells.iter().zip(&widths).map(|(cell, width)| format!("{cell:>width$}")).collect();
        writeln!(out, "  {}", format!("{}  {note}", cells.join("  ")).trim_end())?;
    }
    if approach.strides.is_empty() {
        writeln!(out, "  no stride: no hind limb is marked at two contacts up to the take-off")?;
    }
    Ok(())
}

/// Metres or feet a second, as lengths are.
fn speed_text(speed: &Estimate<MetresPerSecond>, units: LengthUnits) -> String {
    match units {
        LengthUnits::Metres => written(speed, units).to_string(),
        LengthUnits::Feet => written_speed(speed, units).to_string(),
    }
}

fn text<U: Unit>(estimate: &Estimate<U>, units: LengthUnits) -> String {
    written(estimate, units).to_string()
}
