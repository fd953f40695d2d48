//! Why a table could not be made.

use rust_xlsxwriter::XlsxError;
use thiserror::Error;

/// A table that could not be made.
#[derive(Debug, Error)]
pub enum TablesError {
    /// Words are longer than a cell of a workbook may hold.
    #[error(
        "cannot put the column `{head}` into a workbook: one of its texts has {letters} letters \
         ({most} at most needed)"
    )]
    TextTooLong {
        /// The column's head.
        head: String,
        /// UTF-16 units found, as workbooks count letters.
        letters: usize,
        /// How many a cell holds.
        most: usize,
    },
    /// The workbook's writer refused.
    #[error("cannot make the workbook: {0}")]
    Workbook(#[from] XlsxError),
    /// The table's writer refused.
    #[error("cannot make the table: {0}")]
    Csv(#[from] csv::Error),
}

impl TablesError {
    /// What can be done about it.
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::TextTooLong { .. } => {
                Some("shorten the text, or write a table with --csv, which holds any length".into())
            }
            Self::Workbook(_) | Self::Csv(_) => None,
        }
    }
}
