//! `groundline weeks`: the same fence, week after week, printed, as JSON, as a table, on a page.

use std::collections::BTreeSet;
use std::io::Write;
use std::path::Path;

use super::Failure;
use super::file_kind::FileKind;
use super::sheet::hand_out;
use super::weeks_args::WeeksArgs;
use super::weeks_gathering::gather;
use super::weeks_table::print_weeks;
use crate::sheet::{Fonts, Paper, Sheet, WeeksSheetInput, set_weeks};
use crate::store::{MeasuredFiles, StoreError, write_whole};
use crate::tables::{WeeksJson, weeks_csv};
use crate::weeks::{FenceWeeks, NamesFound, Wanted, by, leave_names_off};

pub(super) fn run(args: WeeksArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let page = args
        .output
        .as_deref()
        .map(|path| FileKind::of(path, &[FileKind::Pdf, FileKind::Png]).map(|kind| (path, kind)));
    let page = page.transpose()?;
    let wanted =
        Wanted { fence: args.fence.clone(), horse: args.horse.clone(), rider: args.rider.clone() };
    let gathered = gather(&args.folder, &wanted)?;
    let MeasuredFiles { entries, names, skipped, files: looked_at } = gathered;
    if entries.is_empty() {
        return Err(none_found(&args, &names, skipped.len(), looked_at));
    }
    let mut weeks = by(args.group_by, entries);
    if args.no_names {
        leave_names_off(&mut weeks);
    }
    // Made before the first is written, so that a refusal leaves no half of the answer.
    let mut files: Vec<(&Path, Vec<u8>)> = Vec::new();
    if let Some(path) = &args.csv {
        files.push((path, weeks_csv(&weeks, args.units)?));
    }
    let set = page.map(|(path, kind)| Ok::<_, Failure>((path, kind, set(&args, &weeks)?)));
    let set = set.transpose()?;
    for (path, bytes) in &files {
        write_whole(path, bytes)
            .map_err(|source| StoreError::Unwritable { path: path.to_path_buf(), source })?;
    }
    if args.json {
        let named = if args.no_names { &[] } else { &skipped[..] };
        let all = WeeksJson { fences: &weeks, skipped_count: skipped.len(), skipped: named };
        writeln!(out, "{}", serde_json::to_string_pretty(&all).map_err(Failure::new)?)?;
        // The answer is JSON and nothing else.
        let silent = &mut std::io::sink();
        return set.map_or(Ok(()), |(path, kind, sheet)| hand_out(&sheet, kind, path, silent));
    }
    print_weeks(&weeks, args.units, !args.no_names, out)?;
    if args.no_names && !skipped.is_empty() {
        writeln!(out, "skipped: {} of {looked_at} marks files", skipped.len())?;
    } else {
        for one in &skipped {
            writeln!(out, "skipped: {}", one.why)?;
        }
    }
    for (path, _) in &files {
        writeln!(out, "wrote `{}`", path.display())?;
    }
    set.map_or(Ok(()), |(path, kind, sheet)| hand_out(&sheet, kind, path, out))
}

fn set(args: &WeeksArgs, weeks: &[FenceWeeks]) -> Result<Sheet, Failure> {
    let printed = jiff::ZonedDateTime::now().date().to_string();
    let input = WeeksSheetInput {
        weeks,
        units: args.units,
        names: !args.no_names,
        printed: &printed,
        paper: if args.letter { Paper::Letter } else { Paper::A4 },
    };
    let fonts = Fonts::embedded().with_scanned(typst_kit::fonts::system());
    set_weeks(&input, &fonts).map_err(Failure::new)
}

/// No approach is wanted: says what there is instead.
fn none_found(args: &WeeksArgs, names: &NamesFound, skipped: usize, files: usize) -> Failure {
    if skipped == files {
        return Failure::new(format!(
            "cannot compare: none of the {files} marks files in `{}` can be measured",
            args.folder.display()
        ))
        .hint("`groundline check MARKS` says what is wrong with one");
    }
    let asked = [("fence", &args.fence), ("horse", &args.horse), ("rider", &args.rider)];
    let said: Vec<String> = asked
        .iter()
        .filter_map(|(what, name)| Some(format!("{what} `{}`", name.as_ref()?)))
        .collect();
    let found: Vec<String> =
        [("fences", &names.fences), ("horses", &names.horses), ("riders", &names.riders)]
            .iter()
            .zip(&asked)
            .filter(|(_, (_, name))| name.is_some())
            .map(|((what, names), _)| format!("{what} {}", listed(names)))
            .collect();
    Failure::new(format!(
        "cannot compare: no approach has {} (found: {})",
        said.join(" and "),
        found.join("; ")
    ))
    .hint("a name must be written in full; large and small letters are the same")
}

fn listed(names: &BTreeSet<String>) -> String {
    if names.is_empty() {
        return "without a name".to_owned();
    }
    names.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")
}
