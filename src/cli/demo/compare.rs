//! Prints what was measured beside what is true.

use std::io::Write;

use crate::arena::Truth;
use crate::cli::Failure;
use crate::cli::measured_round::MeasuredRound;
use crate::quantity::{LengthUnits, Metres, Unit, written, written_bare};

pub(super) fn compare(
    round: &MeasuredRound,
    truth: &Truth,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let metres = LengthUnits::Metres;
    let bare = |length_m| written_bare(Metres::new(length_m), metres);
    for approach in &round.measurement.approaches {
        let true_strides = truth.strides_of(approach.reference_limb);
        writeln!(out, "   {:>8}  {:>16}  {:>8}", "stride", "measured", "true")?;
        for row in &approach.strides {
            let measured = row.length_m.map(|length| written(&length, metres).to_string());
            let exact = true_strides.iter().find(|stride| stride.number == row.number);
            writeln!(
                out,
                "   {:>8}  {:>16}  {:>8}",
                format!("\u{2212}{}", -row.number),
                measured.unwrap_or_else(|| "not seen".into()),
                exact.map_or_else(String::new, |stride| bare(stride.length_m)),
            )?;
        }
        for (name, found, exact) in [
            ("take-off", &approach.take_off, truth.take_off_m),
            ("landing", &approach.landing, truth.landing_m),
        ] {
            if let Some(found) = found {
                let measured = written(&found.distance_m, metres).to_string();
                writeln!(out, "   {name:>8}  {measured:>16}  {:>8}", bare(exact))?;
            }
        }
        for doubt in &approach.doubts {
            writeln!(out, "   doubt: {}", doubt.sentence())?;
        }
    }
    for doubt in &round.measurement.doubts {
        writeln!(out, "   doubt: {}", doubt.sentence())?;
    }
    Ok(())
}
