//! The comparison on the terminal.

use std::io::{Result, Write};

use crate::quantity::{LengthUnits, written, written_bare};
use crate::stride::EdgeDistance;
use crate::weeks::{
    DatedApproach, FenceWeeks, MIDDLE_HALF_FROM, change_words, grouped_doubts, pace_changes_words,
};

/// Prints every fence, then what the numbers mean. `names` says whether horses and riders are told.
pub(super) fn print_weeks(
    weeks: &[FenceWeeks],
    units: LengthUnits,
    names: bool,
    out: &mut dyn Write,
) -> Result<()> {
    for fence in weeks {
        print_fence(fence, units, names, out)?;
        writeln!(out)?;
    }
    writeln!(
        out,
        "± is half of the 95 % interval; variation is the strides' standard deviation over their \
         mean. Changes of pace are strides that grow or shrink by more than 5 % of their mean, the most probable \
         number with its probability. Last against first are two surveys taken as independent. \
         Figures from video are estimates, not a permit to jump: the person on the ground decides."
    )
}

fn print_fence(
    fence: &FenceWeeks,
    units: LengthUnits,
    names: bool,
    out: &mut dyn Write,
) -> Result<()> {
    let count = fence.approaches.len();
    let noun = if count == 1 { "approach" } else { "approaches" };
    // A group that is not called after its one fence says itself what it has in common.
    let is_fence = fence.approaches.iter().all(|approach| approach.fence == fence.fence);
    match is_fence {
        true => writeln!(out, "fence `{}`: {count} {noun}", fence.fence)?,
        false => writeln!(out, "{} ({count} {noun})", fence.fence)?,
    }
    print_dates(&fence.approaches, units, names, out)?;
    print_strides(fence, units, out)?;
    match &fence.last_against_first {
        None => writeln!(out, "  one approach only: nothing to compare it with")?,
        Some(change) => {
            writeln!(out, "  last against first")?;
            let lines = change_words(change, units).into_iter().map(|words| {
                let both = format!("{} → {}", words.first, words.last);
                [
                    words.name.to_owned(),
                    both,
                    words.difference,
                    words.verdict.to_owned(),
                    words.probability,
                ]
            });
            print_columns(&lines.collect::<Vec<_>>(), out)?;
        }
    }
    for approach in &fence.approaches {
        for note in &approach.notes {
            writeln!(out, "  note, {}: {note}", approach.date_words())?;
        }
    }
    for doubt in &fence.doubts {
        writeln!(out, "  doubt: {}", doubt.sentence(names))?;
    }
    for (whose, doubt) in grouped_doubts(fence) {
        writeln!(out, "  doubt, {whose}: {doubt}")?;
    }
    Ok(())
}

fn print_dates(
    approaches: &[DatedApproach],
    units: LengthUnits,
    names: bool,
    out: &mut dyn Write,
) -> Result<()> {
    let heads = [
        "date",
        "strides",
        "mean",
        "variation",
        "longest \u{2212} shortest",
        "changes of pace",
        "take-off",
        "landing",
        "doubts",
        "file",
    ];
    let mut lines = vec![heads.map(str::to_owned)];
    for one in approaches {
        let level = one.levelness.as_ref();
        let none = || "not known".to_owned();
        let edge = |edge: &Option<EdgeDistance>| {
            edge.as_ref().map_or_else(none, |edge| written(&edge.distance_m, units).to_string())
        };
        lines.push([
            one.date_words().to_owned(),
            one.strides.len().to_string(),
            level.map_or_else(none, |level| written(&level.mean_m, units).to_string()),
            level.map_or_else(none, |level| written(&level.variation_percent, units).to_string()),
            level.map_or_else(none, |level| written(&level.range_m, units).to_string()),
            one.pace_changes.as_ref().map_or_else(none, pace_changes_words),
            edge(&one.take_off),
            edge(&one.landing),
            one.doubts.len().to_string(),
            one.file.clone(),
        ]);
    }
    if !names {
        lines.iter_mut().for_each(|line| line[heads.len() - 1].clear());
    }
    print_columns(&lines, out)
}

fn print_strides(fence: &FenceWeeks, units: LengthUnits, out: &mut dyn Write) -> Result<()> {
    let approaches = &fence.approaches;
    let [first, .., last] = &approaches[..] else { return Ok(()) };
    let middle_half = approaches.len() >= MIDDLE_HALF_FROM;
    let spread = if middle_half { "middle half" } else { "shortest to longest" };
    let mut lines = vec![["stride", "first", "last", "median", spread, "in"].map(str::to_owned)];
    for stride in &fence.strides {
        let of = |approach: &DatedApproach| {
            let found = approach.strides.iter().find(|one| one.number == stride.number);
            let length = found.and_then(|one| one.length_m);
            length.map_or_else(String::new, |length| written(&length, units).to_string())
        };
        let (low, high) = stride.spread_m(middle_half);
        lines.push([
            format!("\u{2212}{}", stride.number.unsigned_abs()),
            of(first),
            of(last),
            written_bare(stride.median_m, units),
            format!("{} to {}", written_bare(low, units), written_bare(high, units)),
            stride.count.to_string(),
        ]);
    }
    print_columns(&lines, out)
}

/// Each column as wide as its widest cell.
fn print_columns<const N: usize>(lines: &[[String; N]], out: &mut dyn Write) -> Result<()> {
    let wide = |column: usize| lines.iter().map(|line| line[column].chars().count()).max();
    let widths: Vec<usize> = (0..N).map(|column| wide(column).unwrap_or(0)).collect();
    for line in lines {
        let cells = line.iter().zip(&widths).map(|(cell, width)| format!("{cell:<width$}"));
        writeln!(out, "  {}", cells.collect::<Vec<_>>().join("  ").trim_end())?;
    }
    Ok(())
}
