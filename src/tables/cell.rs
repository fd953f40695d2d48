//! What stands in a cell, and a page of cells.

/// One cell of a workbook.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Cell {
    /// Nothing is known.
    Empty,
    /// Words; never a formula.
    Text(String),
    /// A count.
    Whole(i64),
    /// A number, whole in the file; so many decimals of it are shown.
    Number { value: f64, decimals: usize },
}

/// One sheet of a workbook.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Page {
    pub name: &'static str,
    /// One a column.
    pub heads: Vec<String>,
    /// As many cells each as there are heads.
    pub rows: Vec<Vec<Cell>>,
}

impl Cell {
    /// Words, or nothing where there are none.
    pub(super) fn text(words: impl Into<String>) -> Self {
        let words = words.into();
        if words.is_empty() { Self::Empty } else { Self::Text(words) }
    }

    /// A number, or nothing where it is not known.
    pub(super) fn number(value: Option<f64>, decimals: usize) -> Self {
        match value {
            Some(value) if value.is_finite() => Self::Number { value, decimals },
            _ => Self::Empty,
        }
    }
}
