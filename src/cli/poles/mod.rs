//! `groundline poles`: distances for the next lesson, printed, as JSON, drawn, on a page.

mod args;
mod asking;
mod choices;
mod page;
mod printing;
mod walked;

use std::io::Write;

use self::asking::Asking;
use self::printing::Printing;
use super::Failure;
use super::file_kind::FileKind;
use crate::poles::{AskedError, Published, SpeedTables, plan, plan_line};
use crate::quantity::LengthUnits;

pub use self::args::PolesArgs;

pub(super) fn run(args: PolesArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let file = args
        .output
        .as_deref()
        .map(|path| FileKind::of(path, &page::KINDS).map(|kind| (path, kind)));
    let file = file.transpose()?;
    let units: LengthUnits = args.units;
    if let Some(paces) = args.walked {
        return walked::run(paces, &args, out);
    }
    let asking = Asking::of(&args)?;
    let published = Published::built_in().map_err(Failure::new)?;
    let speeds = SpeedTables::built_in().map_err(Failure::new)?;
    let plan = match args.strides {
        Some(strides) => plan_line(&asking.asked, strides, &published),
        None => plan(&asking.asked, &published),
    };
    let plan = plan.map_err(|error| refused(&error, units))?.with_speeds(&speeds);
    if args.json {
        writeln!(out, "{}", serde_json::to_string_pretty(&plan).map_err(Failure::new)?)?;
        // The answer is JSON and nothing else.
        let silent = &mut std::io::sink();
        return file
            .map_or(Ok(()), |file| page::write(file, &args, &asking, (&plan, &published), silent));
    }
    let printing =
        Printing { asking: &asking, published: &published, units, sources: args.sources };
    printing.print(&plan, out)?;
    file.map_or(Ok(()), |file| page::write(file, &args, &asking, (&plan, &published), out))
}

/// A plan that is not made, in the units asked for.
fn refused(error: &AskedError, units: LengthUnits) -> Failure {
    Failure::new(error.words(units)).hint(error.hint())
}
