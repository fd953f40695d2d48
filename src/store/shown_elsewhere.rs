//! What a horse has shown in its other rounds.

use std::path::Path;

use super::error::StoreError;
use super::find_marks::marks_files_in;
use super::measured_files::measured_files;
use crate::stride::ShownStrides;
use crate::weeks::{Wanted, shown_in};

/// What other rounds add to what a horse has shown.
#[derive(Clone, Debug, PartialEq)]
pub struct ShownElsewhere {
    /// The strides of those that were measured; `None` without one.
    pub shown: Option<ShownStrides>,
    /// Why others could not be counted, a sentence each.
    pub left_out: Vec<String>,
}

/// Looks through the marks files of `folder` for other rounds than `marks` of the horse that is called
/// `horse`.
pub fn shown_elsewhere(
    folder: &Path,
    marks: &Path,
    horse: &str,
) -> Result<ShownElsewhere, StoreError> {
    let mut paths = marks_files_in(folder)?;
    let this = marks.canonicalize().ok();
    paths.retain(|path| path.canonicalize().ok() != this);
    let wanted = Wanted { horse: Some(horse.to_owned()), ..Wanted::default() };
    let found = measured_files(folder, &paths, &wanted, || {});
    Ok(ShownElsewhere {
        shown: shown_in(&found.entries),
        left_out: found.skipped.into_iter().map(|skipped| skipped.why).collect(),
    })
}

impl ShownElsewhere {
    /// With what the round itself shows.
    pub fn with(&self, here: Option<ShownStrides>) -> Option<ShownStrides> {
        let shown = [here, self.shown.clone()].into_iter().flatten().reduce(ShownStrides::and)?;
        let left_out = u32::try_from(self.left_out.len()).unwrap_or(u32::MAX);
        Some(ShownStrides { left_out, ..shown })
    }
}
