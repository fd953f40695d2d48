//! The measured numbers for other programs: a CSV table, an XLSX workbook, JSON with its schema.
//!
//! Invariant: values in, bytes out; no file, no clock. The same round gives the same bytes. Numbers
//! keep every digit (CSV: four decimals), and each column's head says its unit.

mod about_page;
mod approaches_page;
mod cell;
mod columns;
mod csv_table;
mod doubts_page;
mod error;
mod footfalls_page;
mod formula;
mod input;
mod json;
mod names_off;
mod reading_json;
mod said;
mod strides_page;
mod unit_word;
mod weeks_csv;
mod weeks_json;
mod wording;
mod workbook;

#[cfg(test)]
mod tests;

pub use csv_table::csv_table;
pub use error::TablesError;
pub use input::TablesInput;
pub use json::{MeasuredJson, measured_schema};
pub use names_off::{leave_names_off_json, without_names};
pub use reading_json::{ReadingJson, ReadingsJson, readings_schema};
pub use weeks_csv::weeks_csv;
pub use weeks_json::{SkippedFile, WeeksJson, weeks_schema};
pub use wording::{edge_words, suspect_sentence};
pub use workbook::workbook;
