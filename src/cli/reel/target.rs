//! The file a reel is written to: never a clip or marks file that somebody made.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use super::shown::Chosen;
use crate::cli::Failure;
use crate::cli::file_kind::FileKind;

/// Where the reel goes, links followed; refused where it can be no clip.
pub(super) fn checked(output: &Path) -> Result<PathBuf, Failure> {
    FileKind::of(output, &[FileKind::Mp4])?;
    let target = output.canonicalize().unwrap_or_else(|_| output.to_owned());
    let shown = output.display();
    if target.exists() && !target.is_file() {
        let why = format!("cannot write `{shown}`: it is a device or pipe, not a file");
        return Err(Failure::new(why).hint("choose another name"));
    }
    // A clip that was marked is somebody's film, whatever else its name may be given to.
    let mut beside: OsString = target.with_extension("").into();
    beside.push(".marks.json");
    if target.exists() && Path::new(&beside).exists() {
        let why = format!(
            "cannot write `{shown}`: it is a clip that was marked (its marks lie beside it)"
        );
        return Err(Failure::new(why).hint("choose another name"));
    }
    Ok(target)
}

/// Refuses to write over the clips that the reel is made of.
pub(super) fn spare_what_is_read(target: &Path, chosen: &[Chosen]) -> Result<(), Failure> {
    let same = |path: &Path| path.canonicalize().is_ok_and(|path| path == target);
    if chosen.iter().any(|chosen| same(chosen.clip.path())) {
        let shown = target.display();
        let why = format!("cannot write `{shown}`: the reel is made of this clip");
        return Err(Failure::new(why).hint("choose another name"));
    }
    Ok(())
}
