//! `groundline demo`.

use std::io::Write;

use super::Failure;
use super::args::DemoArgs;

pub(super) fn run(args: DemoArgs, _out: &mut dyn Write) -> Result<(), Failure> {
    Err(Failure::new(format!("cannot make {}", args.folder.display())))
}
