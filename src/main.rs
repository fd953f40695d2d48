//! The `groundline` program: parse, dispatch, say what went wrong.

use std::io::{ErrorKind, Write};
use std::process::ExitCode;

use groundline::cli::{Args, Failure, run};

fn main() -> ExitCode {
    let args = Args::typed();
    let mut out = std::io::stdout().lock();
    let done = run(args, &mut out).and_then(|()| out.flush().map_err(Failure::from));
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) if failure.io_kind() == Some(ErrorKind::BrokenPipe) => ExitCode::SUCCESS,
        Err(failure) => {
            // Nothing is left to be done if even this cannot be written.
            let _ = write!(std::io::stderr(), "{failure}");
            ExitCode::from(failure.exit_code())
        }
    }
}
