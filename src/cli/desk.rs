//! `groundline desk`: the page on which a round is marked, served to the browser of this computer.

use std::io::Write;
use std::path::Path;

use super::Failure;
use super::args::DeskArgs;
use crate::desk::{DeskError, DeskOptions, serve};

pub(super) fn run(args: DeskArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let given = &args.place;
    let (folder, first) = if given.is_dir() {
        (given.clone(), None)
    } else if given.is_file() {
        let folder = match given.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder,
            _ => Path::new("."),
        };
        let name = given.file_name().unwrap_or_default().to_string_lossy().into_owned();
        (folder.to_owned(), Some(name))
    } else {
        let shown = given.display();
        return Err(Failure::new(format!(
            "cannot open the desk on `{shown}`: there is no such folder or clip"
        ))
        .hint("name the folder with your clips, or one clip"));
    };
    let program = std::env::current_exe().map_err(Failure::new)?;
    let options = DeskOptions { folder, first, port: args.port, open: !args.no_open, program };
    Ok(serve(options, out)?)
}

impl From<DeskError> for Failure {
    fn from(error: DeskError) -> Self {
        let hint = error.hint();
        let failure = Self::new(error);
        match hint {
            Some(hint) => failure.hint(hint),
            None => failure,
        }
    }
}
