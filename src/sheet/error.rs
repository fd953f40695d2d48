//! Why there is no sheet.

/// Why there is no sheet.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SheetError {
    /// No approach was handed in.
    #[error("cannot set the sheet: it has no approach (one at least needed)")]
    NoApproach,
    /// A still is not a picture that can be printed.
    #[error("cannot print still {number}: {reason}")]
    Still {
        /// 1 is the first.
        number: usize,
        /// What is wrong with it.
        reason: String,
    },
    /// The approach picture is not a picture that can be printed.
    #[error("cannot print the approach picture: {reason}")]
    ApproachPicture {
        /// What is wrong with it.
        reason: String,
    },
    /// The template does not compile: our fault.
    #[error("cannot set the sheet: {reason}")]
    Template {
        /// What typst says.
        reason: String,
    },
    /// Even set densely an approach takes more than a page.
    #[error("cannot fit the sheet on one page: it takes {pages} (fewer stills or strides needed)")]
    TooLong {
        /// How many it takes.
        pages: usize,
    },
}

impl SheetError {
    /// What typst found wrong, in one line.
    pub(super) fn of_typst(errors: &[typst::diag::SourceDiagnostic]) -> Self {
        let said: Vec<&str> = errors.iter().map(|error| error.message.as_str()).collect();
        Self::Template { reason: said.join("; ") }
    }
}
