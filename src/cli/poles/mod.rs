//! `groundline poles`: distances for the next lesson, printed, as JSON, drawn, on a page.

mod asking;
mod choices;
mod printing;

use std::io::Write;

use self::asking::Asking;
use self::printing::Printing;
use super::Failure;
use super::args::PolesArgs;
use crate::poles::{Published, SpeedTables, plan, plan_line};

pub(super) fn run(args: PolesArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let asking = Asking::of(&args)?;
    let published = Published::built_in().map_err(Failure::new)?;
    let speeds = SpeedTables::built_in().map_err(Failure::new)?;
    let plan = match args.strides {
        Some(strides) => plan_line(&asking.asked, strides, &published),
        None => plan(&asking.asked, &published),
    };
    let plan = plan.map_err(Failure::new)?.with_speeds(&speeds);
    if args.json {
        writeln!(out, "{}", serde_json::to_string_pretty(&plan).map_err(Failure::new)?)?;
        return Ok(());
    }
    let units = args.units.into();
    let printing =
        Printing { asking: &asking, published: &published, units, sources: args.sources };
    printing.print(&plan, out)
}
