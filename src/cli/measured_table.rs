//! The table of strides on the terminal and as CSV.

use std::io::{Result, Write};

use super::measured_round::MeasuredRound;
use crate::quantity::{Estimate, LengthUnits, Unit, written};
use crate::stride::{ApproachMeasurement, FenceEdge, Measurement, StrideRow};

/// Prints every approach, then what to be careful about.
pub(super) fn print_table(
    round: &MeasuredRound,
    units: LengthUnits,
    out: &mut dyn Write,
) -> Result<()> {
    let measurement = &round.measurement;
    for approach in &measurement.approaches {
        print_approach(approach, units, out)?;
        writeln!(out)?;
    }
    for suspect in &measurement.suspects {
        writeln!(
            out,
            "suspect: {} on frame {} lies {:.1} px from where the others expect it; left out",
            suspect.mark, suspect.frame.0, suspect.off_px
        )?;
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
    writeln!(
        out,
        "  {:>6}  {:>18}  {:>15}  {:>14}  {:>17}",
        "stride", "length", "duration", "strides/min", "speed"
    )?;
    if approach.strides.is_empty() {
        writeln!(out, "  no stride: no hind limb is marked at two contacts up to the take-off")?;
    }
    for row in &approach.strides {
        writeln!(
            out,
            "  {:>6}  {:>18}  {:>15}  {:>14}  {:>17}{}{}",
            format!("\u{2212}{}", -row.number),
            text(row.length_m.as_ref(), units),
            text(Some(&row.duration_s), units),
            text(Some(&row.tempo_strides_per_min), units).replace(" strides/min", ""),
            text(row.speed_m_per_s.as_ref(), units),
            if row.note.is_empty() { "" } else { "  " },
            row.note
        )?;
    }
    for (name, distance) in [("take-off", &approach.take_off), ("landing", &approach.landing)] {
        if let Some(distance) = distance {
            let edge = match distance.edge {
                FenceEdge::GroundLine => "ground line on the take-off side",
                FenceEdge::FarBase => "far base",
            };
            writeln!(
                out,
                "  {name:<10} {}, {} to the {edge}, square to it",
                written(&distance.distance_m, units),
                distance.limb.words()
            )?;
        }
    }
    if let Some(level) = &approach.levelness {
        writeln!(
            out,
            "  evenness   range {}, variation {}, trend {} a stride",
            written(&level.range_m, units),
            written(&level.variation_percent, units),
            written(&level.trend_m_per_stride, units)
        )?;
        writeln!(
            out,
            "  mean       {}, {}, {} ({:.0} m/min)",
            written(&level.mean_m, units),
            written(&level.mean_tempo_strides_per_min, units),
            written(&level.mean_speed_m_per_s, units),
            level.mean_speed_m_per_s.value.metres_per_minute()
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

fn text<U: Unit>(estimate: Option<&Estimate<U>>, units: LengthUnits) -> String {
    estimate.map_or_else(|| "not seen".into(), |estimate| written(estimate, units).to_string())
}

/// The strides as CSV (RFC 4180), metres and seconds at full precision.
pub(super) fn csv_table(measurement: &Measurement) -> std::result::Result<Vec<u8>, csv::Error> {
    let mut table =
        csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let mut header = vec!["approach".to_owned(), "fence".into(), "stride".into()];
    for quantity in ["length_m", "duration_s", "tempo_strides_per_min", "speed_m_per_s"] {
        header.extend(["", "_low95", "_high95"].map(|end| format!("{quantity}{end}")));
    }
    header.push("note".into());
    table.write_record(&header)?;
    for approach in &measurement.approaches {
        for row in &approach.strides {
            table.write_record(csv_row(approach, row))?;
        }
    }
    table.into_inner().map_err(|error| error.into_error().into())
}

fn csv_row(approach: &ApproachMeasurement, row: &StrideRow) -> Vec<String> {
    let mut cells =
        vec![approach.approach.clone(), approach.fence.name.clone(), row.number.to_string()];
    cells.extend(csv_cells(row.length_m.as_ref()));
    cells.extend(csv_cells(Some(&row.duration_s)));
    cells.extend(csv_cells(Some(&row.tempo_strides_per_min)));
    cells.extend(csv_cells(row.speed_m_per_s.as_ref()));
    cells.push(row.note.clone());
    cells
}

fn csv_cells<U: Unit>(estimate: Option<&Estimate<U>>) -> [String; 3] {
    match estimate {
        Some(e) => [e.value, e.low95, e.high95].map(|number| number.get().to_string()),
        None => Default::default(),
    }
}
