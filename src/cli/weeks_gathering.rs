//! What `weeks` compares: every marks file of a folder, with a bar that shows how far it is.

use std::path::Path;

use indicatif::{ProgressBar, ProgressStyle};

use super::Failure;
use crate::store::{MeasuredFiles, marks_files_in, measured_files};
use crate::weeks::Wanted;

/// Looks through the folder.
pub(super) fn gather(folder: &Path, wanted: &Wanted) -> Result<MeasuredFiles, Failure> {
    let paths = marks_files_in(folder)?;
    if paths.is_empty() {
        return Err(Failure::new(format!(
            "cannot compare: there is no marks file in `{}` (files called NAME.marks.json needed)",
            folder.display()
        ))
        .hint("`groundline begin CLIP` makes one for a clip"));
    }
    // On the terminal only; what is piped stays clean.
    let style = ProgressStyle::with_template("measuring {bar:30} {pos} of {len} marks files")
        .map_err(Failure::new)?;
    let bar = ProgressBar::new(paths.len() as u64).with_style(style);
    let measured = measured_files(folder, &paths, wanted, || bar.inc(1));
    bar.finish_and_clear();
    Ok(measured)
}
