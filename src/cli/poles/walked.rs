//! A line that was walked: how many strides it is, and what this horse would need in it.

use std::io::Write;

use super::args::PolesArgs;
use super::asking::Asking;
use super::refused;
use crate::cli::Failure;
use crate::poles::{CAUTIONS, Published, WalkedLine, plan_line, stride_words};

pub(super) fn run(paces: f64, args: &PolesArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let units = args.units;
    let walked = WalkedLine::of(paces).map_err(|error| refused(&error, units))?;
    if args.marks.is_none() && args.stride.is_none() {
        print(&walked.sentences(units), out)?;
        return print_cautions(out);
    }
    let asking = Asking::of(args)?;
    // A plan of one line holds what was asked to the same rules, and says the stride in words.
    let published = Published::built_in().map_err(Failure::new)?;
    let plan = plan_line(&asking.asked, walked.strides.max(1), &published);
    let plan = plan.map_err(|error| refused(&error, units))?;
    print(&walked.sentences(units), out)?;
    writeln!(out, "\nstride {}", stride_words(&plan, units))?;
    print(&asking.taken, out)?;
    for warning in &plan.stride_warnings() {
        writeln!(out, "note: {}", warning.sentence(units))?;
    }
    print(&walked.of_this_horse(&asking.asked, units), out)?;
    print_cautions(out)
}

fn print(lines: &[String], out: &mut dyn Write) -> Result<(), Failure> {
    for line in lines {
        writeln!(out, "{line}")?;
    }
    Ok(())
}

fn print_cautions(out: &mut dyn Write) -> Result<(), Failure> {
    writeln!(out)?;
    print(&CAUTIONS.map(str::to_owned), out)
}
