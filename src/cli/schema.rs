//! `groundline schema`: the shape of marks files, edits, measured numbers, plans and weeks, for
//! other programs.

use std::io::Write;

use super::Failure;
use super::args::SchemaArgs;
use crate::marks::{Edit, MarksFile};
use crate::poles::plan_schema;
use crate::reading::Texts;
use crate::stand::stand_schema;
use crate::tables::{measured_schema, readings_schema, weeks_schema};

pub(super) fn run(args: SchemaArgs, out: &mut dyn Write) -> Result<(), Failure> {
    if args.texts {
        let texts = Texts::english().map_err(Failure::new)?;
        writeln!(out, "{}", serde_json::to_string_pretty(&texts).map_err(Failure::new)?)?;
        return Ok(());
    }
    let schema = if args.edits {
        schemars::schema_for!(Vec<Edit>)
    } else if args.measurement {
        measured_schema()
    } else if args.plan {
        plan_schema()
    } else if args.weeks {
        weeks_schema()
    } else if args.reading {
        readings_schema()
    } else if args.stand {
        stand_schema()
    } else {
        schemars::schema_for!(MarksFile)
    };
    let text = serde_json::to_string_pretty(&schema).map_err(Failure::new)?;
    writeln!(out, "{text}")?;
    Ok(())
}
